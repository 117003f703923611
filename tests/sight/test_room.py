"""What shows over one distance, by closed forms; how zones are told apart."""

import numpy as np
import pytest

from stackview.sight.all_round import all_round
from stackview.sight.bands import Kind, even_bearings
from stackview.sight.beams import traced
from stackview.sight.corners_seen import corners_seen
from stackview.sight.glazed_slices import Tubes
from stackview.sight.room import (
    Column,
    RoomLight,
    Zone,
    Zones,
    column,
    extent_of,
    most_exposed,
    rows_below,
)
from stackview.sight.scene import scene_of
from tests.drawings.drawn import EYES, TABLE, studied
from tests.lamps import disc, light_points


def test_zones_come_back_from_their_numbers_and_rise_with_what_is_exposed() -> None:
    zones = Zones(np.array([0, 1, 2, 2, 3, 4, 5, 5], np.int8), np.array([0, 0, 1, 9, 1, 0, 1, 2], np.int32))
    number = zones.number
    assert (np.diff(number) > 0).all()
    again = Zones.of(number)
    assert np.array_equal(again.zone, zones.zone)
    assert np.array_equal(again.count, zones.count)


def test_the_most_exposed_is_told_with_its_own_count() -> None:
    counts = np.zeros((3, 6), np.int32)
    counts[Kind.BARE, 0], counts[Kind.GLAZED, :2], counts[Kind.VEILED, :4] = 2, 3, 4
    part = np.zeros((2, 6), dtype=bool)
    part[0, 2], part[1, 3:5] = True, True
    zones = Column(counts, part).zones()
    assert zones.zone.tolist() == [
        Zone.BARE,
        Zone.GLAZED,
        Zone.PART_BARE,
        Zone.VEILED,
        Zone.PART_VEILED,
        Zone.NOTHING,
    ]
    assert zones.count.tolist() == [2, 3, 0, 4, 0, 0]


def test_stretches_that_overlap_are_cut_into_the_most_exposed() -> None:
    """Veiled 0 to 10, glazed 4 to 6 over it, bare 5 to 12 over both; another point's own stretch stays."""
    point, at = np.array([0, 0, 0, 1]), np.zeros(4, np.int64)
    kind = np.array([Kind.VEILED, Kind.GLAZED, Kind.BARE, Kind.VEILED], np.int64)
    low, high = np.array([0.0, 4.0, 5.0, 1.0]), np.array([10.0, 6.0, 12.0, 2.0])
    found = zip(*(part.tolist() for part in most_exposed(point, at, kind, low, high, 1)), strict=True)
    merged: dict[tuple[int, int], float] = {}
    for own, _, shows, begin, end in found:
        merged[own, shows] = merged.get((own, shows), 0.0) + end - begin
    assert merged == {(0, 2): 4.0, (0, 1): 1.0, (0, 0): 7.0, (1, 2): 1.0}


def test_rows_below_a_height_are_counted() -> None:
    rows = np.linspace(0.0, 10.0, 11)
    assert rows_below(np.array([-5.0, 0.0, 0.5, 10.0, 11.0]), rows).tolist() == [0, 0, 1, 10, 11]


def test_between_two_discs_points_show_within_the_wedge_of_the_rims() -> None:
    """Rims 10 mm above and below the points, at radius 50; six points on the axis' circle of 5 mm look outwards.

    Straight ahead a point sees within 10/45 of the level; the most at once are those whose face is turned to the eye.
    """
    turn = np.radians(np.arange(0.0, 360.0, 60.0))
    ways = np.stack([np.sin(turn), -np.cos(turn), np.zeros(6)], axis=1)
    points = light_points(5.0 * ways + np.array([0.0, 0.0, 20.0]), ways)
    placed = (disc("foot", 50.0, 0.0, 10.0), disc("lid", 50.0, 30.0, 40.0))
    scene = scene_of(placed)
    shows = RoomLight(all_round(scene, points), Tubes.of(traced(scene, points)), 0.0, None)
    heights = np.linspace(-600.0, 640.0, 1241)
    found = column(
        shows, corners_seen(scene, points.middles(), None), 1000.0, np.radians(even_bearings(720)), heights
    )
    bare = found.counts[Kind.BARE]
    shown = heights[bare > 0]
    # The nearest rim in sight is 45 mm ahead of the point and 995 mm ahead of it is the eye.
    assert shown.max() == pytest.approx(20.0 + 995.0 * 10.0 / 45.0, abs=1.5)
    assert shown.min() == pytest.approx(20.0 - 995.0 * 10.0 / 45.0, abs=1.5)
    # Half of all faces are turned to an eye that is far off; those at right angles are not.
    assert bare.max() == 3
    assert not found.counts[Kind.VEILED].any()


def test_a_room_reaches_as_far_as_lamp_and_eyes_ask_for() -> None:
    points = light_points(np.array([[0.0, 0.0, 5.0], [0.0, 0.0, 25.0]]), np.array([[0.0, -1.0, 0.0]] * 2))
    _, stack = studied((disc("disc", 100.0, 0.0, 30.0),), points, eyes=EYES, surface=TABLE)
    extent = extent_of(stack, points)
    assert extent.near > 100.0
    assert extent.far > max(eye.distance for eye in EYES)
    assert extent.top >= max(eye.height for eye in EYES)
    assert (extent.middle, extent.span) == pytest.approx((740.0 + 15.0, 20.0))
