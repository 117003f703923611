import math

import numpy as np
import pytest

from stackview.curves import crossing
from stackview.curves.arcs import Path, pieces_of
from stackview.curves.crossing import crosses_itself, crossings
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Rectangle, Regular


def points(a: Path, b: Path) -> np.ndarray:
    p = pieces_of(a)
    c = crossings(p, pieces_of(b))
    found = p.at(c.i, c.u)
    assert np.allclose(found, pieces_of(b).at(c.j, c.v), atol=1e-9)
    order = np.lexsort((np.round(found[:, 1], 6), np.round(found[:, 0], 6)))
    return found[order]


def circle(diameter: float, x: float = 0.0, y: float = 0.0) -> Path:
    return path_of(Outline(Circle(diameter), at=(x, y)))


def test_two_rectangles_cross_at_four_points() -> None:
    a, b = (path_of(Outline(Rectangle(*size))) for size in ((40.0, 10.0), (10.0, 40.0)))
    expected = [(-5, -5), (-5, 5), (5, -5), (5, 5)]
    assert points(a, b) == pytest.approx(np.array(expected, dtype=float), abs=1e-12)


def test_line_and_circle() -> None:
    # x² + y² = 100 and y = ±6: x = ±8.
    found = points(path_of(Outline(Rectangle(60.0, 12.0))), circle(20.0))
    assert found == pytest.approx(np.array([(-8, -6), (-8, 6), (8, -6), (8, 6)], dtype=float), abs=1e-12)
    swapped = points(circle(20.0), path_of(Outline(Rectangle(60.0, 12.0))))
    assert swapped == pytest.approx(found, abs=1e-12)


def test_two_circles() -> None:
    # Radii 5 and 5 with centres 6 apart: they meet halfway, 4 off the line of centres.
    assert points(circle(10.0), circle(10.0, 6.0)) == pytest.approx(np.array([(3, -4), (3, 4)], dtype=float))


def test_touching_circles_touch_once_or_as_two_equal_points() -> None:
    found = points(circle(10.0), circle(6.0, 8.0))
    assert len(found) >= 1
    assert np.allclose(found, (5.0, 0.0), atol=1e-6)


def test_circles_that_do_not_meet() -> None:
    assert len(points(circle(10.0), circle(4.0))) == 0
    assert len(points(circle(10.0), circle(10.0, 10.5))) == 0


def test_a_simple_curve_does_not_cross_itself() -> None:
    assert crosses_itself(circle(30.0)) is None
    assert crosses_itself(path_of(Outline(Rectangle(30.0, 20.0, 10.0)))) is None
    assert crosses_itself(Path(np.array([(-10.0, 0.0, 0.0), (10.0, 0.0, 1.0)]))) is None


def test_a_figure_of_eight_says_where_it_crosses() -> None:
    eight = Path(np.array([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 10, 0)], dtype=float))
    assert crosses_itself(eight) == pytest.approx((5.0, 5.0))


def test_an_arc_through_a_line_crosses() -> None:
    # The top side is an arc of radius 10 that sags 10 mm, through the underside at 5 mm.
    sag = Path(np.array([(0, 0, 0), (20, 0, 0), (20, 5, -1.0), (0, 5, 0)], dtype=float))
    where = crosses_itself(sag)
    assert where is not None
    assert where[1] == pytest.approx(0.0, abs=1e-9)
    assert abs(where[0] - 10.0) == pytest.approx(math.sqrt(75.0))


def test_a_curve_that_turns_back_along_itself_is_found() -> None:
    spike = Path(
        np.array([(0, 0, 0), (10, 0, 0), (10, 10, 0), (10, 20, 0), (10, 10, 0), (0, 10, 0)], dtype=float)
    )
    assert crosses_itself(spike) is not None


def test_many_pairs_are_sorted_by_a_tree_and_cross_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    p = pieces_of(path_of(Outline(Rectangle(40.0, 20.0, 5.0))))
    q = pieces_of(path_of(Outline(Regular(7, 30.0), turn=4.0)))
    few = crossings(p, q)
    monkeypatch.setattr(crossing, "MANY_PAIRS", 0)
    many = crossings(p, q)
    assert len(few.i) > 2
    order, same = np.lexsort((few.u, few.j, few.i)), np.lexsort((many.u, many.j, many.i))
    assert (few.i[order] == many.i[same]).all()
    assert (few.j[order] == many.j[same]).all()
    assert few.u[order] == pytest.approx(many.u[same], abs=0)


def wild(seed: int, pieces: int) -> Path:
    """A curve of lines and arcs about a star, by chance with crossings or without."""
    chance = np.random.default_rng(seed)
    angle = 2.0 * np.pi * np.arange(pieces) / pieces
    radius = 80.0 + 5.0 * np.sin(5.0 * angle) + chance.choice([0.0, 8.0, 30.0]) * chance.normal(size=pieces)
    bulge = np.where(chance.random(pieces) < 0.5, 0.0, chance.uniform(-0.9, 0.9, pieces))
    return Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), bulge)))


def test_pieces_held_against_all_others_in_turn_cross_at_the_same_place(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    curves = [wild(seed, 3 + seed % 50) for seed in range(200)]
    together = [crosses_itself(curve) for curve in curves]
    monkeypatch.setattr(crossing, "MANY_PAIRS", 0)
    in_turn = [crosses_itself(curve) for curve in curves]
    assert 40 < sum(where is None for where in together) < 160
    for one, other in zip(together, in_turn, strict=True):
        assert (one is None) == (other is None)
        assert one is None or one == pytest.approx(other, abs=1e-9)


def test_arcs_over_one_another_end_the_search_at_the_first_crossing(monkeypatch: pytest.MonkeyPatch) -> None:
    """1,600 arcs, each of which meets all others: of 2.6 million pairs some thousands are looked at."""
    angle = 2.0 * np.pi * 0.61803 * np.arange(1600)
    curve = Path(50.0 * np.column_stack((np.cos(angle), np.sin(angle), np.full(1600, 2.0 / 50.0))))
    looked = []
    monkeypatch.setattr(
        crossing, "_within", lambda found, real=crossing._within: looked.append(len(found[0])) or real(found)
    )
    assert crosses_itself(curve) is not None
    assert sum(looked) < 100_000
