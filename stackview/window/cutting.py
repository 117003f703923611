"""The lamp cut open: solid cut faces with their grain, in one picture of the cutting plane.

The core with its strip, and the cord, stay whole, as shafts do in sectional drawings (common
practice).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.stack.placed import Placed
from stackview.stills.finish import developed
from stackview.stills.halved import ON_CUT, PAST_AXIS, behind, cut_solid
from stackview.stills.mix import Mix
from stackview.stills.surface import surface_colour
from stackview.window.paint import mix_at
from stackview.window.shown import Shown
from stackview.window.state import ViewState

_TEXEL = 0.45
"""Width of one texel of the cutting plane's picture, at least [mm]."""
_MOST_TEXELS = 420
"""Texels along the picture's longer side."""
_LINE = 0.5
"""A cut part's outline keeps this share of its light."""
_ACRYLIC_CUT = np.array([0.50, 0.60, 0.61], np.float32)
"""Colour of clear acrylic's cut face, by eye: pale, a little cool."""


@dataclass(frozen=True, slots=True, eq=False)
class CutFaces:
    """Cut faces as triangles: corners (3k, 3) [mm], places (3k, 2) in their picture (h, w, 3)."""

    places: NDArray[np.float64]
    at: NDArray[np.float32]
    picture: NDArray[np.uint8]


def cut_offset(state: ViewState, shown: Shown) -> float:
    """How far behind the axis the plane stands [mm]: from the lamp's near side to its far side."""
    radius, middle = shown.ball.radius, shown.ball.middle
    reach = float(np.sqrt(max(radius * radius - middle * middle, 0.0)))
    return (2.0 * state.cut - 1.0) * reach + PAST_AXIS


def cut_plane(state: ViewState, shown: Shown) -> tuple[NDArray[np.float64], NDArray[np.float64]] | None:
    """A place on the cutting plane and its normal towards what is kept; None where the lamp is whole."""
    if state.cut == 0.0:
        return None
    away = behind(state.cut_bearing)
    return cut_offset(state, shown) * away, away


def cut_faces(state: ViewState, shown: Shown) -> CutFaces | None:
    """Cut every part but core and cord; None where the plane meets nothing."""
    offset, bearing = cut_offset(state, shown), state.cut_bearing
    away = behind(bearing)
    found: list[tuple[Placed, float, NDArray[np.float64]]] = []
    for part, lift in zip(shown.setting.placed, shown.lift, strict=True):
        if part.stays_whole:
            continue
        rest = cut_solid(part.solid, bearing, offset)
        if rest is None or rest is part.solid:
            continue
        on = np.abs(rest.vertices @ away - offset) < ON_CUT
        corners = rest.vertices[rest.triangles[on[rest.triangles].all(axis=1)]]
        # A face of the part's own may lie in the plane too, looking the other way.
        ahead = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) @ away < 0
        if ahead.any():
            found.append((part, state.spread * lift, corners[ahead].reshape(-1, 3)))
    if not found:
        return None
    return _pictured(found, away, offset, mix_at(state.light, shown.baked.luminance))


def _pictured(
    found: list[tuple[Placed, float, NDArray[np.float64]]],
    away: NDArray[np.float64],
    offset: float,
    mix: Mix,
) -> CutFaces:
    side = np.array([-away[1], away[0], 0.0])
    flats = [np.stack([places @ side, places[:, 2]], axis=1) for _, _, places in found]
    every = np.concatenate(flats)
    low, high = every.min(axis=0) - 1.0, every.max(axis=0) + 1.0
    step = max(float((high - low).max()) / _MOST_TEXELS, _TEXEL)
    width, height = (int(n) for n in np.ceil((high - low) / step).astype(int) + 1)
    number = _numbered([(flat - low) / step for flat in flats], width, height)
    picture = np.zeros((height, width, 3), np.float32)
    facing = (-away).astype(np.float32)
    for k, (part, _, _) in enumerate(found):
        row, column = np.nonzero(number == k + 1)
        at = (
            (low[0] + column * step)[:, None] * side
            + (low[1] + row * step)[:, None] * np.array([0.0, 0.0, 1.0])
            + offset * away
        ).astype(np.float32)
        picture[row, column] = _cut_colour(part, at, facing, step)
    line = np.zeros(number.shape, bool)
    for axis in (0, 1):
        line |= (number != np.roll(number, 1, axis)) | (number != np.roll(number, -1, axis))
    picture[line] *= _LINE
    shine = np.float32(0.80 * mix.sky + 0.06 * mix.lamp)
    return CutFaces(
        places=np.concatenate([places + np.array([0.0, 0.0, up]) for _, up, places in found]),
        at=((every - low) / step / np.array([width, height]) + 0.5 / np.array([width, height])).astype(
            np.float32
        ),
        picture=developed(picture * shine, mix.exposure),
    )


def _numbered(flats: list[NDArray[np.float64]], width: int, height: int) -> NDArray[np.int64]:
    """Number of the part (from 1) at each texel (h, w), a texel beyond its rim; 0 elsewhere."""
    from PIL import Image, ImageDraw

    image = Image.new("I", (width, height), 0)
    pen = ImageDraw.Draw(image)
    for k, flat in enumerate(flats):
        for corner in flat.reshape(-1, 3, 2).tolist():
            pen.polygon([tuple(place) for place in corner], fill=k + 1, outline=k + 1)
    return np.asarray(image, np.int64)


def _cut_colour(
    part: Placed, at: NDArray[np.float32], facing: NDArray[np.float32], step: float
) -> NDArray[np.float32]:
    if part.opaque:
        normals = np.broadcast_to(facing, at.shape)
        return surface_colour(part, at, normals, np.full(len(at), 0.6 * step, np.float32))
    body = np.asarray(part.material.colour, np.float32)
    flat = 0.8 * body if part.material.body == "opal" else _ACRYLIC_CUT * body
    # Slanting lines, so that acrylic is told from wood by more than its colour.
    lined = np.mod(at @ np.array([0.7, 0.7, 1.0], np.float32), 3.0) < 0.6
    return np.asarray(np.where(lined[:, None], 0.62 * flat, flat), np.float32)


def kept_points(state: ViewState, shown: Shown) -> NDArray[np.bool_]:
    """Which light points (n,) are still there: all on the core, of the others those behind the cut."""
    points = shown.study.light.points
    plane = cut_plane(state, shown)
    if plane is None:
        return np.ones(len(points), bool)
    at, normal = plane
    on_core = np.array([bool(lit.cuts) for lit in shown.study.light.lit], bool)
    carried = on_core[points.source] if len(on_core) else np.zeros(0, bool)
    return np.asarray(carried | ((points.centres - at) @ normal > 0.0))
