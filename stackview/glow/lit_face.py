"""Where light points strike the level faces of a plate, with nothing in between but air and clear acrylic."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.glow.illuminance import lit, own_light
from stackview.light.points import LightPoints
from stackview.solids.rays import Target, target
from stackview.solids.solid import Face
from stackview.stack.placed import Placed

_STEPS = np.concatenate([[0.0], np.geomspace(0.2, 80.0, 27)])
"""How far along its direction a light point is asked where it strikes [mm]."""
_TRIED = 24
_AIR = 0.05
"""Rays to a face end this far before it [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class LitFace:
    """One level face of a plate: its height and direction, and the solids that may shade it."""

    plate: Placed
    height: float
    up: bool
    own: Target
    others: Target

    @property
    def normal(self) -> Floats:
        """Unit vector out of the face (3,)."""
        return np.array([0.0, 0.0, 1.0 if self.up else -1.0])

    def holds(self, places: Floats) -> NDArray[np.bool_]:
        """Whether the face reaches to places (n, 3) at its height."""
        start = np.asarray(places + self.normal, np.float32)
        down = np.broadcast_to(-self.normal, places.shape).astype(np.float32)
        return self.own.blocked(start, down, np.full(len(places), 1.5, np.float32))

    def clear_way(self, origins: Floats, places: Floats) -> NDArray[np.bool_]:
        """Whether nothing stands between origins (n, 3) and places (n, 3) on the face."""
        way = places + _AIR * self.normal - origins
        length = np.linalg.norm(way, axis=1)
        unit = way / np.maximum(length, 1e-9)[:, None]
        return ~self.others.blocked(
            origins.astype(np.float32), unit.astype(np.float32), length.astype(np.float32)
        )


def faces_lit(plate: Placed, placed: tuple[Placed, ...]) -> tuple[LitFace, LitFace]:
    """Top and underside of a plate, shaded by all that is opaque, sanded or opal."""
    shades = [part for part in placed if _shades(part)]
    vertices = [part.solid.vertices for part in shades]
    starts = np.cumsum([0, *map(len, vertices)])
    triangles = [part.solid.triangles + start for part, start in zip(shades, starts, strict=False)]
    others = target(
        np.concatenate(vertices or [np.zeros((0, 3))]), np.concatenate(triangles or [np.zeros((0, 3))])
    )
    solid = plate.solid
    found = []
    for face, up in ((Face.TOP, True), (Face.UNDERSIDE, False)):
        own = target(solid.vertices, solid.triangles[solid.faces == int(face)])
        found.append(LitFace(plate, plate.top if up else plate.underside, up, own, others))
    return found[0], found[1]


def _shades(part: Placed) -> bool:
    """Whether a part stops or spreads light; clear plates do neither, their slight bending left out."""
    return not part.is_cord and part.sort != "clear" and len(part.solid.triangles) > 0


def brightest(face: LitFace, points: LightPoints, lumens: Floats) -> Floats | None:
    """The place of the face (3,) that direct light strikes most; None where none does.

    Each light point is asked along its own direction for the place where it alone is brightest;
    the best of these are then asked exactly, with all light points and their shade.
    """
    places = _best_of_each(face, points, lumens)
    if not len(places):
        return None
    level = direct(face, points, lumens, places).sum(axis=0)
    return places[int(np.argmax(level))] if level.max() > 0.0 else None


def _best_of_each(face: LitFace, points: LightPoints, lumens: Floats) -> Floats:
    """The few places that single light points make brightest, were nothing in the way: (n, 3)."""
    side = (points.centres[:, 2] - face.height) * face.normal[2] > 1e-3
    who = np.flatnonzero(side)
    level = points.directions[who].copy()
    level[:, 2] = 0.0
    size = np.linalg.norm(level, axis=1, keepdims=True)
    ahead = np.where(size > 1e-6, level / np.maximum(size, 1e-9), 0.0)
    places = points.centres[who, None] + _STEPS[None, :, None] * ahead[:, None]
    places[..., 2] = face.height
    on = face.holds(places.reshape(-1, 3)).reshape(places.shape[:2])
    own = np.where(on, own_light(points, lumens, who, places, face.normal), 0.0)
    best = own.argmax(axis=1)
    rows = np.arange(len(who))
    reached = own[rows, best]
    order = np.argsort(-reached, kind="stable")
    order = order[reached[order] > 0.0]
    # The strongest, and a few from all over the rest: the strongest may all stand in shade.
    chosen = np.concatenate([order[:_TRIED], order[_TRIED :: max(1, len(order) // _TRIED)]])
    return np.asarray(places[chosen, best[chosen]])


def direct(face: LitFace, points: LightPoints, lumens: Floats, places: Floats) -> Floats:
    """Illuminance by each light point at places (m, 3) on the face, shade counted: (points, m) [lm/mm²]."""
    normals = np.broadcast_to(face.normal, places.shape)
    light = lit(points, lumens, places, normals)
    most = light.max(axis=0, keepdims=True)
    who, where = np.nonzero(light > 0.002 * most)
    starts = points.centres[who] + 1e-3 * points.directions[who]
    free = face.clear_way(starts, places[where])
    counted = np.zeros_like(light)
    counted[who[free], where[free]] = light[who[free], where[free]]
    return counted


def feet_of(face: LitFace, points: LightPoints, chosen: NDArray[np.int64]) -> Floats:
    """Where the chosen light points stand over the face, (n, 3), each place once."""
    feet = points.centres[chosen].copy()
    feet[:, 2] = face.height
    kept: list[Floats] = []
    for foot in feet:
        if all(float(np.hypot(*(foot - other)[:2])) > 1.0 for other in kept):
            kept.append(foot)
    return np.array(kept).reshape(-1, 3)


def feet_pitch(feet: Floats) -> float | None:
    """Middle distance from one foot to its nearest neighbour [mm]; None for one foot alone."""
    if len(feet) < 2:
        return None
    away = np.linalg.norm(feet[:, None] - feet[None], axis=2)
    np.fill_diagonal(away, np.inf)
    return float(np.median(away.min(axis=1)))


def towards_next(feet: Floats, place: Floats) -> Floats:
    """Level unit vector (3,) from the foot nearest to a place to that foot's nearest neighbour; two feet or more."""
    own = int(np.argmin(np.linalg.norm(feet - place, axis=1)))
    away = np.linalg.norm(feet - feet[own], axis=1)
    away[own] = np.inf
    step = feet[int(np.argmin(away))] - feet[own]
    return np.asarray(step / np.linalg.norm(step))
