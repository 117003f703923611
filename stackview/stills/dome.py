"""The studio that the lamp stands in: a soft dome with a large light from the upper left."""

import numpy as np

from stackview.arrays import Singles

KEY = np.array([-0.62, -0.42, 0.66], np.float32) / np.float32(np.linalg.norm([-0.62, -0.42, 0.66]))
"""Direction towards the middle of the large light."""
KEY_SPREAD = 0.24
"""Tangent of the half-angle under which the large light is seen; wide, so its shadows are soft."""
KEY_LIGHT = np.array([1.04, 1.0, 0.94], np.float32) * np.float32(0.85)
"""Light that it brings to a surface square to it, relative to the dome on open ground."""
GROUND = np.array([0.62, 0.61, 0.60], np.float32)
"""Reflectance of the ground."""


def dome(directions: Singles) -> Singles:
    """Radiance (n, 3) of the studio's walls and ceiling, without the large light itself.

    Cool above, neutral at eye level, about 1 overhead.
    """
    height = np.clip(directions[:, 2], -1.0, 1.0)
    side = 0.5 - 0.5 * (directions @ np.array([0.55, -0.35, 0.0], np.float32))
    level = 0.44 + 0.30 * np.clip(height, 0.0, 1.0) + 0.16 * side
    level = np.where(height < 0, np.float32(0.34) + 0.08 * side, level)
    cool = np.clip(height, 0.0, 1.0)[:, None] * np.array([-0.03, 0.0, 0.04], np.float32)
    return np.asarray(level[:, None] * (1.0 + cool), np.float32)


def mirrored(directions: Singles) -> Singles:
    """Radiance (n, 3) that a polished surface shows: the dome with two soft windows in it."""
    big = np.clip((directions @ KEY - 0.80) / 0.16, 0.0, 1.0)
    strip = np.clip(
        1.0 - np.abs(directions @ np.array([0.8, -0.55, 0.0], np.float32) - 0.80) / 0.10, 0.0, 1.0
    )
    windows = 2.2 * big * big * (3 - 2 * big) + 0.9 * strip * (directions[:, 2] > -0.1)
    return np.asarray(dome(directions) + windows[:, None], np.float32)


def hazed(directions: Singles) -> Singles:
    """Radiance (n, 3) that a satin surface shows: the same, so blurred that no window has a rim."""
    big = np.clip((directions @ KEY - 0.35) / 0.65, 0.0, 1.0)
    return np.asarray(dome(directions) + (1.1 * big * big * (3 - 2 * big))[:, None], np.float32)


def hemisphere(count: int) -> Singles:
    """Directions (count, 3) about +z, spread evenly over the cosine-weighted hemisphere.

    Fibonacci lattice (Swinbank & Purser 2006) on the unit disc, lifted onto the hemisphere
    (Malley's method), so that a plain mean over them is an irradiance over π.
    """
    k = np.arange(count) + 0.5
    radius, angle = np.sqrt(k / count), k * np.pi * (3.0 - np.sqrt(5.0))
    return np.asarray(
        np.stack([radius * np.cos(angle), radius * np.sin(angle), np.sqrt(1.0 - k / count)], axis=1),
        np.float32,
    )


def key_rays(count: int) -> Singles:
    """Directions (count, 3) towards points spread evenly over the large light."""
    side = np.cross(KEY, [0.0, 0.0, 1.0])
    side /= np.linalg.norm(side)
    over = np.cross(side, KEY)
    k = np.arange(count) + 0.5
    radius, angle = KEY_SPREAD * np.sqrt(k / count), k * np.pi * (3.0 - np.sqrt(5.0))
    rays = KEY + (radius * np.cos(angle))[:, None] * side + (radius * np.sin(angle))[:, None] * over
    return np.asarray(rays / np.linalg.norm(rays, axis=1, keepdims=True), np.float32)


def local_axes(normals: Singles) -> tuple[Singles, Singles]:
    """Two unit tangents (n, 3) for each unit normal, turning smoothly with it.

    Duff et al., "Building an orthonormal basis, revisited", JCGT 6(1), 2017, eq. 1–2.
    """
    x, y, z = normals.T
    sign = np.copysign(np.float32(1.0), z)
    a = -1.0 / (sign + z)
    b = x * y * a
    first = np.stack([1.0 + sign * x * x * a, sign * b, -sign * x], axis=1)
    second = np.stack([b, sign + y * y * a, -y], axis=1)
    return np.asarray(first, np.float32), np.asarray(second, np.float32)
