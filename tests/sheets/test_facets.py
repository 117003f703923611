"""Facets on the safe side: held by areas in closed form and by distances to the curve."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.curves.arcs import area, polygon
from stackview.curves.corners import circle
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Rectangle
from stackview.sheets.facets import inner_facets, outer_facets
from tests.shop.parts import shapes


@pytest.mark.parametrize("error", [0.5, 0.01])
def test_facets_of_a_circle_have_the_area_of_regular_polygons(error: float) -> None:
    # n·r²·tan(π/n) about the circle, n/2·r²·sin(2π/n) within it (Bronshtein, regular polygons)
    outer, inner = outer_facets(circle(40.0), error), inner_facets(circle(40.0), error)
    around, within = shapely.Polygon(outer), shapely.Polygon(inner)
    sides = len(inner)
    assert within.area == pytest.approx(sides / 2 * 1600 * np.sin(2 * np.pi / sides), rel=1e-12)
    corners = sum(abs(np.hypot(x, y) - 40.0) > 1e-9 for x, y in outer)
    assert around.area == pytest.approx(corners * 1600 * np.tan(np.pi / corners), rel=1e-12)
    assert within.area < np.pi * 1600 < around.area


@settings(max_examples=8)
@given(shapes(), st.sampled_from([0.2, 0.01]))
def test_one_holds_the_curve_and_the_other_is_held_by_it(shape, error: float) -> None:
    path = path_of(Outline(shape))
    outer, inner = shapely.Polygon(outer_facets(path, error)), shapely.Polygon(inner_facets(path, error))
    on_curve = shapely.points(polygon(path, 1e-3))
    assert inner.area <= area(path) + 1e-9 <= outer.area + 2e-9
    assert shapely.distance(on_curve, outer).max() < 1e-9
    assert shapely.distance(on_curve, outer.exterior).max() <= error + 1e-9
    assert shapely.distance(on_curve, inner.exterior).max() <= error + 1e-9
    assert not any(inner.buffer(-1e-6).contains(point) for point in on_curve[::7])


def test_straight_sides_are_kept_exactly() -> None:
    path = path_of(Outline(Rectangle(90.0, 60.0)))
    assert sorted(map(tuple, outer_facets(path, 0.1))) == sorted(map(tuple, inner_facets(path, 0.1)))
