"""Light by way of a level clear plate: lines against Snell's law ray by ray, light against closed forms and a count."""

import numpy as np
import pytest
import trimesh

from stackview.glow.microsurface import reflected_share
from stackview.glow.skins import Clear, Matt
from stackview.sight.refraction import INDEX, refracted
from stackview.spots.by_clear import ClearPlates, clear_plates, steepness
from stackview.spots.from_eye import light_from_eye
from tests.spots.small_scenes import WHITE, body, faces_and_light, level_plane, light_points

THICK, UNDER, OVER = 5.0, 20.0, 15.0
"""Of the plate; from a white plane at height 0 up to it; from its top to the light point [mm]."""
LUMENS = 10.0
AXIAL = LUMENS / np.pi
"""Of a Lambertian light point [cd]."""
LOST = ((INDEX - 1.0) / (INDEX + 1.0)) ** 2
"""Share that a face throws back straight on (Fresnel)."""


def scene(light_at: tuple[float, float, float], way: tuple[float, float, float], plane: float = 0.0):
    slab = trimesh.creation.box((500.0, 500.0, THICK))
    slab.apply_translation((0.0, 0.0, UNDER + THICK / 2.0))
    bodies = [level_plane(Matt(WHITE), plane), body(slab, Clear(), 1)]
    return faces_and_light(bodies, light_points([light_at], way, LUMENS, face=0.4))


def lux_seen(around, at: np.ndarray) -> float:
    """Mean illuminance [lx] of places (3, n) on a white plane, as an eye 15 mm above them is told it at once: π·L."""
    eye = np.array([*at[:2].mean(axis=1), 15.0], np.float32)
    to = at.astype(np.float32) - eye[:, None]
    chance, count = np.random.Generator(np.random.SFC64(5)), at.shape[1]
    light = light_from_eye(around, eye, to / np.linalg.norm(to, axis=0), np.zeros(count, np.int32), chance)
    return float(np.pi * light.value[~light.even].sum() / count)


def test_a_line_keeps_to_snell_s_law_and_a_bundle_spreads_as_its_neighbours_do() -> None:
    """Angles are chosen, and where such rays come out is followed by the vector form of the law."""
    angle = np.radians([0.5, 10.0, 35.0, 60.0, 80.0])

    def over(angle: np.ndarray) -> np.ndarray:
        way = np.stack([np.sin(angle), np.zeros_like(angle), -np.cos(angle)], axis=1)
        within, _ = refracted(way, np.tile([0.0, 0.0, 1.0], (len(way), 1)), 1.0 / INDEX)
        return 12.0 * way[:, 0] / -way[:, 2] + THICK * within[:, 0] / -within[:, 2]

    level = over(angle)
    slope, bundle = steepness(
        *(np.asarray(own, np.float32) for own in (level, level * 0 + 12.0, level * 0 + THICK))
    )
    assert slope == pytest.approx(np.tan(angle), rel=1e-4)
    # dω/dA square to the line: sinθ dθ dφ over (level dφ)·(d level·cosθ).
    step = 1e-5
    grows = (over(angle + step) - over(angle - step)) / (2.0 * step)
    assert bundle == pytest.approx(np.sin(angle) / (level * grows * np.cos(angle)), rel=1e-3)


def test_without_a_plate_between_it_is_the_inverse_square() -> None:
    level, rise = np.array([0.001, 9.0, 40.0], np.float32), np.full(3, 12.0, np.float32)
    _, bundle = steepness(level, rise, np.zeros(3, np.float32))
    assert bundle == pytest.approx(1.0 / (level**2 + rise**2), rel=1e-4)


def test_a_light_point_over_a_plate_shines_through_it_as_from_nearer_by() -> None:
    """E = I·T²/(h + d/n)² straight below: acrylic looks n times thinner than it is."""
    around = scene((0.0, 0.0, UNDER + THICK + OVER), (0.0, 0.0, -1.0))
    lux = lux_seen(around, np.zeros((3, 2_000)))
    apparent = (UNDER + OVER + THICK / INDEX) * 1e-3
    assert lux == pytest.approx(AXIAL * (1.0 - LOST) ** 2 / apparent**2, rel=0.02)


