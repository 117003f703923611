import math

import numpy as np
import pytest

from stackview.curves.arcs import Path, Pieces, pieces_of
from stackview.curves.corners import circle
from stackview.curves.fit import distances
from stackview.curves.near import chords_of, discs_of, nearest_pairs


def wavy(count: int, bulge: float = 0.0) -> Pieces:
    angle = 2.0 * math.pi * np.arange(count) / count
    radius = 50.0 + 4.0 * np.cos(7.0 * angle)
    return pieces_of(
        Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), np.full(count, bulge))))
    )


@pytest.mark.parametrize(
    ("count", "bulge"), [(3, 0.0), (3, 5.0), (40, 0.1), (700, 0.0), (700, -3.0), (5000, 0.01)]
)
def test_all_pieces_of_a_run_lie_within_its_thickness_of_its_chord(count: int, bulge: float) -> None:
    q = wavy(count, bulge)
    shares = np.linspace(0.0, 1.0, 9)
    points = q.at(np.repeat(np.arange(count), 9), np.tile(shares, count))
    for chords in chords_of(q):
        own = np.repeat(np.arange(count) // 16 ** (round(math.log(count / len(chords), 16))), 9)
        away = chords.away(points[:, 0], points[:, 1], own)
        assert (away <= chords.thick[own] + 1e-9).all()


def test_of_a_fine_curve_thicknesses_go_down_with_the_square_of_the_length() -> None:
    coarse, fine = (chords_of(wavy(count))[-2].thick.max() for count in (2000, 8000))
    assert coarse / fine == pytest.approx(16.0, rel=0.1)


def test_a_place_far_from_a_fine_curve_asks_about_as_many_of_its_pieces_as_of_a_coarse_one() -> None:
    rng = np.random.default_rng(2)
    places = rng.uniform(-25.0, 25.0, (300, 2))
    coarse, fine = (len(nearest_pairs(places, np.zeros(300), wavy(count))[0]) for count in (2000, 32000))
    assert coarse < 2 * 300
    assert fine < 2 * 300


@pytest.mark.parametrize(("count", "bulge"), [(40, 0.1), (700, 0.0), (700, 0.01)])
def test_the_nearest_piece_to_every_place_of_a_disc_is_among_those_found(count: int, bulge: float) -> None:
    q = wavy(count, bulge)
    rng = np.random.default_rng(1)
    centre, reach = rng.uniform(-60.0, 60.0, (60, 2)), rng.choice([0.0, 0.1, 3.0], 60)
    i, j = nearest_pairs(centre, reach, q)
    assert (np.diff(i) >= 0).all()
    turn = rng.uniform(0.0, 2.0 * math.pi, (60, 20))
    places = centre[:, None] + reach[:, None, None] * np.stack((np.cos(turn), np.sin(turn)), axis=2)
    each = np.array([distances(places.reshape(-1, 2), one_of(q, k)) for k in range(count)])
    nearest = each.argmin(axis=0).reshape(60, 20)
    for disc in range(60):
        assert set(nearest[disc]) <= set(j[i == disc])


def one_of(q: Pieces, k: int) -> Pieces:
    return Pieces(*(getattr(q, name)[k : k + 1] for name in Pieces.__slots__))


def test_few_pieces_are_looked_at_of_many() -> None:
    p, q = wavy(4000), wavy(4000)
    middle, radius = discs_of(p)
    assert len(nearest_pairs(middle, radius, q)[0]) < 10 * 4000


def test_at_the_middle_of_a_circle_every_piece_is_as_near() -> None:
    q = pieces_of(circle(20.0))
    assert len(nearest_pairs(np.zeros((1, 2)), np.zeros(1), q)[0]) == len(q)
