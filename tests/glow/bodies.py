"""Small scenes for the renderer, made from plain numbers so as not to lean on our solids."""

from collections.abc import Callable, Sequence
from functools import cache

import numpy as np

from stackview.glow import engine
from stackview.glow.proving import best_variant
from stackview.glow.room import DARK, Room
from stackview.glow.scene import GlowScene, Shining, SkinFaces
from stackview.glow.skins import Opal, Sanded, Skin
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import Camera


def box(skin: Skin, low: Sequence[float], high: Sequence[float]) -> SkinFaces:
    """A box between two corners, four vertices a side."""
    ends = np.array([low, high], float)
    shapes, normals = [], []
    for axis in range(3):
        one, other = (axis + 1) % 3, (axis + 2) % 3
        for way in (0, 1):
            corners = np.empty((4, 3))
            corners[:, axis] = ends[way, axis]
            round_it = ((0, 0), (1, 0), (1, 1), (0, 1)) if way else ((0, 0), (0, 1), (1, 1), (1, 0))
            for row, (u, v) in enumerate(round_it):
                corners[row, one], corners[row, other] = ends[u, one], ends[v, other]
            shapes.append(corners)
            normals.append(np.tile(np.eye(3)[axis] * (2 * way - 1), (4, 1)))
    return body(skin, np.array(shapes), np.concatenate(normals))


def body(skin: Skin, quads: np.ndarray, normals: np.ndarray | None = None) -> SkinFaces:
    """Quadrilaterals (n, 4, 3) of one skin."""
    if normals is None:
        flat = np.cross(quads[:, 1] - quads[:, 0], quads[:, 3] - quads[:, 0])
        normals = np.repeat(flat / np.linalg.norm(flat, axis=1, keepdims=True), 4, axis=0)
    return SkinFaces("body", 0, skin, quads.reshape(-1, 3).copy(), normals, halves(len(quads)))


def halves(count: int) -> np.ndarray:
    """Triangles of so many quadrilaterals."""
    first = 4 * np.arange(count)[:, None]
    return np.concatenate([first + np.array([0, 1, 2]), first + np.array([0, 2, 3])])


def square(
    middle: Sequence[float], side: float, *, up: bool = True, other_side: float | None = None
) -> np.ndarray:
    """A level rectangle (1, 4, 3) that faces up or down."""
    half = np.array([side, side if other_side is None else other_side]) / 2.0
    turns = ((-1, -1), (1, -1), (1, 1), (-1, 1)) if up else ((-1, -1), (-1, 1), (1, 1), (1, -1))
    return np.array([[[middle[0] + u * half[0], middle[1] + v * half[1], middle[2]] for u, v in turns]])


def light(quads: np.ndarray, luminance: float = 1000.0, reflectance: float = 0.0) -> Shining:
    """Lambertian faces (n, 4, 3) of one luminance, alike in all channels."""
    return Shining(quads.reshape(-1, 3).copy(), halves(len(quads)), (luminance,) * 3, (reflectance,) * 3)


def seen(
    bodies: Sequence[SkinFaces],
    lights: Sequence[Shining],
    camera: Camera,
    samples: int,
    *,
    room: Room = DARK,
    seed: int = 1,
) -> np.ndarray:
    """Luminance (h, w) that a camera sees of a scene."""
    slow = any(isinstance(body.skin, (Sanded, Opal)) for body in bodies)
    ready = engine.built(
        GlowScene(tuple(bodies), tuple(lights), ()), room, quick() if slow else engine.STEADY
    )
    return engine.photographed(ready, camera, samples, seed) @ LUMINANCE


@cache
def quick() -> str:
    """The variant that is quick at sanded and opal faces, where it works."""
    return best_variant().name


def aimed(
    target: Sequence[float],
    *,
    elevation: float = 90.0,
    bearing: float = 0.0,
    distance: float = 500.0,
    field: float = 0.1,
    size: tuple[int, int] = (16, 16),
    parallel: bool = False,
) -> Camera:
    """A camera that looks at one place through a narrow field."""
    x, y, z = (float(value) for value in target)
    return Camera(bearing, elevation, distance, (x, y, z), field, size, parallel)


def mean_over(function: Callable[[float], float], count: int) -> float:
    """Mean of a function over 0 to 1 by Gauss and Legendre."""
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return float(sum(w * function((x + 1) / 2) for x, w in zip(nodes, weights, strict=True)) / 2)
