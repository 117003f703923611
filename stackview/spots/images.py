"""Where light points appear to be from within the sanded acrylic before them, and which of them matter where."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Ints, Singles, Whole
from stackview.one_line import one_line
from stackview.sight.refraction import INDEX, dot
from stackview.spots.faces import Does, Faces
from stackview.spots.light_choice import Emitters, LightChoice

_NEAR = 6
"""Light points that are looked for from one place: those at the height of a plate are few."""
_AHEAD = np.float32(0.3)
"""Past a light point's own face [mm]."""
_FACE, _SPREAD = np.float32(0.5), np.float32(0.35)
"""Width of a light point's image: shares of its face's side, and of its distance behind the face times the roughness."""
_USUAL_ROUGHNESS = np.float32(0.3)
_LEAST = np.float32(1e-3)
_FLATTEST = np.float32(0.2)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Images:
    """Light points (k,) as sanded acrylic shows them from within: all of it is a guess, that ways are aimed by. Read-only.

    at : (3, k) where each appears [mm]; width : (k,) of what is seen of it [mm]; before : (k,) how far before it the
    acrylic begins [mm]; directions : (3, k) and power : (k,) as those of the light points; near : (cubes, m) those
    that matter most within each cube of the choice's grid; low, high : (faces,) heights from and to which the
    part of each face reaches [mm].
    """

    at: Singles
    width: Singles
    before: Singles
    directions: Singles
    power: Singles
    near: Ints
    low: Singles
    high: Singles

    __repr__ = one_line

    def worth(self, to: Singles, far: Singles, led: Whole | Ints, triangle: Ints, height: Singles) -> Singles:
        """What light points may give to places, each seen along ``to`` (3, ...) and ``far`` away: I·cosθ/r².

        Where the line would leave acrylic above or below its part, it does not get there, and counts little.

        Parameters
        ----------
        led, triangle, height : number of the light point, face that the place lies behind, its height [mm]
        """
        cosine = np.maximum(-dot(to, self.directions[:, led]), np.float32(0.0))
        behind = np.float32(INDEX) * self.before[led] / np.maximum(cosine, _FLATTEST)
        level = height + to[2] * np.maximum(far - behind, np.float32(0.0))
        out = np.maximum(np.maximum(self.low[triangle] - level, level - self.high[triangle]), np.float32(0.0))
        return np.asarray(self.power[led] * cosine / (far * far) * _by_height(2.0 * out / self.width[led]))


def images_of(faces: Faces, emitters: Emitters, choice: LightChoice) -> Images:
    """Look along every light point's axis for the acrylic before it, which shows it at n times the distance."""
    begin = np.ascontiguousarray((emitters.centres + _AHEAD * emitters.directions).T)
    hits = faces.target.nearest(begin, np.ascontiguousarray(emitters.directions.T))
    met = np.maximum(hits.triangle, 0)
    shown = (hits.triangle >= 0) & (dot(faces.flat[:, met], emitters.directions) < 0.0)
    shown &= faces.does[met] == Does.SANDED
    usual = np.median(hits.distance[shown]) if shown.any() else 0.0
    before = _AHEAD + np.where(shown, hits.distance, usual).astype(np.float32)
    alpha = np.where(shown, faces.rough[met], _USUAL_ROUGHNESS)
    width = np.hypot(_FACE * np.sqrt(emitters.area), _SPREAD * alpha * before)
    at = (emitters.centres - np.float32(INDEX - 1.0) * before * emitters.directions).astype(np.float32)
    low, high = _heights(faces)
    sanded = (faces.does == Does.SANDED) & (faces.part >= 0)
    slabs = np.unique(np.stack([low[sanded], high[sanded]], axis=1), axis=0)
    own = Images(
        at, width, before, emitters.directions, emitters.power, np.zeros((0, 0), np.int32), low, high
    )
    return Images(
        at, width, before, emitters.directions, emitters.power, _nearest(choice, own, slabs), low, high
    )


def _by_height(out: Singles) -> Singles:
    """What counts of a line that misses a part by so many widths."""
    return np.asarray(np.maximum((1.0 + out * out) ** -2, _LEAST), np.float32)


def _heights(faces: Faces) -> tuple[Singles, Singles]:
    """From where to where the part of each face reaches [mm]."""
    part = faces.part - faces.part.min()
    low = np.full(part.max() + 1, np.inf, np.float32)
    high = -low
    np.minimum.at(low, part, faces.heights.min(axis=0))
    np.maximum.at(high, part, faces.heights.max(axis=0))
    return low[part], high[part]


def _nearest(choice: LightChoice, images: Images, slabs: Floats | Singles) -> Ints:
    """The light points (cubes, m) that matter most in each cube; in those without sanded acrylic any ones."""
    cubes, keep = int(np.prod(choice.shape)), min(_NEAR, len(images.power))
    near = np.zeros((cubes, keep), np.int32)
    near[:] = np.arange(keep)
    middle = choice.low[:, None] + (np.indices(choice.shape).reshape(3, -1) + 0.5) * choice.step
    low, high = np.full(cubes, np.inf), np.full(cubes, -np.inf)
    for bottom, top in slabs:
        over = np.abs(middle[2] - (bottom + top) / 2.0) < (choice.step + top - bottom) / 2.0
        low[over], high[over] = np.minimum(low[over], bottom), np.maximum(high[over], top)
    own = np.flatnonzero(high > low)
    for start in range(0, len(own), 1024):
        some = own[start : start + 1024]
        at = middle[:, some]
        at[2] = np.clip(at[2], low[some], high[some])
        to = images.at[:, None] - at[:, :, None].astype(np.float32)
        far = np.sqrt((to**2).sum(axis=0) + np.float32(0.1 * choice.step**2))
        to /= far
        cosine = np.maximum(-(to * images.directions[:, None]).sum(axis=0), 0.0)
        behind = np.float32(INDEX) * images.before / np.maximum(cosine, _FLATTEST)
        level = at[2][:, None] + to[2] * np.maximum(far - behind, 0.0)
        out = np.maximum(np.maximum(low[some][:, None] - level, level - high[some][:, None]), 0.0)
        worth = images.power * (cosine + _LEAST) / far**2 * _by_height(out / np.float32(3.0))
        near[some] = np.argpartition(-worth, keep - 1, axis=1)[:, :keep]
    return near
