"""Eyes from which a lamp cannot be looked at: told with eye, value, limit and what to do."""

from pathlib import Path

import pytest

from stackview.__main__ import main
from stackview.description.lamp import Eye, Lamp, Surface
from stackview.errors import StackviewError
from stackview.sight.eyes_amiss import check_distance, eyes_amiss, reach_beside
from stackview.stack.assembly import Stack
from stackview.stack.seating import Standing
from tests import lamps as plain

ROUND = Surface(740.0, (1200.0,))
"""A round table, so that it hides the same from every bearing."""
HOURGLASS = (
    plain.disc("base", 100.0, 0.0, 20.0),
    plain.disc("waist", 30.0, 20.0, 280.0),
    plain.disc("roof", 80.0, 280.0, 300.0),
)


def stood(*eyes: Eye, surface: Surface | None = ROUND, floor: float = 740.0) -> Stack:
    lamp = Lamp("test", "mm", (), eyes=eyes, surface=surface)
    return Stack(lamp, HOURGLASS, Standing(), 300.0, floor)


def test_a_gap_between_tiers_is_within_the_lamp_and_what_is_over_a_wide_base_is_not() -> None:
    stack = stood()
    heights = (-1.0, 0.0, 20.0, 150.0, 279.0, 290.0, 300.0, 301.0)
    # Between base and roof both reach 80 mm: what is narrower there is a gap.
    found = [reach_beside(stack, height) for height in heights]
    assert found == pytest.approx([0.0, 100.0, 100.0, 80.0, 80.0, 80.0, 80.0, 0.0], abs=0.01)


def test_an_eye_inside_the_lamp_is_told_how_far_it_reaches() -> None:
    (fault,) = eyes_amiss(
        stood(Eye("in", 75.0, 900.0), Eye("beside", 85.0, 900.0), Eye("over", 60.0, 1100.0))
    )
    assert fault.where == 'eye "in" · distance'
    assert fault.what.startswith("75 mm is inside the lamp, which reaches 80")
    assert fault.what.endswith("from its axis at the eye's height of 900 mm above the floor: step back")


def test_an_eye_right_under_a_pendant_is_a_place_to_look_from() -> None:
    hung = {"surface": None, "floor": 1500.0}
    assert not eyes_amiss(stood(Eye("under", 60.0, 700.0), **hung))  # type: ignore[arg-type]
    assert len(eyes_amiss(stood(Eye("in", 60.0, 1600.0), **hung))) == 1  # type: ignore[arg-type]


def test_an_eye_is_behind_the_surface_where_all_of_the_lamp_is() -> None:
    """The line over the near edge, 600 mm from the axis, to the roof's near upper edge, 300 mm up and 520 on.

    From 900 mm before the edge it begins 300 · 900 / 520 = 519 mm below the surface: similar triangles. The
    rest of the lamp is lower or farther behind the edge, and so hidden sooner.
    """
    limit = 740.0 - 300.0 * 900.0 / 520.0
    for drop, number in ((-2.0, 1), (2.0, 0)):
        assert len(eyes_amiss(stood(Eye("low", 1500.0, limit + drop)))) == number
    (fault,) = eyes_amiss(stood(Eye("under it", 300.0, 600.0)))
    assert fault.where == 'eye "under it" · height'
    assert (
        "600 mm is below the surface, which is 740 mm above the floor and hides all of the lamp" in fault.what
    )
    assert "heights of eyes count from the floor, so raise the eye" in fault.what


@pytest.mark.parametrize("words", ["check", "sight", "preview"])
def test_a_file_with_such_an_eye_is_refused_with_one_message(
    words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "lamp.toml"
    demo = Path("demos/moor-drum.toml").read_text(encoding="utf-8")
    file.write_text(
        demo.replace("distance = 900\nheight = 700", "distance = 55\nheight = 600"), encoding="utf-8"
    )
    before = sorted(tmp_path.iterdir())
    assert main([words, str(file)]) == 2
    told = capsys.readouterr().err
    assert told.count("reader lying down") == 1
    assert "lamp.toml" in told
    assert "55 mm is inside the lamp, which reaches" in told
    assert "Traceback" not in told
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize(
    ("distance", "told"),
    [
        (99.0, "distance 99 mm is inside the lamp, which reaches 100 mm from its axis"),
        (0.0, "distance 0 mm is inside the lamp"),
        (60_000.0, "distance 60000 mm: an eye's distance is at most 50000 mm"),
        (float("nan"), "distance nan: give a length"),
        ("far", "distance far: give a length"),
    ],
)
def test_an_eye_walks_round_the_lamp_outside_it(distance: float, told: str) -> None:
    with pytest.raises(StackviewError, match=told):
        check_distance(stood(), distance)
    check_distance(stood(), 101.0)
