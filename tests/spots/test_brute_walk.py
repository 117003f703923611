"""The brute walk that light is held against, by itself."""

from math import pi

import numpy as np
import pytest

from tests.spots.brute_walk import INDEX, over_a_face


@pytest.mark.parametrize("inside", [False, True])
def test_what_it_aims_at_the_outside_is_what_leaves_to_it(inside: bool) -> None:
    count, chance = 100_000, np.random.default_rng(3)
    up, turn = chance.random(count), 2.0 * pi * chance.random(count)
    aside = np.sqrt(1.0 - up**2)
    aim = np.stack([aside * np.cos(turn), aside * np.sin(turn), up])
    travel = np.repeat([[0.6], [0.0], [0.8 if inside else -0.8]], count, axis=1)
    left = over_a_face(travel, np.full(count, inside), 0.45, chance, aim)
    shares = 2.0 * pi * left.aimed
    error = np.hypot(shares.std(), 0.5) / np.sqrt(count)
    assert shares.mean() == pytest.approx(1.0 - left.inside.mean(), abs=4.0 * error)


def test_a_face_hardly_sanded_bends_light_by_snells_law_and_reflects_by_fresnels() -> None:
    count, chance = 20_000, np.random.default_rng(4)
    travel, up = (
        np.repeat([[0.0], [0.6], [-0.8]], count, axis=1),
        np.repeat([[0.0], [0.0], [1.0]], count, axis=1),
    )
    left = over_a_face(travel, np.zeros(count, np.bool_), 1e-4, chance, up)
    # 53.13° in air, 32.47° within: ½(sin²(Δ)/sin²(Σ) + tan²(Δ)/tan²(Σ)) (Born & Wolf, §1.5.2).
    assert np.abs(left.travel[1, left.inside] - 0.6 / INDEX).max() < 5e-3
    difference, total = np.arcsin(0.6) - np.arcsin(0.6 / INDEX), np.arcsin(0.6) + np.arcsin(0.6 / INDEX)
    fresnel = 0.5 * ((np.sin(difference) / np.sin(total)) ** 2 + (np.tan(difference) / np.tan(total)) ** 2)
    assert (~left.inside).mean() == pytest.approx(fresnel, abs=4.0 * np.sqrt(fresnel / count))
