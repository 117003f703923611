import cmath
import math

import numpy as np
import pytest

from stackview.curves.arcs import Path, area
from stackview.curves.biarcs import Vertex
from stackview.curves.curve_pieces import arc, arc_places, bezier, joined, line


def signed_area(vertices: list[Vertex]) -> float:
    return area(Path(np.array(vertices)))


def test_a_full_circle_is_two_half_turns() -> None:
    piece = arc(5 + 0j, 5 + 0j, 0j, (5 + 0j, 5j), 2 * math.pi)
    assert [bulge for _, _, bulge in piece.vertices] == pytest.approx([1, 1])
    assert signed_area(joined([piece], 0.001, most=100)) == pytest.approx(25 * math.pi)


def test_an_ellipse_has_its_area() -> None:
    # π·a·b; arcs within 0.001 of a rim about 97 long leave at most 0.1
    piece = arc(20 + 0j, 20 + 0j, 0j, (20 + 0j, 10j), 2 * math.pi)
    assert signed_area(joined([piece], 0.001, most=1000)) == pytest.approx(200 * math.pi, abs=0.1)


def test_an_ellipse_run_the_other_way() -> None:
    piece = arc(20 + 0j, 20 + 0j, 0j, (20 + 0j, 10j), -2 * math.pi)
    assert signed_area(joined([piece], 0.001, most=1000)) == pytest.approx(-200 * math.pi, abs=0.1)


def test_a_bezier_through_one_point_twice_has_a_direction_there() -> None:
    piece = bezier([0j, 0j, 1 + 1j, 2 + 0j])
    assert abs(cmath.phase(piece.leaving) - math.pi / 4) < 1e-3


def test_pieces_rounded_by_the_drawing_meet_smoothly_and_meant_corners_stay() -> None:
    def kinks(lift: float) -> float:
        pieces = [
            line(-10 + 0j, 0j),
            bezier([0j, complex(5, lift), 10 + 5j, 10 + 10j]),
            line(10 + 10j, -10 + 10j),
        ]
        pieces.append(line(-10 + 10j, -10 + 0j))
        _, start, after = joined(pieces, 0.001, most=1000)[:3]
        chord = complex(after[0], after[1]) - complex(start[0], start[1])
        return abs(cmath.phase(chord) - 2 * math.atan(start[2]))

    assert kinks(0.01) < 1e-9
    assert kinks(0.5) == pytest.approx(math.atan(0.1), abs=1e-9)


def test_places_that_divide_an_arc_lie_on_its_ellipse() -> None:
    # three quarters of an ellipse of half-axes 4 and 2, from its right end, whichever way its axes point
    for across in (2j, -2j):
        places = arc_places(4 + 0j, 0j, (4 + 0j, across), 1.5 * math.pi, 3)
        assert places == pytest.approx([2j, -4 + 0j])
    assert arc_places(4 + 0j, 0j, (4 + 0j, 2j), -1.5 * math.pi, 3) == pytest.approx([-2j, -4 + 0j])
