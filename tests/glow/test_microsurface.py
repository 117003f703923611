"""Sanded acrylic by walks over its micro-facets: no light is lost, and joined light is what leaves.

Albedos to air at roughness 0.3 are those of a trial's own walk (tier C, two programs of ours); the limits are
Fresnel's (Born & Wolf, §1.5.2) and total reflection's.
"""

import numpy as np
import pytest

from stackview.glow.microsurface import first_facet_towards, reflected_share, walked
from stackview.sight.refraction import INDEX

COUNT = 20_000


def travel(degrees: float, inside: bool, count: int = COUNT) -> np.ndarray:
    angle = np.radians(degrees)
    way = np.array([np.sin(angle), 0.0, -np.cos(angle)], np.float32)
    return np.repeat((-way if inside else way)[:, None], count, axis=1)


def evenly_up(chance: np.random.Generator, count: int = COUNT) -> np.ndarray:
    """Directions evenly over the half sphere above, (3, n)."""
    z, turn = chance.random(count), 2 * np.pi * chance.random(count)
    aside = np.sqrt(1 - z * z)
    return np.stack([aside * np.cos(turn), aside * np.sin(turn), z]).astype(np.float32)


def walk(degrees: float, inside: bool, alpha: float, aim: np.ndarray | None = None, seed: int = 1):
    chance = np.random.default_rng(seed)
    rough = np.full(COUNT, alpha, np.float32)
    return walked(travel(degrees, inside), np.full(COUNT, inside), rough, chance, aim)


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("alpha", [0.02, 0.3, 0.6])
def test_all_light_leaves_by_the_side_that_it_is_said_to(alpha: float, inside: bool) -> None:
    end = walk(60.0, inside, alpha)
    assert np.allclose(np.linalg.norm(end.leaves, axis=0), 1.0, atol=1e-4)
    assert ((end.leaves[2] < 0) == end.inside).all()


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("degrees", [0.0, 45.0, 75.0])
def test_joined_light_adds_up_to_what_leaves_into_air(degrees: float, inside: bool) -> None:
    aim = evenly_up(np.random.default_rng(2))
    end = walk(degrees, inside, 0.3, aim)
    joined = end.aimed * 2 * np.pi
    error = joined.std() / np.sqrt(COUNT) + 0.5 / np.sqrt(COUNT)
    assert joined.mean() == pytest.approx(1.0 - end.inside.mean(), abs=4 * error)


@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("degrees", [0.0, 60.0])
def test_light_joined_within_adds_up_to_what_stays_in_the_acrylic(degrees: float, inside: bool) -> None:
    aim = -evenly_up(np.random.default_rng(6))
    rough = np.full(COUNT, 0.3, np.float32)
    own = travel(degrees, inside), np.full(COUNT, inside), rough, np.random.default_rng(1)
    end = walked(*own, aim, into=True)
    joined = end.aimed * 2 * np.pi
    error = joined.std() / np.sqrt(COUNT) + 0.5 / np.sqrt(COUNT)
    assert joined.mean() == pytest.approx(end.inside.mean(), abs=4 * error)


def test_light_into_the_acrylic_is_that_out_of_it_reversed() -> None:
    # Helmholtz: p(i→o)·cos i/n_o² = p(o→i)·cos o/n_i², in air on one side.
    count, chance = 150_000, np.random.default_rng(7)
    rough = np.full(count, 0.3, np.float32)
    over = np.array([np.sin(0.5), 0.0, np.cos(0.5)], np.float32)
    under = np.array([-np.sin(0.25), 0.1, -np.cos(0.25)], np.float32)
    under /= np.linalg.norm(under)

    def density(seen: np.ndarray, aim: np.ndarray, inside: bool) -> float:
        ways, to = (np.repeat(way[:, None], count, axis=1) for way in (-seen, aim))
        side = np.full(count, inside)
        return float(walked(ways, side, rough, chance, to, into=not inside).aimed.mean())

    into, out = density(over, under, False), density(under, over, True)
    assert into * over[2] / INDEX**2 == pytest.approx(-out * under[2], rel=0.02)


@pytest.mark.parametrize(
    ("degrees", "inside", "to_air"),
    [(0, False, 0.036), (45, False, 0.045), (75, False, 0.109), (0, True, 0.872), (45, True, 0.383)],
)
def test_albedo_of_roughness_three_tenths(degrees: float, inside: bool, to_air: float) -> None:
    end = walk(degrees, inside, 0.3)
    assert 1.0 - end.inside.mean() == pytest.approx(to_air, abs=0.013)


def test_a_smooth_face_reflects_as_fresnel_says_and_all_beyond_the_critical_angle() -> None:
    straight = ((INDEX - 1) / (INDEX + 1)) ** 2
    assert 1.0 - walk(0.0, False, 0.02).inside.mean() == pytest.approx(straight, abs=0.006)
    assert walk(60.0, True, 0.02).inside.mean() > 0.99
    share, through = reflected_share(np.array([1.0], np.float32), np.array([INDEX], np.float32))
    assert share[0] == pytest.approx(straight, rel=1e-4)
    assert through[0] == pytest.approx(1.0)


def test_light_followed_one_way_and_the_other_is_the_same() -> None:
    # Reciprocity of what leaves and returns in air: p(i→o)·cos i = p(o→i)·cos o.
    one, other = np.radians(20.0), np.radians(65.0)
    low, high = (np.array([np.sin(a), 0.0, np.cos(a)], np.float32) for a in (one, other))
    chance = np.random.default_rng(3)
    count = 400_000
    rough = np.full(count, 0.6, np.float32)
    out = np.zeros(count, np.bool_)

    def density(seen: np.ndarray, aim: np.ndarray) -> float:
        ways = np.repeat(-seen[:, None], count, axis=1)
        return float(walked(ways, out, rough, chance, np.repeat(aim[:, None], count, axis=1)).aimed.mean())

    there, back = density(low, high), density(high, low)
    assert there * np.cos(one) == pytest.approx(back * np.cos(other), rel=0.03)


def test_metal_lets_nothing_pass() -> None:
    chance = np.random.default_rng(4)
    out = np.zeros(COUNT, np.bool_)
    end = walked(travel(50.0, False), out, np.full(COUNT, 0.35, np.float32), chance, metal=True)
    assert not end.inside.any()


def test_the_first_facet_alone_gives_less_than_all_of_them() -> None:
    aim = evenly_up(np.random.default_rng(5))
    inside = np.ones(COUNT, np.bool_)
    rough = np.full(COUNT, 0.6, np.float32)
    first = first_facet_towards(-travel(10.0, True), aim, inside, rough)
    assert 0.3 < first.mean() * 2 * np.pi < 1.0
