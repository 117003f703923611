"""Convex pieces and their sums."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.description.outline import Outline, path_of
from stackview.sheets.convex import convex_edges, convex_pieces, convex_sum
from stackview.sheets.facets import outer_facets
from tests.sheets.flat_lamps import rectangle
from tests.shop.parts import shapes

ELL = np.array(((0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (10.0, 10.0), (10.0, 30.0), (0.0, 30.0)))


def test_an_l_comes_in_two_pieces() -> None:
    pieces = convex_pieces(ELL)
    assert len(pieces) == 2
    assert sum(shapely.Polygon(piece).area for piece in pieces) == pytest.approx(500.0)


@settings(max_examples=8)
@given(shapes())
def test_pieces_are_convex_and_cover_just_the_shape(shape) -> None:
    corners = outer_facets(path_of(Outline(shape)), 0.05)
    whole = shapely.Polygon(corners)
    pieces = [shapely.Polygon(piece) for piece in convex_pieces(corners)]
    assert sum(piece.area for piece in pieces) == pytest.approx(whole.area, rel=1e-9)
    assert shapely.union_all(pieces).symmetric_difference(whole).area < 1e-6 * whole.area
    assert all(piece.convex_hull.area <= piece.area * (1.0 + 1e-6) + 1e-9 for piece in pieces)


@given(st.integers(0, 359), st.integers(0, 359), st.integers(3, 9), st.integers(3, 9))
def test_a_sum_is_the_hull_of_all_sums_of_corners(turn: int, other: int, sides: int, more: int) -> None:
    """Held against the definition itself (de Berg and others, section 13.3): the hull of all a + b."""
    first, second = (
        size * np.column_stack((np.cos(at), np.sin(at)))
        for size, at in (
            (20.0, np.radians(turn) + np.arange(sides) * 2 * np.pi / sides),
            (7.0, np.radians(other) + np.arange(more) * 2 * np.pi / more),
        )
    )
    found = shapely.Polygon(convex_sum(convex_edges(first), convex_edges(second)))
    every = shapely.MultiPoint((first[:, None] + second[None]).reshape(-1, 2)).convex_hull
    assert found.convex_hull.symmetric_difference(every).area < 1e-9
    assert found.area == pytest.approx(every.area, rel=1e-9)


def test_a_line_sweeps_a_shape_along_itself() -> None:
    # a square of 10 swept along (30, 40) covers its own area and 10·(30 + 40) beside it
    line = convex_edges(np.array(((0.0, 0.0), (30.0, 40.0))))
    swept = shapely.Polygon(convex_sum(line, convex_edges(rectangle(10.0, 10.0))))
    assert swept.area == pytest.approx(100.0 + 700.0)
    # backwards it is the same
    line = convex_edges(np.array(((30.0, 40.0), (0.0, 0.0))))
    assert shapely.Polygon(convex_sum(line, convex_edges(rectangle(10.0, 10.0)))).area == pytest.approx(800.0)
