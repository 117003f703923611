"""Lamp and room as plain arrays, one entry a triangle: what light followed with Embree asks of each face."""

from dataclasses import dataclass
from enum import IntEnum
from typing import assert_never

import numpy as np

from stackview.arrays import Floats, Ints, Singles, Yes
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, Shining
from stackview.glow.skins import Clear, Matt, Metal, Mirror, Opal, Sanded, Skin
from stackview.light.colour import LUMINANCE, Colour
from stackview.light.points import LightPoints
from stackview.solids.rays import Target, target

_UPRIGHT, _LEVEL = 1.0 - 1e-6, 1e-3
"""A face is level whose normals are so upright and whose corners differ by no more [mm]."""


class Does(IntEnum):
    """What a face does to light."""

    MATT = 0
    SANDED = 1
    CLEAR = 2
    OPAL = 3
    GLOSSY = 4
    """Metal and mirrors."""


@dataclass(frozen=True, slots=True, eq=False)
class Faces:
    """Triangles (m,) of everything that light meets. Read-only.

    heights : (3, m) of the corners [mm]; flat : (3, m) outward normals;
    bent : (3, 3, m) normals at the three corners, which curves share;
    does : (m,) of :class:`Does`; rough : (m,) width of micro-facets;
    back, through, straight : (m,) shares thrown back spread, passed spread, and passed unspread;
    tint : (3, m) what a coloured face throws back by channel, over ``back``;
    light : (3,) share of luminance that each channel of the lamp's light has;
    part : (m,) number of the placed part, −1 for what is none; led : (m,) light point whose face it is, or −1;
    level : (m,) whether it is of the clear top or underside of a plate.
    """

    target: Target
    heights: Singles
    flat: Singles
    bent: Singles
    does: Ints
    rough: Singles
    back: Singles
    through: Singles
    straight: Singles
    tint: Singles
    light: Singles
    part: Ints
    led: Ints
    level: Yes

    def __post_init__(self) -> None:
        for name in self.__slots__:
            if name != "target":
                getattr(self, name).setflags(write=False)

    @property
    def unspread(self) -> bool:
        """Whether any face passes light unspread, or mirrors it."""
        mirrors = (self.does == Does.GLOSSY) & (self.rough <= 0.0)
        return bool((self.does == Does.CLEAR).any() or (self.straight > 0.0).any() or mirrors.any())

    @property
    def sanded(self) -> bool:
        """Whether any face is sanded."""
        return bool((self.does == Does.SANDED).any())


def optical_faces(scene: GlowScene, room: Room, points: LightPoints, colour: Colour) -> Faces:
    """Join lamp and room. ``colour`` is that of the light.

    ``back`` is what a face gives back of that light, as if it were grey; light that has met coloured faces already
    meets them with their ``tint``, for wood gives back more of what wood has thrown.
    """
    corners, triangles, normals = [], [], []
    optics: list[tuple[int, float, float, float, float]] = []
    tints, count, part, led = [], [], [], []
    start = 0
    for body in (*scene.bodies, *room.bodies):
        corners.append(body.vertices)
        triangles.append(body.triangles + start)
        normals.append(body.normals)
        start += len(body.vertices)
        optics.append(_optics(body.skin, colour))
        tints.append(_tint(body.skin, colour))
        count.append(len(body.triangles))
        part.append(np.full(len(body.triangles), body.part, np.int32))
        led.append(np.full(len(body.triangles), -1, np.int32))
    for light in scene.lights:
        flat = _normals(light.vertices, light.triangles)
        own = light.vertices[light.triangles].reshape(-1, 3)
        corners.append(own)
        triangles.append(np.arange(len(own)).reshape(-1, 3) + start)
        normals.append(np.repeat(flat, 3, axis=0))
        start += len(own)
        optics.append(_optics(Matt(light.reflectance), colour))
        tints.append(_tint(Matt(light.reflectance), colour))
        count.append(len(light.triangles))
        part.append(np.full(len(light.triangles), -1, np.int32))
        led.append(owners(light, points))
    vertices, faces = np.concatenate(corners), np.concatenate(triangles)
    shared = np.concatenate(normals)
    columns = np.repeat(np.array(optics, np.float64).reshape(-1, 5), count, axis=0).T
    shares = np.asarray(colour) * LUMINANCE
    does, parts = columns[0].astype(np.int32), np.concatenate(part)
    return Faces(
        target=target(vertices, faces),
        heights=np.ascontiguousarray(vertices[faces, 2].T, np.float32),
        flat=np.ascontiguousarray(_normals(vertices, faces).T, np.float32),
        bent=np.ascontiguousarray(shared[faces].transpose(2, 1, 0), np.float32),
        does=does,
        rough=columns[1].astype(np.float32),
        back=columns[2].astype(np.float32),
        through=columns[3].astype(np.float32),
        straight=columns[4].astype(np.float32),
        tint=np.repeat(np.array(tints, np.float32).reshape(-1, 3), count, axis=0).T.copy(),
        light=np.asarray(shares / shares.sum(), np.float32),
        part=parts,
        led=np.concatenate(led),
        level=_level(vertices[faces, 2], shared[faces][..., 2], does == Does.CLEAR, parts),
    )


