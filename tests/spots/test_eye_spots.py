"""What named eyes see on the acrylic: words, errors, light points, on small lamps."""

import os
from dataclasses import replace
from pathlib import Path

import pytest

from stackview.at_once import one_by_one, split_off
from stackview.spots.eye_spots import PlateSpots, spots_by_rounds
from stackview.study import Study

LAMP = """
name = "Small lamp"
cutter = 3
materials.ash = { wood = "ash", sold = 15, measured = 14.8 }
materials.stock = { acrylic = "SORT", sold = 4, measured = 3.8FINISH }
surface = { height = 700 }
eye = [{ name = "over it", distance = 500, height = 1200 }, { name = "low", distance = 900, height = 705 }]

[[layer]]
name = "base"
material = "ash"
outline = { circle = 120 }

[[layer]]
name = "ring"
material = "ash"
outline = { circle = 120 }
wall = 14

[[layer]]
name = "plate"
material = "stock"
outline = { circle = 110 }

[[light]]
name = "diode"
diode = { on = "base", facing = "up", height = 2 }
watts = 1
lumens = 90
"""
BESIDE = LAMP.replace(
    'name = "low", distance = 900, height = 705', 'name = "beside it", distance = 700, height = 1100'
)
SPOTTY = PlateSpots("plate", 3.0, 0.1, 900.0, 400.0, 0.05, (4, 5))


def written(folder: Path, sort: str, finish: str = "", lamp: str = LAMP) -> Study:
    file = folder / f"{sort}.toml"
    file.write_text(lamp.replace("SORT", sort).replace("FINISH", finish), encoding="utf-8")
    return Study.read(file)


def answers(study: Study, ways: int = 12_000, seed: int = 1):
    return list(spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=ways, seed=seed))


@pytest.mark.slow
def test_opal_looks_softer_than_sanded_and_clear_shows_the_diode(tmp_path: Path) -> None:
    ratio = {}
    for sort, finish in (("opal", ""), ("clear", ', finish = "sanded"'), ("clear", "")):
        over, low = answers(written(tmp_path, sort, finish))[-1]
        assert [plate.layer for plate in over.plates] == ["plate"]
        # The eye just above the table sees no face of the plate from above.
        assert low.eye.name == "low"
        (plate,) = over.plates
        assert plate.light_points in ((0,), ())
        ratio[sort + finish[:8]] = plate
    assert ratio["opal"].ratio < ratio["clear, finish"].ratio < ratio["clear"].ratio
    assert ratio["clear"].word == "single LEDs"


@pytest.mark.slow
def test_the_same_ways_give_the_same_answer_and_others_another(tmp_path: Path) -> None:
    study = written(tmp_path, "opal")
    one, two, other = (answers(study, seed=seed)[-1] for seed in (1, 1, 2))
    assert one == two
    assert one != other


def test_the_first_answer_comes_before_the_last_and_is_less_sure(tmp_path: Path) -> None:
    first, last = answers(written(tmp_path, "opal"), ways=30_000)
    assert [own.eye.name for own in first] == [own.eye.name for own in last]
    assert last[0].plates[0].mean_error < first[0].plates[0].mean_error


@pytest.mark.slow
@pytest.mark.usefixtures("all_ways")
def test_any_eye_is_answered_alone_the_same_way_every_time(tmp_path: Path) -> None:
    study = written(tmp_path, "opal")
    over = study.lamp.eyes[0]
    one, two = study.spots_from(over, 35.0), study.spots_from(over, 35.0)
    assert one == two
    assert one.bearing == 35.0
    (plate,) = one.plates
    # A round lamp looks the same from every bearing.
    (whole,) = study.spots[0].plates
    assert plate.mean_cd_m2 == pytest.approx(whole.mean_cd_m2, rel=0.1)
    assert study.spots_from(over, 35.0, layers=["ring"]).plates == ()


def test_without_light_there_is_nothing_to_see(tmp_path: Path) -> None:
    study = written(tmp_path, "opal", lamp=LAMP.partition("[[light]]")[0])
    (found,) = answers(study)
    assert [own.plates for own in found] == [(), ()]
    assert found[0].worst is None
    assert study.spots_from(study.lamp.eyes[0], 0.0).plates == ()


