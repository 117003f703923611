import math

import numpy as np
import pytest

from stackview.curves.arcs import Path, moved, pieces_of
from stackview.curves.corners import circle, rounded_polygon
from stackview.curves.deciding import deciding_places
from stackview.curves.fit import distances


def places(a: Path, b: Path) -> np.ndarray:
    p = pieces_of(a)
    return p.at(*deciding_places(p, pieces_of(b)))


def test_the_foot_of_a_corner_that_points_at_a_side() -> None:
    square = rounded_polygon(np.array([(30.0, 30.0), (-30.0, 30.0), (-30.0, -30.0), (30.0, -30.0)]), 0.0)
    pointed = Path(np.array([(29.0, 7.0, 0.0), (10.0, 12.0, 0.0), (10.0, 2.0, 0.0)]))
    assert np.abs(places(square, pointed) - (30.0, 7.0)).sum(axis=1).min() < 1e-12


def test_circles_are_nearest_and_farthest_in_line_with_their_centres() -> None:
    found = places(circle(20.0), moved(circle(50.0), 3.0, 4.0))
    for way in (1.0, -1.0):
        assert np.abs(found - (12.0 * way, 16.0 * way)).sum(axis=1).min() < 1e-12


@pytest.mark.parametrize("bulge", [0.0, 0.05])
def test_the_nearest_of_many_places_is_never_nearer_than_those_that_decide(bulge: float) -> None:
    def wavy(size: float, count: int) -> Path:
        angle = 2.0 * math.pi * np.arange(count) / count
        radius = size * (1.0 + 0.1 * np.cos(5.0 * angle))
        return Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), np.full(count, bulge))))

    inner, outer = wavy(40.0, 90), wavy(46.0, 70)
    p, q = pieces_of(inner), pieces_of(outer)
    many = p.at(np.repeat(np.arange(len(p)), 200), np.tile(np.linspace(0.0, 1.0, 200), len(p)))
    least = distances(places(inner, outer), q).min()
    assert least <= distances(many, q).min() + 1e-12
    assert len(places(inner, outer)) < 40 * len(p)
