import math

import numpy as np
import pytest

from stackview.curves.arcs import Path, Pieces, pieces_of
from stackview.curves.corners import circle
from stackview.curves.fit import distances
from stackview.curves.near import circles_of, nearest_pairs


def wavy(count: int, bulge: float = 0.0) -> Pieces:
    angle = 2.0 * math.pi * np.arange(count) / count
    radius = 50.0 + 4.0 * np.cos(7.0 * angle)
    return pieces_of(
        Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), np.full(count, bulge))))
    )


@pytest.mark.parametrize(("count", "bulge"), [(3, 0.0), (40, 0.1), (700, 0.0), (5000, 0.01)])
def test_the_circle_of_a_run_holds_all_its_pieces(count: int, bulge: float) -> None:
    q = wavy(count, bulge)
    points = q.at(np.repeat(np.arange(count), 3), np.tile((0.0, 0.4, 1.0), count))
    for middle, radius in circles_of(q):
        own = np.arange(count) // 16 ** (round(math.log(count / len(radius), 16)))
        away = np.hypot(*(points - np.repeat(middle[own], 3, axis=0)).T)
        assert (away <= np.repeat(radius[own], 3) + 1e-9).all()


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
    middle, radius = circles_of(p)[-1]
    assert len(nearest_pairs(middle, radius, q)[0]) < 10 * 4000


def test_at_the_middle_of_a_circle_every_piece_is_as_near() -> None:
    q = pieces_of(circle(20.0))
    assert len(nearest_pairs(np.zeros((1, 2)), np.zeros(1), q)[0]) == len(q)
