"""Flat marks over the lamp, as triangles in pixels: rings round bare points, bands along edges.

Light on a dark rim, so that they stand out by day and in the evening. Pixels with y up.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.sight.camera import Camera, project

_SPOKES = 20
_BRIGHT = np.array([255, 176, 96, 255], np.uint8)
_DARK = np.array([20, 16, 12, 235], np.uint8)
_EDGE = np.array([96, 226, 255, 255], np.uint8)
"""Colour of an edge that would have to grow; rings are warm."""


@dataclass(frozen=True, slots=True, eq=False)
class Marks:
    """Corners (n, 2) [px], triangles (m, 3), colours (n, 4)."""

    corners: NDArray[np.float32]
    triangles: NDArray[np.int64]
    colours: NDArray[np.uint8]


NONE = Marks(np.zeros((0, 2), np.float32), np.zeros((0, 3), np.int64), np.zeros((0, 4), np.uint8))


def marks_joined(parts: list[Marks]) -> Marks:
    """Marks together, later ones over earlier ones."""
    if not parts:
        return NONE
    starts = np.cumsum([0, *(len(part.corners) for part in parts)])
    return Marks(
        np.concatenate([part.corners for part in parts]),
        np.concatenate([part.triangles + start for part, start in zip(parts, starts, strict=False)]),
        np.concatenate([part.colours for part in parts]),
    )


def places_on_screen(camera: Camera, points: NDArray[np.float64]) -> NDArray[np.float32]:
    """Where points (n, 3) [mm] fall in the window (n, 2), y up from its foot [px]."""
    if not len(points):
        return np.zeros((0, 2), np.float32)
    at = project(camera, points)
    return np.stack([at[:, 0], camera.size[1] - at[:, 1]], axis=1).astype(np.float32)


def rings(at: NDArray[np.float32], radius: float) -> Marks:
    """A ring of ``radius`` [px] round each place (n, 2), light between two dark rims."""
    dark = _annuli(at, radius - 2.6, radius + 2.6, _DARK)
    return marks_joined([dark, _annuli(at, radius - 1.4, radius + 1.4, _BRIGHT)])


def _annuli(at: NDArray[np.float32], inner: float, outer: float, colour: NDArray[np.uint8]) -> Marks:
    turn = np.arange(_SPOKES) * (2.0 * np.pi / _SPOKES)
    unit = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    one = np.concatenate([inner * unit, outer * unit])
    k = np.arange(_SPOKES)
    follow = (k + 1) % _SPOKES
    quads = np.concatenate(
        [
            np.stack([k, k + _SPOKES, follow + _SPOKES], axis=1),
            np.stack([k, follow + _SPOKES, follow], axis=1),
        ]
    )
    count = len(at)
    corners = (at[:, None] + one[None]).reshape(-1, 2)
    triangles = (quads[None] + (2 * _SPOKES * np.arange(count))[:, None, None]).reshape(-1, 3)
    return Marks(corners.astype(np.float32), triangles, np.tile(colour, (len(corners), 1)))


def bands(ends: NDArray[np.float32], faint: NDArray[np.bool_]) -> Marks:
    """A band along each line (n, 2, 2) [px]; thin where ``faint`` (n,), as on the far side."""
    strong = ends[~faint]
    return marks_joined(
        [
            _quads(ends[faint], 0.9, np.array([*_EDGE[:3], 120], np.uint8)),
            _quads(strong, 2.9, _DARK),
            _quads(strong, 1.7, _EDGE),
        ]
    )


def _quads(ends: NDArray[np.float32], half: float, colour: NDArray[np.uint8]) -> Marks:
    if not len(ends):
        return NONE
    along = ends[:, 1] - ends[:, 0]
    size = np.maximum(np.sqrt((along * along).sum(axis=1, keepdims=True)), 1e-6)
    along = along / size * np.float32(half)
    aside = np.stack([-along[:, 1], along[:, 0]], axis=1)
    # A little longer at both ends, so that a curve's pieces join.
    a, b = ends[:, 0] - 0.6 * along, ends[:, 1] + 0.6 * along
    corners = np.stack([a - aside, b - aside, b + aside, a + aside], axis=1).reshape(-1, 2)
    first = 4 * np.arange(len(ends))[:, None]
    triangles = np.concatenate([first + np.array([0, 1, 2]), first + np.array([0, 2, 3])])
    return Marks(corners.astype(np.float32), triangles, np.tile(colour, (len(corners), 1)))
