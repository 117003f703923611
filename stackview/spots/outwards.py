"""Light followed out of the lamp: where each way that leaves it goes, and by which part it left.

Ways begin at the light points and end on a black sphere far out, as in a goniophotometer's dark room (CIE 121
measures a luminaire alone). Nothing is absorbed by chance but by what absorbs, so that a way that leaves carries
the light that it began with, but for the colour of what it met.
"""

from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Floats, Ints, Singles
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, SkinFaces
from stackview.glow.skins import Matt
from stackview.light.colour import Colour
from stackview.light.points import LightPoints
from stackview.spots.at_faces import JoinsNothing, faces_work
from stackview.spots.faces import Faces, optical_faces
from stackview.spots.light_choice import Emitters, emitters_of, set_out
from stackview.spots.ways import FacesMet, Going, begun, follow

OUT, FACE = -7, -9
"""Number of the sphere far out, and of light that met nothing since a light-giving face."""
_FAR = 1e5
"""Half the side of the box far out [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Left:
    """Ways that left: lumens (n,); last : (n,) number of the part met last, or :data:`FACE`; and lines (3, n).

    at : where each was last [mm]; travel : unit direction.
    """

    lumens: Floats
    last: Ints
    at: Singles
    travel: Singles


@dataclass(frozen=True, slots=True, eq=False)
class LampInTheDark:
    """A lamp alone in the dark, ready for its light to be followed out."""

    faces: Faces
    emitters: Emitters


def lit_alone(scene: GlowScene, points: LightPoints, colour: Colour) -> LampInTheDark:
    """Make a lamp ready; ``colour`` is that of its light."""
    faces = optical_faces(scene, Room((_far_out(),)), points, colour)
    return LampInTheDark(faces, emitters_of(scene, points))


def left(lit: LampInTheDark, ways: int, chance: np.random.Generator) -> Left:
    """Follow so many ways out of a lamp."""
    _, at, travel = set_out(lit.emitters, ways, chance)
    flux = np.pi * float(lit.emitters.luminance.astype(np.float64) @ lit.emitters.area)
    # [cd/m²·mm²·sr], shared evenly.
    weight = np.full(ways, flux / ways, np.float32)
    going = begun(at, travel, weight, np.arange(ways, dtype=np.int32))
    own = Outwards(lit, np.full(ways, FACE, np.int32), going.at.copy())
    follow(lit.faces, own, faces_work(lit.faces, own, chance, halve=False), going, chance)
    if not own.found:
        none = np.zeros((3, 0), np.float32)
        return Left(np.zeros(0), np.zeros(0, np.int32), none, none)
    return Left(
        *(np.concatenate([getattr(one, name) for one in own.found], axis=-1) for name in Left.__slots__)
    )


_BLACK = Matt((0.0, 0.0, 0.0))


def _far_out() -> SkinFaces:
    """A black box far out, looking inwards."""
    ends = np.array([[x, y, z] for x in (-1.0, 1.0) for y in (-1.0, 1.0) for z in (-1.0, 1.0)]) * _FAR
    sides = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    quads = ends[np.array(sides)]
    flat = np.cross(quads[:, 1] - quads[:, 0], quads[:, 3] - quads[:, 0])
    flat *= -np.sign((flat * quads.mean(axis=1)).sum(axis=1, keepdims=True))
    flat /= np.linalg.norm(flat, axis=1, keepdims=True)
    first = 4 * np.arange(6)[:, None]
    inwards = np.concatenate([first + np.array([0, 1, 2]), first + np.array([0, 2, 3])])
    return SkinFaces("far out", OUT, _BLACK, quads.reshape(-1, 3), np.repeat(flat, 4, axis=0), inwards)


@dataclass(slots=True, eq=False)
class Outwards(JoinsNothing):
    """Keeps for every way where it was last; it joins ways to nothing."""

    lit: LampInTheDark
    last: Ints
    at: Singles
    found: list[Left] = field(default_factory=list)

    def come_upon(self, going: Going, met: FacesMet) -> None:
        """Take in where ways were last, and those that are out."""
        part = self.lit.faces.part[met.triangle]
        way = going.origin
        out = np.flatnonzero(part == OUT)
        if len(out):
            own = way[out]
            # Weights are in cd·m⁻²·mm²·sr.
            lumens = going.weight[out].astype(np.float64) * 1e-6
            self.found.append(Left(lumens, self.last[own], self.at[:, own], going.travel[:, out]))
        within = np.flatnonzero(part != OUT)
        own = way[within]
        self.last[own], self.at[:, own] = part[within], going.at[:, within]

    def after_first(self, going: Going) -> Going:
        """All ways go on."""
        return going
