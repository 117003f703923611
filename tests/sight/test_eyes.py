"""Named eyes: each light point along its own line, with the surface in the way."""

import numpy as np
import pytest

from stackview.description.lamp import Eye, Surface
from stackview.sight.bands import HIDDEN, Kind, all_bands, even_bearings
from stackview.sight.beams import TOLERANCE, traced
from stackview.sight.eyes import Standpoint, elevation_of, eye_places, look_from_eyes, with_corners
from stackview.sight.glazed import with_glazed
from stackview.sight.scene import scene_of
from stackview.sight.surface import behind_surface
from tests.lamps import box, disc, light_points, tiers, tiers_with_a_window, wound

FRONT = [[0.0, -1.0, 0.0]]
OPEN = Standpoint(0.0, None)


def seen(parts, points, eye: Eye, standpoint: Standpoint = OPEN, bearings=(0.0,)):  # type: ignore[no-untyped-def]
    scene = scene_of(parts)
    middles = look_from_eyes(scene, points, (eye,), standpoint, 100.0, np.array(bearings, dtype=float))
    return with_corners(scene, points, middles, standpoint)[0]


@pytest.mark.parametrize(("height", "kind"), [(196.6, HIDDEN), (196.7, Kind.BARE)])
def test_eye_over_a_rim(height: float, kind: int) -> None:
    # Similar triangles: the rim's near edge is 20 above the point at 150; an eye at 1100 clears it
    # at 50 + 20/150·1100 = 196.67.
    wall = box("wall", [-2000, -200, 0], [2000, -150, 70])
    view = seen((wall,), light_points([[0, 0, 50]], FRONT), Eye("test", 1100.0, height))
    assert view.kind.tolist() == [[kind]]


def test_each_point_is_judged_along_its_own_line() -> None:
    # Two points 40 apart in depth: the same eye clears the rim from one but not from the other.
    wall = box("wall", [-2000, -200, 0], [2000, -199, 70])
    view = seen((wall,), light_points([[0, -20, 50], [0, 20, 50]], FRONT * 2), Eye("test", 1100.0, 153.0))
    slope = [(153.0 - 50) / (1100 - 20), (153.0 - 50) / (1100 + 20)]
    clears = [50 + slope[0] * 179 > 70, 50 + slope[1] * 219 > 70]
    assert clears == [False, True]
    assert view.kind[:, 0].tolist() == [HIDDEN, Kind.BARE]


def test_elevation_is_seen_from_the_middle_of_the_lamp() -> None:
    assert elevation_of(Eye("test", 1000.0, 1800.0), Standpoint(740.0, None), 120.0) == pytest.approx(45.0)


def test_eye_walks_counter_clockwise_from_the_front() -> None:
    places = eye_places(
        Eye("test", 900.0, 1000.0), Standpoint(740.0, None), np.array([0.0, 90.0, 180.0, 270.0])
    )
    assert places == pytest.approx(
        np.array([[0, -900, 260], [900, 0, 260], [0, 900, 260], [-900, 0, 260]]), abs=1e-9
    )


def test_surface_hides_down_to_its_edge() -> None:
    # The line from height 100 passes the plane at 600 for an eye at 900, 50 below it.
    place, eye = np.array([0.0, 0.0, 100.0]), np.array([0.0, -900.0, -50.0])
    for depth, hidden in ((1199.0, False), (1201.0, True)):
        assert bool(behind_surface(place, eye, Surface(740.0, (3000.0, depth)))) is hidden
    for diameter, hidden in ((1199.0, False), (1201.0, True)):
        assert bool(behind_surface(place, eye, Surface(740.0, (diameter,)))) is hidden


def test_surface_counts_from_where_the_lamp_stands_on_it() -> None:
    # 400 from the front edge: hidden with the table's middle under the lamp, not with the lamp forward.
    place, eye = np.array([0.0, 0.0, 100.0]), np.array([0.0, -900.0, -50.0])
    assert bool(behind_surface(place, eye, Surface(740.0, (2000.0, 1400.0))))
    assert not bool(behind_surface(place, eye, Surface(740.0, (2000.0, 1400.0), at=(0.0, -300.0))))


def test_surface_never_hides_from_above() -> None:
    eye = np.array([0.0, -300.0, 5.0])
    assert not bool(behind_surface(np.array([0.0, 0.0, 100.0]), eye, Surface(740.0, (5000.0,))))


