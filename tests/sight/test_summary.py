"""The sightlines of a lamp: shares in closed form, every point asked, and steps that add up."""

import numpy as np
import pytest

from stackview.description.lamp import Eye, Lamp
from stackview.sight.bands import Kind
from stackview.sight.summary import Sightlines, sightlines, steps
from stackview.stack.assembly import Stack
from stackview.stack.seating import Standing
from tests.lamps import box, disc, light_points, wound

EYES = (Eye("level", 1000.0, 30.0), Eye("above", 500.0, 900.0))


def stack(*parts, eyes=EYES):  # type: ignore[no-untyped-def]
    return Stack(Lamp("test", "mm", (), eyes=eyes), parts, Standing(), 60.0, 0.0)


def lines(*parts, points, bearings: int = 360) -> Sightlines:  # type: ignore[no-untyped-def]
    return sightlines(stack(*parts), points, bearings=bearings)


def test_a_point_that_looks_up_from_a_plate_shows_from_half_of_all_directions() -> None:
    found = lines(disc("plate", 80.0, -5.0, 0.0), points=light_points([(0, 0, 0)], [(0, 0, 1)]))
    assert found.share_bare == pytest.approx(0.5, abs=1e-6)
    assert found.share_shown == found.share_bare


def test_a_lid_takes_its_cap_of_the_sphere() -> None:
    # A disc of radius r, h above the point, hides the cap of half-angle atan(r/h): (1 − cos)/2.
    lid = disc("lid", 60.0, 40.0, 45.0, facets=720)
    found = lines(lid, points=light_points([(0, 0, 0)], [(0, 0, 1)]))
    cap = (1.0 - np.cos(np.arctan2(60.0, 40.0))) / 2.0
    assert found.share_bare == pytest.approx(0.5 - cap, abs=2e-4)


def test_behind_opal_nothing_is_bare_and_all_still_shows() -> None:
    lid = disc("lid", 5000.0, 40.0, 45.0, "opal")
    found = lines(lid, points=light_points([(0, 0, 0)], [(0, 0, 1)]))
    assert found.share_shown == pytest.approx(0.5, abs=1e-4)
    assert found.share_bare == pytest.approx(40.0 / 5000.0 / 2.0, rel=0.02)
    assert set(np.unique(found.bands.kind)) <= {int(Kind.BARE), int(Kind.VEILED)}


def test_everything_is_told_for_every_eye() -> None:
    found = lines(box("base", (-50, -50, -10), (50, 50, 0)), points=wound(24, 5.0, 40.0), bearings=72)
    assert [seen.eye for seen in found.eyes] == list(EYES)
    assert len(found.causes) == len(found.eyes)
    for seen in found.eyes:
        assert seen.kind.shape == (24, 72)


def test_a_lamp_without_light_shows_nothing() -> None:
    found = lines(box("base", (-50, -50, -10), (50, 50, 0)), points=light_points([], []), bearings=72)
    assert (found.share_bare, found.share_shown, found.cut_offs) == (0.0, 0.0, ())


@pytest.mark.parametrize("eyes", [EYES, ()])
def test_progress_adds_up_to_the_steps_announced(eyes: tuple[Eye, ...]) -> None:
    given, points, told = (
        stack(box("base", (-50, -50, -10), (50, 50, 0)), eyes=eyes),
        wound(24, 5.0, 40.0),
        [],
    )
    sightlines(given, points, bearings=36, progress=told.append)
    assert sum(told) == steps(given, points)
