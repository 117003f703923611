import cmath
import itertools
import math

import pytest

from stackview.description.biarcs import Smooth, biarcs, distance
from stackview.description.reach import arc_centre


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


def test_a_circular_arc_comes_back_as_itself() -> None:
    def spoke(t: float) -> complex:
        return 50 * cmath.exp(2j * t)

    arcs = biarcs(Smooth(spoke, lambda t: 1j * cmath.exp(2j * t)), 1e-6, most=100)
    for start, end, bulge in segments(arcs, spoke(1)):
        centre, radius = arc_centre(start, end, bulge)
        assert radius == pytest.approx(50, rel=1e-9)
        assert abs(centre) < 1e-7


@pytest.mark.parametrize("tolerance", [0.1, 0.01, 0.001])
def test_every_point_of_a_wave_lies_within_the_tolerance(tolerance: float) -> None:
    arcs = segments(biarcs(WAVE, tolerance, most=10000), wave(1))
    worst = max(min(distance(wave(i / 2000), *arc) for arc in arcs) for i in range(2001))
    assert worst <= tolerance


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


def test_distance_to_an_arc_beyond_its_ends() -> None:
    # a half circle below the chord; from above the chord its ends are nearest
    assert distance(0 + 1j, -1 + 0j, 1 + 0j, 1.0) == pytest.approx(math.sqrt(2))
    assert distance(0 - 3j, -1 + 0j, 1 + 0j, 1.0) == pytest.approx(2)