def test_words_are_as_sure_as_their_numbers() -> None:
    assert (SPOTTY.word, SPOTTY.unsure, SPOTTY.told) == ("spots", False, "spots")
    vague = replace(SPOTTY, ratio=3.8, ratio_error=0.2)
    assert (vague.unsure, vague.told) == (True, "about spots")
    guess = replace(SPOTTY, ratio_error=0.9)
    assert guess.told == "not known"
    dark = replace(SPOTTY, peak_cd_m2=0.5, mean_cd_m2=0.2)
    assert (dark.word, dark.told) == ("dark", "dark")
    # 1.5 cd/m² known to a fifth may be 2.4, brighter than the room's 2: it may glow, so it is not called dark.
    dim = replace(SPOTTY, peak_cd_m2=1.5, mean_error=0.2)
    assert (dim.word, dim.told) == ("dark", "not known")


def test_a_record_has_plain_values() -> None:
    record = SPOTTY.record()
    assert record["word"] == "spots"
    assert record["light_points"] == [4, 5]
    assert {"layer", "word", "unsure", "ratio", "ratio_error", "mean_cd_m2", "mean_error"} <= record.keys()


def test_what_is_not_known_has_no_number_in_a_record() -> None:
    guess = replace(SPOTTY, ratio=26.0, ratio_error=1.1, mean_error=0.5).record()
    assert guess["word"] == "not known"
    assert (guess["ratio"], guess["ratio_error"], guess["peak_cd_m2"]) == (None, None, None)
    assert (guess["mean_cd_m2"], guess["mean_error"]) == (None, None)
    known = replace(SPOTTY, ratio_error=0.5).record()
    assert (known["ratio"], known["mean_cd_m2"]) == (SPOTTY.ratio, SPOTTY.mean_cd_m2)


def test_a_study_has_them_and_their_table(tmp_path: Path) -> None:
    study = written(tmp_path, "opal")
    assert [own.eye.name for own in study.spots] == ["over it", "low"]
    rows = study.spots_table()
    assert rows[0]["eye"] == "over it"
    assert rows[0]["layer"] == "plate"


@pytest.mark.slow
def test_eyes_that_look_at_once_see_what_they_see_one_by_one(tmp_path: Path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 1}, raising=False)
    study = written(tmp_path, "clear", ', finish = "sanded"', BESIDE)
    beside = spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=12_000, at_once=split_off)
    found = list(beside)
    assert found == answers(study)
    assert all(own.plates for own in found[-1])


def test_the_eye_that_looks_longest_begins(tmp_path: Path) -> None:
    study, ways = written(tmp_path, "opal", lamp=BESIDE), list[list[int]]()
    low, high = study.sightlines.eyes[1], study.sightlines.eyes[0]
    few = replace(low, eye=replace(low.eye, height=705.0))  # it hardly sees the plate

    def at_once(works):  # type: ignore[no-untyped-def]
        ways.append([sum(work.args[0].values()) for work in works])
        return one_by_one(works)

    *_, found = spots_by_rounds(study.stack, study.light, (few, high), ways=2_000, at_once=at_once)
    assert [own.eye.name for own in found] == [few.eye.name, high.eye.name]
    assert all(each == sorted(each, reverse=True) for each in ways)
    assert len(ways) == 2


@pytest.mark.parametrize(("across", "plates"), [(580.0, []), (300.0, ["p"])])
def test_a_table_hides_plates_from_an_eye_below_it(across: float, plates: list[str], tmp_path: Path) -> None:
    """An eye 240 mm below the top and 1,500 from the axis looks past its edge.

    By its own line over the edge, (1500 − 290)/240 = 5.04 mm on for each mm up: at the plate's near rim, 50 mm from the
    axis, what lies above 290 − 50 = 240 mm over 5.04, 47.6 mm; the plate ends at 43. From a table of 300 mm, above 17.8.
    """
    (tmp_path / "lamp.toml").write_text(UNDER_A_TABLE.format(across=across), encoding="utf-8")
    (seen,) = Study.read(tmp_path / "lamp.toml").spots
    assert [plate.layer for plate in seen.plates] == plates


UNDER_A_TABLE = """
name = "under"
materials.w = {{ plywood = "birch", sold = 9, measured = 9 }}
materials.c = {{ acrylic = "opal", sold = 4, measured = 4 }}
light = [{{ ring = {{ diameter = 50, count = 6, height = 5 }} }}]
surface = {{ height = 740, diameter = {across} }}
eye = [{{ name = "under", distance = 1500, height = 500 }}]
layer = [
    {{ name = "base", material = "w", outline = {{ circle = 100 }} }},
    {{ name = "r", material = "w", outline = {{ circle = 100 }}, wall = 12, thickness = 30 }},
    {{ name = "p", material = "c", outline = {{ circle = 100 }} }},
    {{ name = "cap", material = "w", outline = {{ circle = 100 }} }},
]
"""
