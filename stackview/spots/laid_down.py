"""Light that the lamp's own ways lay down: on its opaque faces, out of its acrylic, and on the table.

The same ways as those of the light out (:mod:`stackview.spots.outwards`), told hit by hit.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Ints, Singles
from stackview.glow.flux import flux_of
from stackview.glow.scene import glow_scene
from stackview.light.colour import LUMINANCE, mean_light_colour
from stackview.light.layout import LightLayout
from stackview.spots.at_faces import faces_work
from stackview.spots.light_choice import set_out
from stackview.spots.outwards import FACE, OUT, Outwards, lit_alone
from stackview.spots.ways import FacesMet, Going, begun, follow
from stackview.stack.assembly import Stack

_BATCH = 32_768


@dataclass(frozen=True, slots=True, eq=False)
class LightHits:
    """Hits of one kind: part (n,) by number; at, normal (n, 3) [mm]; light (n, 3) [cd/m²·mm²·sr]. Read-only.

    Light is told by channel, and weighed by :data:`stackview.light.colour.LUMINANCE`. Divided by an area [mm²] it is
    the light on it, or from it, to all sides; over π its luminance [cd/m²].
    """

    part: Ints
    at: Singles
    normal: Singles
    light: Singles


Taker = Callable[[LightHits], None]


def follow_laid(
    stack: Stack, light: LightLayout, *, ways: int, on_walls: Taker, from_acrylic: Taker, leaving: Taker
) -> None:
    """Follow so many ways; hits are handed over as they come, for there are many.

    on_walls : light that falls on opaque parts, with their outward normals; from_acrylic : light that goes out of
    acrylic, or is thrown back from it, into air; leaving : ways that leave the lamp, from where they were last,
    ``normal`` being their direction, without what comes straight from light points.
    """
    flux = flux_of(light)
    if not len(light.points) or flux.total <= 0.0:
        return
    colour = mean_light_colour(light.points.kelvin, flux.lumens)
    lit = lit_alone(glow_scene(stack, light, flux), light.points, colour)
    opaque = np.array([part.opaque for part in stack.placed])
    chance = np.random.Generator(np.random.SFC64([17, 1]))
    total = np.pi * float(lit.emitters.luminance.astype(np.float64) @ lit.emitters.area)
    batches = -(-ways // _BATCH)
    for _ in range(batches):
        _, at, travel = set_out(lit.emitters, _BATCH, chance)
        weight = np.full(_BATCH, total / (batches * _BATCH), np.float32)
        going = begun(at, travel, weight, np.arange(_BATCH, dtype=np.int32))
        ends = _Laying(
            lit,
            np.full(_BATCH, FACE, np.int32),
            going.at.copy(),
            opaque=opaque,
            takers=(on_walls, from_acrylic, leaving),
            facing=np.zeros((3, _BATCH), np.float32),
            colour=np.asarray(np.asarray(colour) / (np.asarray(colour) @ LUMINANCE), np.float32),
        )
        follow(lit.faces, ends, faces_work(lit.faces, ends, chance, halve=False), going, chance)


@dataclass(slots=True, eq=False)
class _Laying(Outwards):
    """Hands over every hit; keeps which way the face looks that each way met last."""

    opaque: np.ndarray = field(default_factory=lambda: np.zeros(0, np.bool_))
    takers: tuple[Taker, Taker, Taker] = (print, print, print)
    facing: Singles = field(default_factory=lambda: np.zeros((3, 0), np.float32))
    colour: Singles = field(default_factory=lambda: np.ones(3, np.float32))
    """Of the lamp's light, at luminance 1."""

    def come_upon(self, going: Going, met: FacesMet) -> None:
        """Hand over what falls on walls, and what came here from acrylic through air."""
        walls, acrylic, leaving = self.takers
        part, way = self.lit.faces.part[met.triangle], going.origin
        last, facing = self.last[way], self.facing[:, way]
        light = (going.weight * going.colour).T * self.colour
        on = np.flatnonzero((part >= 0) & self.opaque[np.maximum(part, 0)] & ~met.inside)
        walls(LightHits(part[on], going.at[:, on].T, met.flat[:, on].T, light[on]))
        outwards = (facing * going.travel).sum(axis=0) > 0.0
        came = np.flatnonzero((last >= 0) & ~self.opaque[np.maximum(last, 0)] & outwards)
        acrylic(LightHits(last[came], self.at[:, way[came]].T, facing[:, came].T, light[came]))
        gone = np.flatnonzero((part == OUT) & (last != FACE))
        leaving(LightHits(last[gone], self.at[:, way[gone]].T, going.travel[:, gone].T, light[gone]))
        within = np.flatnonzero(part != OUT)
        self.last[way[within]], self.at[:, way[within]] = part[within], going.at[:, within]
        self.facing[:, way[within]] = met.flat[:, within]
