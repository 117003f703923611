"""Light that falls on the lamp's matt faces by way of clear acrylic, caught there before eyes look.

A rim, a bore and a plate that leads light bring it to the wood beside and before them, above all to the wood that a
clear plate is glued to. Followed from an eye, such light would be come upon by luck alone; followed from the light
points to the eye, few ways get there. So it is followed from the light points as far as the first face that spreads
it, and kept there by small pieces of each triangle (photons on a map: H. W. Jensen, "Global illumination using photon
maps", EGWR 1996; pieces of known area instead of a search, so that none of it is lost at edges). What one level clear
plate brings is left to :mod:`stackview.spots.by_clear`.
"""

from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene
from stackview.light.colour import Colour
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.refraction import INDEX
from stackview.spots.at_faces import JoinsNothing, faces_work
from stackview.spots.faces import Does, Faces, optical_faces
from stackview.spots.light_choice import Emitters, set_out
from stackview.spots.ways import FacesMet, FaceWork, Going, begun, follow

_WAYS, _BATCH = 65_536, 32_768
_PIECE = 9.0
"""About so large are the pieces of a triangle [mm²]."""
_MOST = 32
"""A side of a triangle is cut into so many at most."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class CaughtLight:
    """Triangles (m,) of a lamp, and what falls on their pieces (k,) by clear acrylic. Read-only.

    The first pieces are the light points' own faces, each as a whole. first : (m,) each triangle's first piece, −1
    where such light is not known; sides : (m,) into how many its sides are cut; light : (k,) [cd/m²·sr], over n² where
    it arrives within acrylic, as luminance over n² is kept along ways; led : (k,) a light point that it came from.
    """

    first: Ints
    sides: Ints
    light: Singles
    led: Ints

    __repr__ = one_line

    def known(self, triangle: Ints, own: Ints) -> Yes:
        """On which triangles (n,) such light is known; ``own`` is the light point whose face each is, else −1."""
        within = triangle < len(self.first)
        return np.asarray((own >= 0) | (within & (self.first[np.where(within, triangle, 0)] >= 0)))

    def pieces(self, triangle: Ints, own: Ints, place: Singles) -> Whole:
        """The pieces at places (2, n) on triangles (n,) where it is known."""
        triangle = np.where(own >= 0, 0, triangle)
        sides = self.sides[triangle]
        u, v = np.clip(place, np.float32(0.0), np.float32(0.999999)) * sides
        i, j = u.astype(np.int64), v.astype(np.int64)
        piece = self.first[triangle] + 2 * (i * sides + j) + ((u - i) + (v - j) > 1.0)
        return np.where(own >= 0, own, piece).astype(np.int64)


def caught_light(
    scene: GlowScene, points: LightPoints, colour: Colour, emitters: Emitters
) -> CaughtLight | None:
    """Follow light of the lamp alone as far as it goes unspread; None where no face passes light so."""
    faces = optical_faces(scene, Room(), points, colour)
    if not faces.clear:
        return None
    areas = np.concatenate([_areas(body.vertices[body.triangles]) for body in scene.bodies])
    count = len(areas)
    keeps = (faces.does[:count] == Does.MATT) & (areas > 0.0)
    sides = np.clip(np.ceil(np.sqrt(areas / _PIECE)), 1, _MOST).astype(np.int32)
    # Two triangles to each square of a triangle's sides, half of which lie beyond it.
    needs = np.where(keeps, 2 * sides.astype(np.int64) ** 2, 0)
    own_faces = len(emitters)
    first = np.where(keeps, own_faces + np.cumsum(needs) - needs, -1).astype(np.int32)
    pieces = own_faces + int(needs.sum())
    caught = CaughtLight(first, sides, np.zeros(pieces, np.float32), np.zeros(pieces, np.int32))
    chance = np.random.Generator(np.random.SFC64([23, 1]))
    own = _Catching(faces, caught)
    work = faces_work(faces, own, chance, halve=False)
    onwards: dict[int, FaceWork] = {kind: work[kind] for kind in (Does.CLEAR, Does.OPAL, Does.GLOSSY)}
    flux = np.pi * float(emitters.luminance.astype(np.float64) @ emitters.area)
    for _ in range(_WAYS // _BATCH):
        own.led, at, travel = set_out(emitters, _BATCH, chance)
        weight = np.full(_BATCH, flux / _WAYS, np.float32)
        follow(faces, own, onwards, begun(at, travel, weight, np.arange(_BATCH, dtype=np.int32)), chance)
    piece_area = np.concatenate([emitters.area, np.repeat(areas / sides.astype(np.float64) ** 2, needs)])
    light = np.asarray(caught.light / piece_area, np.float32)
    for array in (first, sides, light, caught.led):
        array.setflags(write=False)
    return CaughtLight(first, sides, light, caught.led)


def _areas(corners: np.ndarray) -> np.ndarray:
    """Of triangles (m, 3, 3) [mm²]."""
    a, b, c = (corners[:, k] for k in range(3))
    return np.asarray(np.linalg.norm(np.cross(b - a, c - a), axis=1) / 2.0)


@dataclass(slots=True, eq=False)
class _Catching(JoinsNothing):
    """Lays down what comes unspread, by more than air and other than by one level plate."""

    faces: Faces
    caught: CaughtLight
    led: Ints = field(default_factory=lambda: np.zeros(0, np.int32))

    def come_upon(self, going: Going, met: FacesMet) -> None:
        """Lay down what comes to matt faces; what a face has spread goes no further."""
        own = going.plain & going.began_straight & ~going.by_a_plate
        led = self.faces.led[met.triangle]
        some = np.flatnonzero(own & self.caught.known(met.triangle, led))
        if len(some):
            piece = self.caught.pieces(met.triangle[some], led[some], met.place[:, some])
            within = np.where(going.within[some], np.float32(1.0 / INDEX**2), np.float32(1.0))
            np.add.at(self.caught.light, piece, going.weight[some] * within)
            self.caught.led[piece] = self.led[going.origin[some]]
        going.weight = np.where(going.plain, going.weight, np.float32(0.0))

    def after_first(self, going: Going) -> Going:
        """What air alone brings is joined."""
        return going.only(going.began_straight)
