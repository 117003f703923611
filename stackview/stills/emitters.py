"""The lamp's own light points as picture lights: their strength, colour and faces."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.beam import beam_power as power_of_beam
from stackview.light.colour import LUMINANCE, light_colour
from stackview.light.points import LightPoints
from stackview.solids.rays import Target
from stackview.stills.panes import Panes, crossed
from stackview.stills.refine import Mesh
from stackview.stills.workers import in_pieces

_PIECE = 1024
MOST_LIGHTS = 72
"""More light points than this are baked in groups of neighbours; every one is still drawn."""
_NEAREST = 3.0
"""Light grows no further nearer than this [mm]."""
_OFF_FACE = 0.3
"""Baked light starts, and drawn faces stand, this far in front of a light point's face [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Lights:
    """Point lights: where (j, 3), facing (j, 3), falling off as cos^power (j,), strength (j, 3)."""

    centres: Singles
    directions: Singles
    powers: Singles
    strengths: Singles


def picture_beam_power(beams: NDArray[np.float64]) -> NDArray[np.float64]:
    """Exponent m of each beam (:func:`stackview.light.beam.beam_power`), held to what a picture can show."""
    return power_of_beam(np.clip(beams, 2.0, 175.0))


def lights(points: LightPoints, size: float) -> Lights:
    """Light points as picture lights, scaled so that the lamp looks the same at any wattage.

    The points' shares of the light are their lumens (equal where any is not given). Together
    they light a surface ``size`` [mm] away by about 1; what that is in truth says :func:`luminance_of_one`.
    """
    count = len(points)
    if count == 0:
        return Lights(*(np.zeros(shape, np.float32) for shape in ((0, 3), (0, 3), (0,), (0, 3))))
    power = picture_beam_power(points.beams)
    flux = points.lumens if np.isfinite(points.lumens).all() and points.lumens.sum() > 0 else np.ones(count)
    # I0 = Φ(m + 1)/2π
    axial = flux / flux.sum() * (power + 1.0) * size**2
    strengths = axial[:, None] * _colours(points)
    group = -(-count // MOST_LIGHTS)
    starts = np.arange(0, count, group)
    middles = np.minimum(starts + group // 2, count - 1)
    return Lights(
        (points.centres + _OFF_FACE * points.directions)[middles].astype(np.float32),
        points.directions[middles].astype(np.float32),
        power[middles].astype(np.float32),
        np.add.reduceat(strengths, starts, axis=0).astype(np.float32),
    )


def luminance_of_one(points: LightPoints, size: float) -> float:
    """Luminance [cd/m²] of a white surface where the light of :func:`lights` comes to 1; nought where lumens lack.

    Scaling makes I = (m + 1)·size² of what is I = Φ(m + 1)/2π [lm/sr] in all, and a white surface
    under E = I/d² has L = E/π: so 1 stands for Φ/(2π²·size²), size in metres.
    """
    flux = float(points.lumens.sum()) if len(points) else 0.0
    return flux / (2.0 * np.pi**2 * (size / 1000.0) ** 2) if np.isfinite(flux) else 0.0


def _colours(points: LightPoints) -> NDArray[np.float64]:
    """Linear sRGB (n, 3) of each point's colour temperature at luminance 1."""
    kelvins, which = np.unique(points.kelvin, return_inverse=True)
    colours = np.stack([light_colour(kelvin) for kelvin in kelvins])
    return np.asarray((colours / (colours @ LUMINANCE)[:, None])[which])


def faces(points: LightPoints) -> tuple[Mesh, Singles, Singles]:
    """Make triangles of the light-giving faces, two a point, with each point's colour and fall-off.

    Returns the mesh, colours (n, 3) at luminance 1 and powers (n,).
    """
    count = len(points)
    vertices = (points.corners + _OFF_FACE * points.directions[:, None]).reshape(-1, 3)
    first = np.arange(count)[:, None] * 4
    triangles = np.concatenate([first + np.array([0, 1, 2]), first + np.array([0, 2, 3])], axis=1).reshape(
        -1, 3
    )
    mesh = (vertices, triangles.astype(np.int64), np.zeros(2 * count, np.int8))
    if count == 0:
        return mesh, np.zeros((0, 3), np.float32), np.zeros(0, np.float32)
    return mesh, _colours(points).astype(np.float32), picture_beam_power(points.beams).astype(np.float32)


def light_on(at: Singles, normals: Singles, lamp: Lights, walls: Target, panes: Panes) -> Singles:
    """Irradiance (n, 3) over π from every light on surface points, shadowed by walls, dimmed by panes."""
    return _in_pieces(lambda p: _on_piece(at[p], normals[p], lamp, walls, panes), len(at))


def _on_piece(at: Singles, normals: Singles, lamp: Lights, walls: Target, panes: Panes) -> Singles:
    pair, light, weight, directions, distances = _pairs(at, normals, lamp)
    clear = ~walls.blocked(at[pair], directions, distances - np.float32(0.2))
    pair, light, weight = pair[clear], light[clear], weight[clear]
    share, _ = crossed(panes, at[pair], directions[clear], distances[clear])
    return _sum(pair, (weight * share)[:, None] * lamp.strengths[light], len(at))


def light_within(at: Singles, lamp: Lights, walls: Target, panes: Panes, fading: Singles) -> Singles:
    """Light (n, 3) that arrives at points of acrylic from all sides, fading inside the sheet.

    ``fading`` (n,) is the way inside the sheet that leaves 1/e of it [mm].
    """
    return _in_pieces(lambda p: _within_piece(at[p], lamp, walls, panes, fading[p]), len(at))


def _within_piece(at: Singles, lamp: Lights, walls: Target, panes: Panes, fading: Singles) -> Singles:
    pair, light, weight, directions, distances = _pairs(at, None, lamp)
    origins = lamp.centres[light]
    clear = ~walls.blocked(origins, -directions, distances - np.float32(0.2))
    pair, light, weight = pair[clear], light[clear], weight[clear]
    share, inside = crossed(panes, origins[clear], -directions[clear], distances[clear])
    weight *= share * np.exp(-inside / fading[pair])
    return _sum(pair, weight[:, None] * lamp.strengths[light], len(at))


def _in_pieces(work: Callable[[slice], Singles], count: int) -> Singles:
    return np.concatenate(in_pieces(work, max(count, 1), _PIECE))


def _pairs(
    at: Singles, normals: Singles | None, lamp: Lights
) -> tuple[NDArray[np.int64], NDArray[np.int64], Singles, Singles, Singles]:
    """Pairs of point and light that face each other: indices, weight, direction to the light, distance."""
    to = lamp.centres[None] - at[:, None]
    square = (to * to).sum(axis=2)
    distance = np.sqrt(np.maximum(square, 1e-6))
    leaving = np.maximum(-(to * lamp.directions).sum(axis=2) / distance, 0.0)
    weight = leaving**lamp.powers / np.maximum(square, _NEAREST**2)
    if normals is not None:
        weight *= np.maximum((to * normals[:, None]).sum(axis=2) / distance, 0.0)
    pair, light = np.nonzero(weight > 0)
    span = distance[pair, light]
    return pair, light, weight[pair, light], to[pair, light] / span[:, None], span


def _sum(pair: NDArray[np.int64], values: Singles, count: int) -> Singles:
    return np.stack([np.bincount(pair, values[:, k], count) for k in range(3)], axis=1).astype(np.float32)
