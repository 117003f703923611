"""Colours of the surfaces, from the same light and curve as the pictures."""

import itertools

import numpy as np
import pytest

from stackview.stills.mix import DAY, STUDIO, evening_mix
from stackview.window.paint import (
    ACRYLIC_LIFT,
    acrylic_places,
    ground_places,
    ground_triangles,
    mix_at,
    painted,
    wall_places,
)
from stackview.window.shown import Shown


def test_light_goes_evenly_from_day_to_evening() -> None:
    assert (mix_at(0.0, 350.0), mix_at(0.5, 350.0), mix_at(1.0, 350.0)) == (DAY, STUDIO, evening_mix(350.0))
    skies = [mix_at(share, 350.0).sky for share in np.linspace(0, 1, 21)]
    assert all(a > b for a, b in itertools.pairwise(skies))
    assert mix_at(0.499, 350.0).backdrop_low == pytest.approx(STUDIO.backdrop_low, rel=0.01)


def test_one_colour_a_corner(honeycomb: Shown) -> None:
    baked = honeycomb.baked
    found = painted(baked, 0.5)
    assert found.walls.shape == (3 * len(baked.walls.triangles), 3)
    assert found.acrylic.shape == (3 * len(baked.acrylic.triangles), 4)
    assert found.points.shape == (4 * len(honeycomb.study.light.points), 3)
    assert found.ground is not None
    assert len(found.ground) == len(ground_places(baked))
    assert len(wall_places(baked)) == len(found.walls)
    assert len(acrylic_places(baked)) == len(found.acrylic)


def test_evening_is_darker_outside_and_light_points_stay_bright(honeycomb: Shown) -> None:
    day, evening = painted(honeycomb.baked, 0.0), painted(honeycomb.baked, 1.0)
    light = honeycomb.baked.wall_light
    outside = (light.lamp.max(axis=1) < 0.01) & (light.sky.min(axis=1) > 0.3)
    chosen = outside[honeycomb.baked.walls.corner.ravel()]
    assert chosen.mean() > 0.1
    assert day.walls[chosen].mean() > 2.0 * evening.walls[chosen].mean()
    assert evening.points.max(axis=1).min() > 240
    # The lamp's light is warm; in the evening the picture's white comes nearer to it.
    lit = (light.lamp.max(axis=1) > 0.3)[honeycomb.baked.walls.corner.ravel()]
    warm = [one.walls[lit, 0].mean() / one.walls[lit, 2].mean() for one in (day, evening)]
    assert warm[0] > warm[1] > 1.2


def test_spreading_lets_light_into_covered_faces(honeycomb: Shown) -> None:
    closed, apart = painted(honeycomb.baked, 0.5).walls, painted(honeycomb.baked, 0.5, 1.0).walls
    # A dither of one step apart, nothing gets darker.
    assert (apart.astype(int) - closed >= -1).all()
    assert (apart.astype(int) - closed).max() > 20


def test_acrylic_stands_a_hair_off_its_surface(honeycomb: Shown) -> None:
    mesh = honeycomb.baked.acrylic
    off = np.linalg.norm(
        acrylic_places(honeycomb.baked) - mesh.vertices[mesh.triangles].reshape(-1, 3), axis=1
    )
    assert off == pytest.approx(np.full(len(off), ACRYLIC_LIFT), rel=0.02)


def test_ground_is_seen_from_above(honeycomb: Shown) -> None:
    at, corner = ground_places(honeycomb.baked), ground_triangles()
    assert corner.max() == len(at) - 1
    a, b, c = (at[corner[:, k]].astype(float) for k in range(3))
    up = np.cross(b - a, c - a)
    assert (up[:, 2] > 0).all()
    # The triangles tile the regular polygon of its rim: ½ n R² sin(2π/n).
    radius = np.hypot(*at[-1, :2].astype(float))
    n = len(np.unique(corner)) // 34
    assert up[:, 2].sum() / 2 == pytest.approx(n / 2 * radius**2 * np.sin(2 * np.pi / n), rel=1e-4)
