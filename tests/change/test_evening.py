"""What evens spots out, on lamps of which it is known by hand, and that its numbers come back when it is typed in."""

from collections.abc import Iterator
from dataclasses import replace
from math import hypot, log, log1p

import pytest

from stackview.change import evening
from stackview.change.evened import Evened
from stackview.change.evening import (
    by_light_and_shape,
    by_sheets,
    is_spotty,
    seen_by_all,
    spotty_plates,
    ways_for,
)
from stackview.change.mend import Mend, NewNumber
from stackview.change.mends import Mending
from stackview.change.trial import Bench
from stackview.description.lamp_file import LampFile
from stackview.findings import Level
from stackview.kept import keep
from stackview.spots import eye_spots
from stackview.spots.eye_spots import QUICK_WAYS, EyeSpots, PlateSpots
from stackview.spots.leaving import light_leaving
from stackview.study import Study
from tests.change.spotty import LAMP, small

pytestmark = pytest.mark.usefixtures("all_ways")
EVEN = PlateSpots("plate", 1.1, 0.1, 900.0, 800.0, 0.02, (0,))
SPOTS = replace(EVEN, layer="lid", ratio=3.0)
UNKNOWN = replace(EVEN, layer="far", ratio=9.0, ratio_error=1.5)
DARK = replace(EVEN, layer="low", ratio=9.0, peak_cd_m2=1.0)


def seen(study: Study, *plates: PlateSpots) -> EyeSpots:
    return EyeSpots(study.lamp.eyes[0], 0.0, plates)


def test_spots_count_where_they_are_known_and_lit() -> None:
    study = small()
    assert seen(study, EVEN, SPOTS, UNKNOWN, DARK).worst == SPOTS
    assert spotty_plates(seen(study, EVEN, SPOTS, UNKNOWN, DARK)) == ["lid"]
    assert not is_spotty(seen(study, EVEN, UNKNOWN, DARK))
    assert not is_spotty(seen(study))


def test_even_plates_are_offered_nothing() -> None:
    study = small()
    keep(study, spots=(seen(study, EVEN, DARK),))
    assert Mending(study).spotty() == ()


def test_the_worst_eye_comes_first_and_a_lamp_without_a_file_has_nothing_to_change() -> None:
    study = small()
    mild, bad = seen(study, SPOTS), seen(study, EVEN, replace(SPOTS, ratio=5.0))
    keep(study, spots=(mild, seen(study, EVEN), bad))
    assert Mending(study).spotty() == (bad, mild)
    alone = Study(study.lamp)
    keep(alone, spots=(bad,))
    assert Mending(alone).spotty() == ()


def comes_back(mend: Mend, before: Study, text: str) -> None:
    """The numbers told are those of the file with the change in it, read anew; and they are better.

    To the digit from where the eye looks at the plate, and by ``Study.spots`` within the errors of both.
    """
    study = Study(LampFile.from_text(text))
    for each, own in zip(mend.evened, study.spots, strict=True):
        assert own.worst is not None
        again = study.spots_from(own.eye, own.bearing, layers=["plate"], ways=ways_for(before, 1))
        assert again.worst == each.after
        apart = abs(log(own.worst.ratio / each.after.ratio))
        assert apart <= hypot(log1p(own.worst.ratio_error), log1p(each.after.ratio_error))
        assert each.is_better
        assert each.after.ratio < each.before.ratio
    assert mend.light is not None
    assert mend.light.lumens[1] == study.light_leaving.lumens
    assert mend.light.lumens[1] < mend.light.lumens[0]


@pytest.mark.slow
def test_opal_evens_single_leds() -> None:
    study = small("clear", **{"measured = 3.8 }": 'measured = 3.8, finish = "sanded" }'})
    mending = Mending(study)
    (own,) = mending.spotty()
    opal, *more = mending.evening(own)
    assert opal.changes == {"materials.stock.acrylic": "opal"}
    assert opal.new == ()
    assert opal.height == 0.0
    text = LAMP.replace("SORT", "opal").replace("measured = 3.8 }", 'measured = 3.8, finish = "sanded" }')
    comes_back(opal, study, text)
    # What is told beside it goes with it, and is surely better still.
    for both in more:
        assert opal.changes.items() <= both.changes.items()
        assert both.after_for("over it").ratio < opal.after_for("over it").ratio  # type: ignore[union-attr]
    # and asked again, the same without another look
    assert list(mending.evening(own)) == [opal, *more]


@pytest.mark.slow
def test_clear_plates_over_a_diode_are_sanded_or_opal() -> None:
    panel = "panel = { columns = 3, rows = 1, spacing = 30, on"
    study = small("clear", **{panel: "diode = { height = 2, on", "milliamps = 20": "watts = 1"})
    (own,) = study.spots
    found = list(by_sheets(Bench(study, 20, as_it_stands=False), own, study.findings))
    assert [mend.changes for mend in found] == [
        {"materials.stock.acrylic": "opal"},
        {"materials.stock.finish": "sanded"},
    ]
    opal, sanded = (mend.evened[0] for mend in found)
    assert sanded.before.ratio > 5.0 * sanded.after.ratio > 5.0 * opal.after.ratio


