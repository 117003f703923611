"""Ways at a face from where they may go on within acrylic, and how densely it sends them there; a face's own axes."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.glow.microsurface import first_facet_towards, walked
from stackview.sight.refraction import dot

OFF_A_FACE = np.float32(0.002)
"""How far off a face a way goes on [mm]; faces that touch are parted by ten times that."""
_ROUGHENED, _MOST_ROUGHENED = np.float32(1.5), np.float32(0.6)
FaceAxes = tuple[Singles, Singles, Singles]
"""Two directions (3, n) square to normals, and these."""
_ONE = np.float32(1.0)
_BY_SEVERAL = np.float32(0.01)
"""Density [1/sr] with which several micro-facets are taken to throw light anywhere. Where it was 0, ways that had gone
there were counted whole, and the lines that look for the same light too: 3 % of a plate's light at a roughness of 0.45."""


def roughened(alpha: Singles) -> Singles:
    """How rough (n,) sanded faces are to ways past a matt face.

    No light is lost, and what falls on matt faces through acrylic is spread somewhat wider, where narrow lobes would
    bring it by rare bright ways (A. Kaplanyan, C. Dachsbacher, "Path space regularization for holistic and robust light
    transport", Computer Graphics Forum 32(2), 2013). In proportion, for a rougher plate throws more back: as rough as
    0.6 whatever they were, plates were told 5 % too bright at a roughness of 0.3, and 9 % at 0.1.
    """
    return np.asarray(np.maximum(alpha, np.minimum(_ROUGHENED * alpha, _MOST_ROUGHENED)))


class Inwards(Protocol):
    """Ways (n,) that may go on within acrylic."""

    @property
    def at(self) -> Singles:
        """(3, n) just within [mm]."""

    @property
    def frame(self) -> FaceAxes:
        """The face's axes."""

    @property
    def triangle(self) -> Ints:
        """(n,) of the face."""

    @property
    def density(self) -> Singles:
        """(n,) [1/sr], about that with which they go where they go; 0 for those that go on in air."""

    def about(self, way: Singles, wider: Singles | float = 0.0) -> Singles:
        """About the density [1/sr] with which ways go along (3, ..., n), in the frame; by a lobe that much wider."""

    def exactly(self, way: Singles, chance: np.random.Generator) -> Singles:
        """The same as it is on the mean, by chance; ``way`` (3, n)."""

    def only(self, which: Whole | Ints) -> "Inwards":
        """Some of the ways."""


@dataclass(frozen=True, slots=True, eq=False)
class OffSanded:
    """Ways that pass a sanded face, or are thrown back by it from inside.

    seen : (3, n) whence they came, in the frame; inside : (n,) whether from inside; alpha : (n,) roughness.
    """

    at: Singles
    frame: FaceAxes
    triangle: Ints
    density: Singles
    seen: Singles
    inside: Yes
    alpha: Singles

    def about(self, way: Singles, wider: Singles | float = 0.0) -> Singles:
        """By one micro-facet alone, and a little everywhere: several throw light where none does by itself."""
        alpha = np.asarray(np.hypot(self.alpha, wider), np.float32)
        seen = self.seen if way.ndim == 2 else self.seen[:, None]
        return first_facet_towards(seen, way, self.inside, alpha, into=True) + _BY_SEVERAL

    def exactly(self, way: Singles, chance: np.random.Generator) -> Singles:
        """By a walk with all its bounces."""
        return walked(-self.seen, self.inside, self.alpha, chance, way, into=True).aimed

    def only(self, which: Whole | Ints) -> "OffSanded":
        """Some of the ways."""
        x, y, z = (axis.take(which, axis=1) for axis in self.frame)
        return OffSanded(
            self.at.take(which, axis=1),
            (x, y, z),
            self.triangle[which],
            self.density[which],
            self.seen.take(which, axis=1),
            self.inside[which],
            self.alpha[which],
        )


@dataclass(frozen=True, slots=True, eq=False)
class OffMatt:
    """Ways that a matt face within acrylic throws back, wood that a plate is glued to: by the cosine.

    back : (n,) share that it throws back; lives : (n,) share of the ways that go on.
    """

    at: Singles
    frame: FaceAxes
    triangle: Ints
    density: Singles
    back: Singles
    lives: Singles

    def about(self, way: Singles, _: Singles | float = 0.0) -> Singles:
        """By the cosine, which is wide as it is."""
        return np.asarray(self.lives * _by_cosine(way), np.float32)

    def exactly(self, way: Singles, _: np.random.Generator) -> Singles:
        """By Lambert's law; nothing of it is chance."""
        return np.asarray(self.back * _by_cosine(way), np.float32)

    def only(self, which: Whole | Ints) -> "OffMatt":
        """Some of the ways."""
        x, y, z = (axis.take(which, axis=1) for axis in self.frame)
        return OffMatt(
            self.at.take(which, axis=1),
            (x, y, z),
            self.triangle[which],
            self.density[which],
            self.back[which],
            self.lives[which],
        )


def _by_cosine(way: Singles) -> Singles:
    return np.asarray(np.maximum(way[2], np.float32(0.0)) * np.float32(1.0 / np.pi), np.float32)


def frame_of(normal: Singles) -> FaceAxes:
    """Two directions square to normals (3, n), and these (T. Duff et al., JCGT 6(1), 2017)."""
    x, y, z = normal
    sign = np.where(z >= 0.0, _ONE, -_ONE)
    a = -1.0 / (sign + z)
    b = x * y * a
    return (
        np.stack([1.0 + sign * x * x * a, sign * b, -sign * x]),
        np.stack([b, sign + y * y * a, -y]),
        normal,
    )


def into(frame: FaceAxes, way: Singles) -> Singles:
    """Directions (3, n) by a frame's axes."""
    own = np.empty(way.shape, np.float32)
    for place, axis in enumerate(frame):
        own[place] = dot(axis, way)
    return own


def out_of(frame: FaceAxes, way: Singles) -> Singles:
    """The directions (3, n) that :func:`into` was given."""
    return np.asarray(frame[0] * way[0] + frame[1] * way[1] + frame[2] * way[2])
