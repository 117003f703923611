import math

import numpy as np
import pytest
import shapely

from stackview.description.lamp import Chamfer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.sight.pieces import piece_of
from stackview.solids.build import solid_of
from stackview.solids.measure import volume
from stackview.solids.upright import in_both, in_either, prism, upright
from tests.stack.layers import pocket, ring


def test_a_plain_ring_stands_upright_where_it_stands() -> None:
    areas = upright(solid_of(ring("ring"), 0.001))
    assert areas.through.area == pytest.approx(math.pi * (60.0**2 - 46.0**2), rel=1e-4)
    assert areas.within.area == pytest.approx(areas.through.area, rel=1e-12)


def test_what_is_let_into_it_is_not_solid_all_the_way() -> None:
    let_in = ring("ring", recess=pocket(Outline(Circle(100.0)), 2.0, clearance=0.0))
    areas = upright(solid_of(let_in, 0.001))
    assert areas.through.area == pytest.approx(math.pi * (60.0**2 - 50.0**2), rel=1e-4)
    assert areas.within.area == pytest.approx(math.pi * (60.0**2 - 46.0**2), rel=1e-4)


def test_under_a_chamfer_it_is_not_solid_all_the_way(layer) -> None:  # type: ignore[no-untyped-def]
    solid = solid_of(layer(Rectangle(100.0, 80.0), 10.0, chamfers=(Chamfer("top outer", 10.0),)), 0.05)
    areas = upright(solid.lifted(7.0))
    assert areas.through.area == pytest.approx(80.0 * 60.0, rel=1e-9)
    assert areas.within.area == pytest.approx(100.0 * 80.0, rel=1e-9)


def test_a_prism_is_watertight_and_as_large_as_its_area() -> None:
    area = shapely.MultiPolygon(
        [shapely.box(0, 0, 4, 3), shapely.Point(20, 0).buffer(6).difference(shapely.box(18, -1, 22, 1))]
    )
    solid = prism(area, 2.0, 7.0)
    assert solid is not None
    assert volume(solid) == pytest.approx(5.0 * area.area, rel=1e-12)
    piece = piece_of(solid)
    assert (piece.bottom, piece.top) == (2.0, 7.0)
    assert np.array_equal(upright(solid).through.bounds, area.bounds)
    assert upright(solid).through.area == pytest.approx(area.area, rel=1e-12)


def test_areas_that_meet_in_a_point_or_have_no_size_have_no_prism() -> None:
    hole = shapely.Polygon([(0, 0), (10, 0), (10, 10), (0, 10)], [[(5, 0), (6, 5), (4, 5)]])
    assert prism(hole, 0.0, 1.0) is None
    assert prism(shapely.MultiPolygon(), 0.0, 1.0) is None


def test_what_two_areas_share_holds_no_lines() -> None:
    one = shapely.union(shapely.box(0, 0, 1, 1), shapely.box(2, 0, 3, 1))
    other = shapely.union(shapely.box(1, 0, 2, 1), shapely.box(2.5, 0, 3, 1))
    assert in_both(one, other).equals(shapely.box(2.5, 0, 3, 1))
    assert in_either(one, other).area == pytest.approx(3.0, rel=1e-12)
    assert in_both(one, one) is one
    assert in_either(one, one) is one
