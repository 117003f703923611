"""Facets keep to what they promise: no point of a circle's polygon is farther from it than that."""

from math import hypot

import pytest
import shapely

from stackview.checks.facets import AT_LARGE, TO_CUT, TO_PASS
from stackview.curves.arcs import polygon
from stackview.description.outline import path_of
from tests.stack.layers import circle


@pytest.mark.parametrize("error", [AT_LARGE, TO_PASS, TO_CUT])
@pytest.mark.parametrize("diameter", [3.0, 40.0, 300.0])
def test_a_circle(error: float, diameter: float) -> None:
    ring = shapely.Polygon(polygon(path_of(circle(diameter)), error)).exterior
    # the middle of a chord is the place that is farthest off
    short = diameter / 2.0 - ring.distance(shapely.Point(0.0, 0.0))
    assert 0.0 <= short <= error + 1e-9
    assert max(hypot(x, y) for x, y in ring.coords) == pytest.approx(diameter / 2.0)