def test_a_plate_mirrors_a_light_point_in_both_its_faces() -> None:
    """On a plane over the plate, straight above a light point that looks down at it: R·I/h² + (1 − R)²·R·I/(h + 2d/n)²."""
    top = UNDER + THICK
    around = scene((0.0, 0.0, top + 10.0), (0.0, 0.0, -1.0), plane=top + 25.0)
    # The plane is white on both sides, and seen from below.
    count, chance = 20_000, np.random.Generator(np.random.SFC64(4))
    up = np.tile(np.array([[0.0], [0.0], [1.0]], np.float32), count)
    eye = np.array([2.0, 0.0, top + 24.0], np.float32)
    light = light_from_eye(around, eye, up, np.zeros(count, np.int32), chance)
    lux = np.pi * light.value[~light.even].sum() / count
    far, near = (35.0 + 2.0 * THICK / INDEX) * 1e-3, 35e-3
    expected = AXIAL * LOST * (1.0 / near**2 + (1.0 - LOST) ** 2 / far**2)
    assert lux == pytest.approx(expected, rel=0.05)


def test_light_through_a_plate_is_that_of_rays_counted_one_by_one() -> None:
    """A square of 20 mm beside the light point's axis: 400,000 rays of equal light, bent by hand, weighed by Fresnel."""
    height = UNDER + THICK + OVER
    around = scene((0.0, 0.0, height), (0.0, 0.0, -1.0))
    chance = np.random.default_rng(8)
    count = 400_000
    out, turn = np.sqrt(chance.random(count)), 2.0 * np.pi * chance.random(count)
    upright = np.sqrt(1.0 - out**2)
    within = out / INDEX
    level = (UNDER + OVER) * out / upright + THICK * within / np.sqrt(1.0 - within**2)
    thrown, _ = reflected_share(upright.astype(np.float32), np.full(count, 1.0 / INDEX, np.float32))
    x, y = level * np.cos(turn), level * np.sin(turn)
    falls = (np.abs(x - 30.0) < 10.0) & (np.abs(y) < 10.0)
    counted = LUMENS * ((1.0 - thrown[falls]) ** 2).sum() / count / 0.02**2
    places = np.zeros((3, 6_000))
    places[:2] = chance.uniform((20.0, -10.0), (40.0, 10.0), (6_000, 2)).T
    assert lux_seen(around, places) == pytest.approx(counted, rel=0.03)


def test_what_stands_in_the_way_before_or_behind_the_plate_shades() -> None:
    for height in (16.0, UNDER + THICK + 5.0):
        slab = trimesh.creation.box((500.0, 500.0, THICK))
        slab.apply_translation((0.0, 0.0, UNDER + THICK / 2.0))
        shade = trimesh.creation.box((30.0, 30.0, 0.5))
        shade.apply_translation((0.0, 0.0, height))
        bodies = [level_plane(Matt(WHITE)), body(slab, Clear(), 1), body(shade, Matt((0.0, 0.0, 0.0)), 2)]
        at = (0.0, 0.0, UNDER + THICK + OVER)
        around = faces_and_light(bodies, light_points([at], (0.0, 0.0, -1.0), LUMENS, face=0.4))
        assert lux_seen(around, np.zeros((3, 100))) == 0.0


def test_plates_are_found_by_their_clear_faces_and_drawn_by_their_chance() -> None:
    plates = clear_plates(scene((0.0, 0.0, 40.0), (0.0, 0.0, -1.0)).faces)
    assert (plates.low.tolist(), plates.high.tolist()) == ([UNDER], [UNDER + THICK])
    several = ClearPlates(
        *(np.array(own, np.float32) for own in ([0.0, 10.0, 20.0, 30.0], [2.0, 12.0, 22.0, 32.0]))
    )
    chance = np.random.default_rng(2)
    for height in (-5.0, 15.0, 40.0):
        which, share = several.drawn(np.full(40_000, height, np.float32), chance)
        count = np.bincount(which, minlength=4) / len(which)
        told = {int(own): float(each) for own, each in zip(which, share, strict=True)}
        assert [told[plate] for plate in range(4)] == pytest.approx(count, abs=0.01)
        assert sum(told.values()) == pytest.approx(1.0)
