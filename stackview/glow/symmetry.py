"""A lamp's own symmetry: which turns about its axis, and which mirror, map what light meets onto itself.

Found from the bodies as they are drawn and from the light points, not from noisy light. A turn holds if the middle of
every triangle, turned, lies on a body of the same skin, and every light point on one like it. A small face that gives
light counts by its middle and direction: how it is turned about these makes no odds.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.glow.scene import GlowScene, SkinFaces
from stackview.light.points import LightPoints
from stackview.solids.rays import Target, target

_OFF, _ALIKE = 0.15, 0.02
"""How far turned faces may lie off the faces, and turned light points off light points [mm]: curves are drawn to 0.05 mm."""
_TURNS = 24
"""Most turns that are looked for, but of a lamp that is round."""
_ODD = (1.0, 2.4142)
"""Turns that only what is round survives [rad]."""
_MIRRORS = 12
"""Mirror planes are looked for at so many bearings over half a turn, and between light points."""


@dataclass(frozen=True, slots=True)
class Symmetry:
    """turns : how many turns map the lamp onto itself, the whole one counted; 0 where every turn does, as of a round lamp.

    mirror : bearing of an upright mirror plane through the axis [°], or None.
    """

    turns: int = 1
    mirror: float | None = None

    @property
    def copies(self) -> int:
        """How often every way of light may be counted, by each of the turns and mirrored; 36 for a round lamp."""
        return (self.turns or 36) * (1 if self.mirror is None else 2)

    def of_waves(self, waves: np.ndarray) -> np.ndarray:
        """Waves round the lamp (..., order), by e^(i·order·bearing), less what the lamp's symmetry cannot have."""
        order = np.arange(waves.shape[-1])
        stays = order == 0 if self.turns == 0 else order % self.turns == 0
        kept = np.where(stays, waves, 0.0)
        if self.mirror is None:
            return np.asarray(kept)
        turn = np.exp(1j * order * np.radians(self.mirror))
        return np.asarray((kept * turn).real * turn.conj())


NO_SYMMETRY = Symmetry()


def lamp_symmetry(scene: GlowScene, points: LightPoints) -> Symmetry:
    """The symmetry of a lamp's bodies and light points about the lamp's axis, x = y = 0."""
    bodies = _Bodies(scene.bodies)
    if all(_holds(bodies, points, _turned(angle)) for angle in _ODD):
        return Symmetry(0, 0.0)
    turns = next(
        (n for n in range(_TURNS, 1, -1) if _holds(bodies, points, _turned(2.0 * np.pi / n))),
        1,
    )
    mirrors = (b for b in _mirror_bearings(points) if _holds(bodies, points, _mirrored(b)))
    return Symmetry(turns, next(mirrors, None))


def _turned(angle: float) -> Floats:
    """Matrix (3, 3) of a turn about the axis [rad], counter-clockwise seen from above."""
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])


def _mirrored(bearing: float) -> Floats:
    """Matrix (3, 3) of the mirror in the upright plane through the axis at a bearing [°]."""
    across = np.array([np.cos(np.radians(bearing)), np.sin(np.radians(bearing)), 0.0])
    return np.asarray(np.eye(3) - 2.0 * np.outer(across, across))


def _mirror_bearings(points: LightPoints) -> list[float]:
    """Bearings over half a turn that a mirror plane may have: round ones, and midway between the first light points."""
    found = [180.0 * k / _MIRRORS for k in range(_MIRRORS)]
    off = np.hypot(points.centres[:, 0], points.centres[:, 1]) > _ALIKE
    bearing = np.degrees(np.arctan2(points.centres[off, 0], -points.centres[off, 1]))
    if len(bearing):
        found += ((bearing + bearing[0]) / 2.0 % 180.0).tolist()
    return list(dict.fromkeys(round(own, 6) for own in found))


class _Bodies:
    """Middles (n, 3) and outward normals of all triangles by skin, and what rays meet of each skin."""

    def __init__(self, bodies: tuple[SkinFaces, ...]) -> None:
        self.by_skin: list[tuple[Floats, Floats, Target]] = []
        for skin in dict.fromkeys(body.skin for body in bodies):
            own = [body for body in bodies if body.skin == skin and len(body.triangles)]
            if not own:
                continue
            corners = np.concatenate([body.vertices[body.triangles] for body in own])
            normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
            long = np.linalg.norm(normal, axis=1, keepdims=True)
            # Slivers have no direction to look in.
            good = long[:, 0] > 1e-3
            vertices = corners.reshape(-1, 3)
            aim = target(vertices, np.arange(len(vertices)).reshape(-1, 3))
            self.by_skin.append((corners[good].mean(axis=1), normal[good] / long[good], aim))

    def stay(self, by: Floats) -> bool:
        """Whether all of them lie on bodies of their skin once they are moved by a matrix (3, 3)."""
        for middle, normal, aim in self.by_skin:
            way = normal @ by.T
            begin = middle @ by.T + _OFF * way
            hits = aim.nearest(begin.astype(np.float32), (-way).astype(np.float32))
            if not ((hits.triangle >= 0) & (hits.distance <= 2.0 * _OFF)).all():
                return False
        return True


def _holds(bodies: _Bodies, points: LightPoints, by: Floats) -> bool:
    return _points_stay(points, by) and bodies.stay(by)


def _points_stay(points: LightPoints, by: Floats) -> bool:
    """Whether every light point, moved, is where one like it is."""
    alike = np.stack([points.beams, np.nan_to_num(points.lumens, nan=-1.0), points.kelvin], axis=1)
    centres, directions = points.centres @ by.T, points.directions @ by.T
    # The first by itself: most moves fail with it.
    for part in (np.s_[:1], *(np.s_[start : start + 256] for start in range(1, len(points), 256))):
        near = np.linalg.norm(centres[part, None] - points.centres[None], axis=2) <= _ALIKE
        near &= (directions[part] @ points.directions.T) > 0.9999
        near &= (np.abs(alike[part, None] - alike[None]) < 1e-6).all(axis=2)
        if not near.any(axis=1).all():
            return False
    return True
