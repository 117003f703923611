import cmath
import itertools
import math

import numpy as np
import pytest

from stackview.curves.arcs import Pieces, pieces_between
from stackview.curves.biarcs import Smooth, biarcs
from stackview.curves.fit import distances


def wave(t: float) -> complex:
    return complex(100 * t, 20 * math.sin(2 * math.pi * t))


def wave_direction(t: float) -> complex:
    way = complex(100, 40 * math.pi * math.cos(2 * math.pi * t))
    return way / abs(way)


WAVE = Smooth(wave, wave_direction)


def segments(
    vertices: list[tuple[float, float, float]], end: complex
) -> list[tuple[complex, complex, float]]:
    points = [complex(x, y) for x, y, _ in vertices] + [end]
    return [(points[i], points[i + 1], vertices[i][2]) for i in range(len(vertices))]


def pieces(vertices: list[tuple[float, float, float]], end: complex) -> Pieces:
    rows = np.array([*vertices, (end.real, end.imag, 0.0)])
    return pieces_between(rows[:-1, :2], rows[1:, :2], rows[:-1, 2])


def test_a_circular_arc_comes_back_as_itself() -> None:
    def spoke(t: float) -> complex:
        return 50 * cmath.exp(2j * t)

    arcs = biarcs(Smooth(spoke, lambda t: 1j * cmath.exp(2j * t)), 1e-6, most=100)
    made = pieces(arcs, spoke(1))
    assert made.radius == pytest.approx(50, rel=1e-9)
    assert np.abs(made.centre).max() < 1e-7


@pytest.mark.parametrize("tolerance", [0.1, 0.01, 0.001])
def test_every_point_of_a_wave_lies_within_the_tolerance(tolerance: float) -> None:
    arcs = pieces(biarcs(WAVE, tolerance, most=10000), wave(1))
    points = np.array([(wave(i / 2000).real, wave(i / 2000).imag) for i in range(2001)])
    assert distances(points, arcs).max() <= tolerance


def test_arcs_meet_without_a_kink() -> None:
    arcs = segments(biarcs(WAVE, 0.001, most=10000), wave(1))
    for (a, b, first), (c, d, second) in itertools.pairwise(arcs):
        assert b == c
        leaving = (b - a) * cmath.exp(2j * math.atan(first))
        entering = (d - c) * cmath.exp(-2j * math.atan(second))
        assert abs(cmath.phase(leaving / entering)) < 1e-9


def test_a_straight_curve_is_a_line() -> None:
    straight = Smooth(lambda t: complex(t * t, 0), lambda _: 1 + 0j)
    assert {bulge for _, _, bulge in biarcs(straight, 0.001, most=10)} == {0.0}


def test_too_many_arcs() -> None:
    with pytest.raises(OverflowError):
        biarcs(WAVE, 1e-6, most=10)


def test_a_curve_that_is_a_point_has_no_arcs_and_a_loop_has() -> None:
    """Found by fuzzing: scaled to nothing, a curve was halved a million times."""
    asked: list[float] = []

    def still(t: float) -> complex:
        asked.append(t)
        return 3 + 4j

    assert biarcs(Smooth(still, lambda _: 1 + 0j), 0.01, most=100) == []
    assert len(asked) < 50
    round_trip = Smooth(lambda t: cmath.exp(2j * math.pi * t), lambda t: 1j * cmath.exp(2j * math.pi * t))
    assert len(biarcs(round_trip, 0.01, most=100)) >= 4