@pytest.mark.slow
def test_only_what_is_surely_better_is_told_and_no_change_brings_a_fault(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    study = small("opal")
    (own,) = study.spots
    found = list(by_light_and_shape(Bench(study, 60, as_it_stands=False), own, study.findings))
    for mend in found:
        assert all(each.is_better for each in mend.evened)
        assert all(new.level < Level.FAULT and new.check != "bare light" for new in mend.new)
    # More distance evens the plate, told for sure by the ways that a maker waits for, and many more say the same.
    assert {"layer.ring.thickness": 30.8} in [mend.changes for mend in found]
    monkeypatch.setattr(eye_spots, "WAYS_IN_ALL", 1_600_000)
    near, far = (
        each.spots[0].worst for each in (small("opal"), study.changed({"layer.ring.thickness": 30.8}))
    )
    assert near is not None
    assert far is not None
    assert Evened("over it", near, far).is_better


def test_a_mend_for_one_eye_says_what_it_does_for_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    far = '{ name = "far", distance = 3000, height = 1200 }, { name = "low", distance = 800, height = 300 }'
    study = small("clear", **{"height = 1200 }": f"height = 1200 }}, {far}"})
    over, away, low = study.lamp.eyes
    seen_by = {over: SPOTS, away: SPOTS, low: replace(EVEN, layer="lid")}
    keep(study, spots=tuple(EyeSpots(eye, 0.0, (plate,)) for eye, plate in seen_by.items()))
    own = Evened(over.name, SPOTS, replace(SPOTS, ratio=1.2))
    opal = NewNumber("materials.stock.acrylic", "clear", "opal", "opal", ("plate",))
    mend = Mend((opal,), own.text, 0.0, 0.0, evened=(own,))
    looked = []

    def left(_: Study, changed: Study, eye: EyeSpots) -> PlateSpots | None:
        assert changed.lamp.layers[-1].material.body == "opal"
        looked.append(eye.eye)
        return replace(SPOTS, ratio=6.0) if eye.eye == low else None

    monkeypatch.setattr(evening, "_left_of", left)
    told = seen_by_all(study, mend)
    assert looked == [away, low], "the eye it is for has looked already"
    assert told.evened == (own, Evened(low.name, seen_by[low], replace(SPOTS, ratio=6.0)))
    assert told.does.startswith(own.text)
    assert '; but from 1.1 ± 0.1 (lid) to 6.0 ± 0.6 (single LEDs) for "low"' in told.does


def test_a_look_has_as_many_ways_for_each_plate_as_all_looks_have_and_never_few() -> None:
    study = small()
    keep(study, spots=(seen(study, EVEN, SPOTS), seen(study, EVEN, SPOTS, DARK)))
    # 220,000 ways for five plates
    assert [ways_for(study, plates) for plates in (1, 2)] == [44_000, 88_000]
    keep(study, spots=(seen(study, *[EVEN] * 20),))
    assert ways_for(study, 1) == QUICK_WAYS


def test_what_a_first_look_finds_surely_worse_is_looked_at_in_full_only_by_whoever_asks_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    study = small("clear")
    own, full = seen(study, replace(SPOTS, layer="plate")), list[str]()
    ratios = {"opal": (1.1, 1.2), "sanded": (2.6, 2.0)}

    def looks(_: Study, changed: Study, __: EyeSpots) -> Iterator[EyeSpots]:
        sort = "opal" if changed.lamp.layers[-1].material.body == "opal" else "sanded"
        first, last = (seen(study, replace(EVEN, ratio=ratio)) for ratio in ratios[sort])
        yield first
        full.append(sort)
        yield last

    light = light_leaving(study.stack, study.light, ways=64)
    keep(study, light_leaving=light)
    monkeypatch.setattr(evening, "_looks", looks)
    monkeypatch.setattr(evening, "_leaving", lambda *_: light)
    monkeypatch.setattr(evening, "_brought", lambda *_: ((), ()))
    found = by_sheets(Bench(study, 9, as_it_stands=False), own, ())
    assert next(found).evened[0].after.ratio == 1.2
    assert full == ["opal"]
    assert next(found).evened[0].after.ratio == 2.0
    assert full == ["opal", "sanded"]
    # What may be as good is looked at in full at once, and the best of them told first.
    ratios["sanded"], full[:] = (1.15, 1.0), []
    mend = next(by_sheets(Bench(study, 9, as_it_stands=False), own, ()))
    assert (mend.evened[0].after.ratio, full) == (1.0, ["opal", "sanded"])


def test_nothing_is_found_without_trials() -> None:
    study = small("clear")
    own = seen(study, replace(SPOTS, layer="plate"))
    assert list(by_sheets(Bench(study, 0, as_it_stands=False), own, ())) == []
