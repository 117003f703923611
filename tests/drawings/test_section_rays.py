import numpy as np
import pytest
from numpy.testing import assert_allclose

from stackview.description.lamp import Surface
from stackview.drawings.section_rays import section_rays, surface_span, telling_bearing
from stackview.sight.bands import Kind
from stackview.sight.summary import Sightlines
from tests import lamps as plain
from tests.drawings.drawn import studied

RIGHT = (1.0, 0.0, 0.0)


def slot(
    centres: list[tuple[float, float, float]], *, directions: tuple[float, float, float] = RIGHT
) -> Sightlines:
    """Two square boards of 100 mm, 40 mm apart, with light points between them."""
    base, lid = (
        plain.box("base", (-50, -50, -10), (50, 50, 0)),
        plain.box("lid", (-50, -50, 40), (50, 50, 50)),
    )
    points = plain.light_points(centres, [directions] * len(centres))
    return studied((base, lid), points)[0]


def test_wedge_between_two_edges_is_that_of_plane_geometry() -> None:
    """From the axis, 10 mm above the base, both edges 50 mm off: −atan(10/50) and atan(30/50)."""
    rays = section_rays(slot([(0, 0, 10)]), 90.0, 5)
    (wedge,) = rays.wedges
    assert wedge.kind is Kind.BARE
    assert_allclose((wedge.low, wedge.high), np.degrees(np.arctan([-10 / 50, 30 / 50])), atol=1e-6)
    assert wedge.low_at == pytest.approx((50.0, 0.0), abs=1e-6)
    assert wedge.high_at == pytest.approx((50.0, 40.0), abs=1e-6)
    assert (wedge.low_edge, wedge.high_edge) == ("base, outer edge on top", "lid, outer edge underneath")
    assert wedge.start == pytest.approx((0.0, 10.0))
    assert (wedge.alike, rays.more) == (0, 0)


def test_edges_stand_where_the_points_own_plane_meets_them() -> None:
    """A point 20 mm along the right and 2 mm aside of the cut, at 90°: its plane is the cut moved aside."""
    (wedge,) = section_rays(slot([(20, 2, 10)]), 90.0, 5).wedges
    assert_allclose((wedge.low, wedge.high), np.degrees(np.arctan([-10 / 30, 30 / 30])), atol=1e-6)
    assert wedge.high_at == pytest.approx((50.0, 40.0), abs=1e-6)


def test_widest_band_stands_for_a_gap_and_the_others_are_counted() -> None:
    rays = section_rays(slot([(0, 0, 1), (0, 0, 20), (0, 0, 33)]), 90.0, 5)
    (wedge,) = rays.wedges
    # 20 mm up is midway, so that its 2·atan(20/50) is the most; the others look farther up and down.
    assert wedge.high - wedge.low == pytest.approx(2 * np.degrees(np.arctan(20 / 50)), abs=1e-6)
    assert wedge.alike == 2
    assert wedge.reach == pytest.approx(np.degrees(np.arctan([-33 / 50, 39 / 50])), abs=1e-6)
    assert rays.showing == {Kind.BARE: 3, Kind.GLAZED: 0, Kind.VEILED: 0}


def test_own_back_and_straight_up_have_no_edge() -> None:
    base = plain.box("base", (-50, -50, -10), (50, 50, 0))
    lines, _ = studied((base,), plain.light_points([(0, 0, 5)], [(0, 0, 1)]))
    (wedge,) = section_rays(lines, 0.0, 5).wedges
    assert (wedge.low_edge, wedge.high_edge) == ("its own back", "straight up")
    assert (wedge.low_at, wedge.high_at) == (None, None)
    assert_allclose((wedge.low, wedge.high), (0.0, 90.0), atol=1e-6)


def test_bearing_is_the_nearest_computed_one_round_the_turn() -> None:
    lines = slot([(0, 0, 10)])
    assert section_rays(lines, 359.0, 5).bearing == 0.0
    assert section_rays(lines, 92.0, 5).bearing == 90.0


def test_points_off_the_cut_are_left_out_unless_nothing_nearer_shows() -> None:
    aside = section_rays(slot([(20, 0, 10), (10, 15, 10)]), 90.0, 5)
    assert len(aside.near) == 1
    assert aside.off <= 5.0
    alone = section_rays(slot([(10, 15, 10)]), 90.0, 5)
    assert len(alone.near) == 1
    assert alone.off == pytest.approx(np.degrees(np.arctan(15 / 10)))


def test_telling_bearing_is_where_most_show() -> None:
    """Points that look right, left and left: most are seen from bearings between 180° and 360°."""
    base, lid = (
        plain.box("base", (-50, -50, -10), (50, 50, 0)),
        plain.box("lid", (-50, -50, 40), (50, 50, 50)),
    )
    points = plain.light_points([(0, 0, 10), (0, 0, 20), (0, 0, 30)], [RIGHT, (-1, 0, 0), (-1, 0, 0)])
    bearing = telling_bearing(studied((base, lid), points)[0])
    # Among those the widest: straight on to the side, 50 mm off.
    assert bearing == 270.0


def test_a_lamp_without_light_has_nothing_to_draw() -> None:
    base = plain.box("base", (-50, -50, -10), (50, 50, 0))
    lines, _ = studied((base,), plain.light_points([], []))
    assert telling_bearing(lines) == 0.0
    assert section_rays(lines, 0.0, 5).wedges == ()


def test_surface_runs_to_its_edges_in_the_cut() -> None:
    """Axis 100 mm to the right of the middle of a 600 by 400 top, and of a round one of 500."""
    table, round_top = Surface(0.0, (600.0, 400.0), (100.0, 0.0)), Surface(0.0, (500.0,), (100.0, 0.0))
    assert surface_span(table, 90.0) == pytest.approx((-400.0, 200.0))
    assert surface_span(table, 0.0) == pytest.approx((-200.0, 200.0))
    assert surface_span(round_top, 90.0) == pytest.approx((-350.0, 150.0))
    half = np.sqrt(250.0**2 - 100.0**2)
    assert surface_span(round_top, 0.0) == pytest.approx((-half, half))
    assert surface_span(Surface(0.0, (100.0, 100.0), (80.0, 0.0)), 0.0) is None
    assert surface_span(None, 0.0) is None