def _level(heights: Floats, upright: Floats, clear: Yes, part: Ints) -> Yes:
    """Which clear triangles (m,) lie level at the greatest or the least height that clear faces of their part have.

    heights, upright : (m, 3) of their corners [mm], and the normals there by their z.
    """
    found = np.zeros(len(part), np.bool_)
    lies = clear & (np.abs(upright) > _UPRIGHT).all(axis=1) & (np.ptp(heights, axis=1) < _LEVEL)
    for own in (lies & (part == number) for number in np.unique(part[lies])):
        middle = heights.mean(axis=1)
        for end in (middle[own].min(), middle[own].max()):
            found |= own & (np.abs(middle - end) < _LEVEL)
    return found


def owners(light: Shining, points: LightPoints) -> Ints:
    """Which light point each shining triangle belongs to: the nearest."""
    middles = light.vertices[light.triangles].mean(axis=1)
    found = np.empty(len(middles), np.int32)
    for start in range(0, len(middles), 1024):
        away = middles[start : start + 1024, None] - points.centres[None]
        found[start : start + 1024] = (away**2).sum(axis=2).argmin(axis=1)
    return found


def grey(colour: Colour, light: Colour) -> float:
    """Share of a light's luminance that a coloured face gives back.

    >>> round(grey((0.5, 0.5, 0.5), (1.0, 0.6, 0.3)), 6)
    0.5
    """
    weight = np.asarray(light) * LUMINANCE
    return float(np.asarray(colour) @ weight / weight.sum())


def _optics(skin: Skin, light: Colour) -> tuple[int, float, float, float, float]:
    match skin:
        case Matt(reflectance):
            return Does.MATT, 0.0, grey(reflectance, light), 0.0, 0.0
        case Metal(reflectance, roughness):
            return Does.GLOSSY, roughness, grey(reflectance, light), 0.0, 0.0
        case Mirror(reflectance):
            return Does.GLOSSY, 0.0, grey(reflectance, light), 0.0, 0.0
        case Clear():
            return Does.CLEAR, 0.0, 0.0, 0.0, 0.0
        case Sanded(roughness):
            return Does.SANDED, max(roughness, 0.02), 0.0, 0.0, 0.0
        case Opal(transmittance, reflectance, straight):
            return Does.OPAL, 0.0, reflectance, transmittance, straight
        case _:
            assert_never(skin)


def _tint(skin: Skin, light: Colour) -> Colour:
    """A face's colour over the grey that it counts as."""
    match skin:
        case Matt(reflectance) | Metal(reflectance) | Mirror(reflectance):
            level = grey(reflectance, light)
            red, green, blue = (channel / level if level > 0.0 else 1.0 for channel in reflectance)
            return red, green, blue
        case _:
            return 1.0, 1.0, 1.0


def _normals(vertices: np.ndarray, triangles: np.ndarray) -> np.ndarray:
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    flat = np.cross(b - a, c - a)
    return np.asarray(flat / np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-12))
