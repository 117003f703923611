"""Which light point a way is joined to: chosen by how much light it may send there.

From a grid of cubes a few candidates are drawn, among these one by what it truly may give
(resampled importance: J. Talbot, D. Cline, P. Egbert, "Importance resampling for global
illumination", EGSR 2005). Each draw is weighted by its chance, so that nothing is left out on the mean.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Ints, Singles, Whole
from stackview.glow.scene import GlowScene
from stackview.light.colour import LUMINANCE
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.refraction import dot
from stackview.spots.at_faces import cosine_about
from stackview.spots.faces import owners

_EVENLY = np.float32(0.1)
"""Share of the candidates that is drawn from all light points alike."""
_SLOTS = 64
"""Steps in which a cube's chances are kept."""
_DARK = 1e-9
"""Light points that give nothing are drawn as if they gave so much, where no other gives more."""
_CUBES, _ENTRIES = 8_000, 2_000_000
"""Most cubes, and most pairs of cube and light point."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Emitters:
    """Light points (k,) with the triangles that shine, of each (k, t). Read-only.

    centres, directions : (3, k); power : (k,) axial intensity of the whole [cd·m⁻²·mm²];
    corner, first, second : (3, k, t) a triangle's corner and its two sides from there;
    normals : (3, k, t); upto : (k, t) share of the area up to each triangle; area : (k,) [mm²];
    luminance : (k,) [cd/m²].
    """

    centres: Singles
    directions: Singles
    power: Singles
    corner: Singles
    first: Singles
    second: Singles
    normals: Singles
    upto: Singles
    area: Singles
    luminance: Singles

    __repr__ = one_line

    def __len__(self) -> int:
        return int(self.centres.shape[1])

    def place(self, which: Whole, chance: np.random.Generator) -> tuple[Singles, Singles]:
        """A place (3, n) on each one's shining face, evenly over its area, and the face's normal there."""
        triangle = np.zeros(len(which), np.int64)
        if self.upto.shape[1] > 1:
            drawn = chance.random(len(which), np.float32)
            triangle = (self.upto[which] < drawn[:, None]).sum(axis=1)
            triangle = np.minimum(triangle, self.upto.shape[1] - 1)
        a, b = chance.random(len(which), np.float32), chance.random(len(which), np.float32)
        over = a + b > 1.0
        a, b = np.where(over, 1.0 - a, a), np.where(over, 1.0 - b, b)
        at = (slice(None), which, triangle)
        return self.corner[at] + a * self.first[at] + b * self.second[at], self.normals[at]

    def shining(
        self, which: Whole, begin: Singles, chance: np.random.Generator
    ) -> tuple[Singles, Singles, Singles]:
        """Seen from places (3, n), a place on each one's face: direction, how far [mm], and luminance · solid angle.

        The last, L·A·cosθ/r², is what it gives [cd/m²·sr] if nothing stands between.
        """
        place, normal = self.place(which, chance)
        to = place - begin
        far = np.sqrt(np.maximum(dot(to, to), np.float32(1e-6)))
        to = np.asarray(to / far, np.float32)
        cosine = np.maximum(-dot(to, normal), np.float32(0.0))
        return to, far, self.luminance[which] * self.area[which] * cosine / (far * far)


def emitters_of(scene: GlowScene, points: LightPoints) -> Emitters:
    """Gather what shines, light point by light point."""
    count = len(points)
    owned: list[list[tuple[np.ndarray, float]]] = [[] for _ in range(count)]
    for light in scene.lights:
        level = float(np.asarray(light.luminance) @ LUMINANCE)
        for owner, corners in zip(owners(light, points), light.vertices[light.triangles], strict=True):
            owned[owner].append((corners, level))
    most = max((len(own) for own in owned), default=1)
    shape = np.zeros((count, most, 3, 3))
    levels = np.zeros(count)
    for index, own in enumerate(owned):
        for place, (corners, luminance) in enumerate(own):
            shape[index, place], levels[index] = corners, luminance
    first, second = shape[:, :, 1] - shape[:, :, 0], shape[:, :, 2] - shape[:, :, 0]
    normal = np.cross(first, second)
    double = np.linalg.norm(normal, axis=2)
    upto = np.cumsum(double, axis=1)
    area = upto[:, -1] / 2.0
    return Emitters(
        centres=_columns(points.centres),
        directions=_columns(points.directions),
        power=(
            levels * np.maximum((normal * points.directions[:, None]).sum(axis=2), 0.0).sum(axis=1) / 2.0
        ).astype(np.float32),
        corner=_columns(shape[:, :, 0]),
        first=_columns(first),
        second=_columns(second),
        normals=_columns(normal / np.maximum(double, 1e-12)[..., None]),
        upto=(upto / np.maximum(upto[:, -1:], 1e-12)).astype(np.float32),
        area=area.astype(np.float32),
        luminance=levels.astype(np.float32),
    )


def _columns(values: np.ndarray) -> Singles:
    return np.ascontiguousarray(np.moveaxis(values, -1, 0), np.float32)


def set_out(emitters: Emitters, ways: int, chance: np.random.Generator) -> tuple[Ints, Singles, Singles]:
    """Ways that begin on the light points, each with the same share of all their light.

    Returns the light point of each (ways,), where it begins [mm] and where it goes (3, ways).
    """
    power = (emitters.luminance * emitters.area).astype(np.float64)
    upto = np.cumsum(power)
    led = np.searchsorted(upto / max(upto[-1], _DARK), (np.arange(ways) + chance.random(ways)) / ways)
    led = np.minimum(led, len(emitters) - 1)
    place, normal = emitters.place(led, chance)
    at = place + np.float32(0.001) * normal
    return led.astype(np.int32), at, cosine_about(normal, chance)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class LightChoice:
    """A grid of cubes over the lamp, each with the light points that may matter there. Read-only.

    slots : (cubes, 64) light points, as often as their chance; times : (cubes, k) how often each stands there.
    """

    low: Singles
    step: float
    shape: tuple[int, int, int]
    slots: Ints
    times: np.ndarray

    __repr__ = one_line

    def cube(self, at: Singles) -> Whole:
        """Number of the cube of each place (3, n)."""
        cube = np.zeros(at.shape[1], np.int64)
        for axis in range(3):
            index = ((at[axis] - self.low[axis]) * np.float32(1.0 / self.step)).astype(np.int64)
            cube = cube * self.shape[axis] + np.minimum(np.maximum(index, 0), self.shape[axis] - 1)
        return cube

    def drawn(self, cube: Whole, tries: int, chance: np.random.Generator) -> tuple[Whole, Singles]:
        """So many light points (tries, n) for places in each of the cubes (n,), and the chance with which each was drawn."""
        lights, count = self.times.shape[1], len(cube)
        drawn = chance.random((tries, count), np.float32)
        # One number does for both: what is above the even share is spread over the slots.
        slot = ((drawn - _EVENLY) * np.float32(_SLOTS / (1.0 - _EVENLY))).astype(np.int64)
        which = self.slots[cube, np.minimum(np.maximum(slot, 0), _SLOTS - 1)].astype(np.int64)
        any_one = (drawn * (np.float32(lights) / _EVENLY)).astype(np.int64)
        which = np.where(drawn < _EVENLY, np.minimum(any_one, lights - 1), which)
        share = self.times[cube, which].astype(np.float32) / np.float32(_SLOTS)
        return which, (1.0 - _EVENLY) * share + _EVENLY / np.float32(lights)


def light_choice(emitters: Emitters, low: Floats, high: Floats) -> LightChoice:
    """The grid over a box [mm], for places in and near it."""
    count = len(emitters)
    cubes = max(8, min(_CUBES, _ENTRIES // count)) if count > 1 else 1
    extent = np.maximum(high - low, 1.0)
    step = max(float(np.cbrt(extent.prod() / cubes)), 3.0)
    shape = tuple(int(np.ceil(side / step)) for side in extent)
    middles = np.stack(np.meshgrid(*(np.arange(side) + 0.5 for side in shape), indexing="ij"), axis=-1)
    middles = middles.reshape(-1, 3) * step + low
    slots = np.empty((len(middles), _SLOTS), np.int32)
    times = np.zeros((len(middles), count), np.uint8)
    steps = (np.arange(_SLOTS) + 0.5) / _SLOTS
    for start in range(0, len(middles), 2048):
        may = _may_give(emitters, middles[start : start + 2048], step)
        upto = np.cumsum(may, axis=1)
        upto /= upto[:, -1:]
        rows = np.arange(len(may))[:, None]
        found = np.searchsorted((upto + rows).ravel(), (steps + rows).ravel()).reshape(len(may), _SLOTS)
        found = np.minimum(found - rows * count, count - 1)
        slots[start : start + 2048] = found
        np.add.at(times, (start + np.repeat(rows, _SLOTS, axis=1), found), 1)
    return LightChoice(low.astype(np.float32), step, (shape[0], shape[1], shape[2]), slots, times)


def _may_give(emitters: Emitters, places: Floats, step: float) -> Floats:
    """About what each light point may send to a cube: I·cosθ/r², both softened by the cube's size."""
    soft = 0.6 * step
    away = places[:, :, None] - emitters.centres[None].astype(np.float64)
    square = (away**2).sum(axis=1) + soft**2
    length = np.sqrt(square)
    cosine = (away * emitters.directions[None]).sum(axis=1) / length + soft / length
    power = np.maximum(emitters.power, np.float32(_DARK))
    return np.asarray(power * (np.clip(cosine, 0.0, 1.0) + 1e-3) / square)