def test_part_of_a_face_shows_where_its_middle_does_not() -> None:
    # A face 10 high behind a rim: the eye clears the rim for its upper half only.
    wall = box("wall", [-2000, -200, 0], [2000, -199, 70])
    points = light_points([[0, 0, 50]], FRONT, face=10.0)
    hidden = seen((wall,), points, Eye("test", 1100.0, 130.0))
    part = seen((wall,), points, Eye("test", 1100.0, 152.0))
    whole = seen((wall,), points, Eye("test", 1100.0, 200.0))
    assert [view.kind[0, 0] for view in (hidden, part, whole)] == [HIDDEN, HIDDEN, Kind.BARE]
    assert [bool(view.part_bare[0, 0]) for view in (hidden, part, whole)] == [False, True, False]
    assert [bool(view.part_shown[0, 0]) for view in (hidden, part, whole)] == [False, True, False]


def test_own_back_hides_from_behind() -> None:
    view = seen(
        (), light_points([[0, 0, 50]], FRONT), Eye("test", 900.0, 60.0), bearings=(0.0, 90.5, 180.0, 269.5)
    )
    assert view.kind.tolist() == [[Kind.BARE, HIDDEN, HIDDEN, HIDDEN]]
    assert view.front == 0
    assert view.worst == 0


@pytest.mark.slow
def test_far_eye_agrees_with_the_bands() -> None:
    # From 10 km the lines are parallel to 1e-5 rad: the eye's kinds are the bands' kinds there.
    parts, height = tiers_with_a_window()
    points, around = wound(20, 20.0, height - 12.0), even_bearings(90)
    scene = scene_of(parts)
    bands = with_glazed(all_bands(scene, points, around), traced(scene, points))
    assert (bands.kind == Kind.GLAZED).any()
    for elevation in (-8.0, 3.0, 14.0):
        eye = Eye("far", 1e7, height / 2 + 1e7 * np.tan(np.radians(elevation)))
        view = look_from_eyes(scene, points, (eye,), OPEN, height, around)[0]
        expected = np.full(view.kind.shape, HIDDEN)
        sure = np.ones(view.kind.shape, dtype=bool)
        for low, high, kind, point, bearing in zip(
            bands.low, bands.high, bands.kind, bands.point, bands.bearing, strict=True
        ):
            if low < elevation < high:
                expected[point, bearing] = kind
            # Traced ends are good to their tolerance, straight ones to the eye's parallax.
            margin = 2.0 * TOLERANCE if kind == Kind.GLAZED else 0.01
            if min(abs(low - elevation), abs(high - elevation)) < margin:
                sure[point, bearing] = False
        assert sure.mean() > 0.9
        # Within the same margin to the side, a facet's corner may come in between.
        assert np.mean(view.kind[sure] == expected[sure]) > 0.999


def test_counts_add_up_by_kind() -> None:
    parts, height = tiers()
    view = seen(
        parts, wound(40, 20.0, height - 12.0), Eye("level", 700.0, height * 0.4), bearings=range(0, 360, 10)
    )
    total = sum(view.counts(kind) for kind in Kind)
    assert np.array_equal(total, view.counts(*Kind))
    assert view.counts(Kind.BARE)[view.worst] == view.counts(Kind.BARE).max() > 0


def test_lid_closer_to_the_eye_hides_no_less() -> None:
    points = light_points([[0, 0, 50]], [[0, 0, 1]])
    low = seen((disc("lid", 15, 60, 65),), points, Eye("test", 500.0, 300.0))
    wide = seen((disc("lid", 120, 60, 65),), points, Eye("test", 500.0, 300.0))
    assert low.kind[0, 0] == Kind.BARE
    assert wide.kind[0, 0] == HIDDEN


def test_middles_alone_are_judged_the_same_and_say_nothing_of_corners() -> None:
    parts, height = tiers()
    points, eye = wound(20, 20.0, height - 12.0), Eye("level", 700.0, height * 0.4)
    whole, middles = (
        seen(parts, some, eye, bearings=range(0, 360, 15)) for some in (points, points.middles())
    )
    assert np.array_equal(whole.kind, middles.kind)
    assert whole.part_bare.any()
    assert not middles.part_bare.any()
    assert not middles.part_shown.any()
