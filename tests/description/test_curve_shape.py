import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.curve_shape import centred, crossing, extent, facets, signed_area, tidy

QUARTER = math.tan(math.pi / 8)
ROUND = [(-5.0, 0.0, 1.0), (5.0, 0.0, 1.0)]
# 10 × 6 with corners rounded by 2
ROUNDED = [
    (-3.0, -3.0, 0.0), (3.0, -3.0, QUARTER), (5.0, -1.0, 0.0), (5.0, 1.0, QUARTER),
    (3.0, 3.0, 0.0), (-3.0, 3.0, QUARTER), (-5.0, 1.0, 0.0), (-5.0, -1.0, QUARTER),
]  # fmt: skip


def test_areas() -> None:
    assert signed_area(ROUND) == pytest.approx(25 * math.pi, rel=1e-14)
    assert signed_area(ROUNDED) == pytest.approx(60 - (4 - math.pi) * 4, rel=1e-14)
    assert signed_area([(0, 0, 0), (0, 1, 0), (1, 1, 0), (1, 0, 0)]) == -1


def test_extent_includes_what_arcs_bulge() -> None:
    assert extent(ROUND) == pytest.approx((-5, -5, 5, 5))
    assert extent(ROUNDED) == pytest.approx((-5, -3, 5, 3))
    assert extent([(0, 0, 0), (1, 0, 0), (1, 1, -0.2), (0, 1, 0)])[3] == 1


@given(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3))
def test_centring_undoes_a_move(x: float, y: float) -> None:
    moved = [(a + x, b + y, bulge) for a, b, bulge in ROUNDED]
    for back, there in zip(centred(moved), ROUNDED, strict=True):
        assert back == pytest.approx(there, abs=1e-9)


def test_facets_keep_their_chord_error() -> None:
    points = facets(ROUND, 0.01)
    middles = [
        math.hypot((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(points, points[1:] + points[:1], strict=True)
    ]
    assert all(math.hypot(*point) == pytest.approx(5) for point in points)
    assert min(middles) >= 5 - 0.01


def test_crossings_are_found_where_they_are() -> None:
    assert crossing(ROUNDED) is None
    assert crossing([(0, 0, 0), (4, 4, 0), (4, 0, 0), (0, 4, 0)]) == (2, 2)


def test_tidy_drops_segments_of_no_length() -> None:
    assert tidy([(0, 0, 0), (0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 0, 0)]) == [(0, 0, 0), (1, 0, 0), (1, 1, 0)]
