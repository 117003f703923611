"""The grain of wood for the window: one picture that holds every triangle's own piece of it.

Two triangles share a square of texels, each with its own corner of it and an unused diagonal
between them. The marks are those of the pictures (:func:`surface_colour`), as shares of the
part's colour.
"""

import numpy as np
from numpy.typing import NDArray

from stackview.stills.bake import Baked
from stackview.stills.surface import surface_colour
from stackview.stills.workers import in_pieces
from stackview.window.paint import BRIGHTER

SQUARE = 11
"""Texels along a square."""
LEG = SQUARE - 3
"""Steps between texels along a triangle's leg."""
CURVE = 0.45
"""Share of a linear colour, as a share of the picture's own value: about the film's slope there."""
_PIECE = 4096


def grain_places(triangles: int) -> tuple[NDArray[np.float32], int]:
    """Place in the picture (3m, 2) of every corner, 0 to 1, and the picture's width in texels."""
    across = max(int(np.ceil(np.sqrt(max((triangles + 1) // 2, 1)))), 1)
    width = across * SQUARE
    number = np.arange(triangles)
    square = number // 2
    origin = np.stack([square % across, square // across], axis=1) * SQUARE
    lower = np.array([[0, 0], [LEG, 0], [0, LEG]])
    corner = np.where((number % 2 == 0)[:, None, None], lower, SQUARE - 1 - lower)
    at = (origin[:, None] + corner + 0.5) / width
    return np.ascontiguousarray(at.reshape(-1, 2), np.float32), width


def grain_picture(baked: Baked) -> NDArray[np.uint8]:
    """The picture (w, w, 3) of every opaque triangle's marks, its first row at place 0."""
    mesh = baked.walls
    count = len(mesh.triangles)
    _, width = grain_places(count)
    picture = np.full((width, width, 3), 255, np.uint8)
    column, row = _own_texels()
    # Barycentric place of each texel in its triangle.
    u, v = (column / LEG).astype(np.float32), (row / LEG).astype(np.float32)
    marked = np.array([part.material.is_wooden for part in baked.placed])
    chosen = np.flatnonzero((mesh.part < len(baked.placed)) & marked[np.minimum(mesh.part, len(marked) - 1)])

    def piece_of(piece: slice) -> NDArray[np.uint8]:
        return _texels(baked, chosen[piece], u, v)

    square = chosen // 2
    across = width // SQUARE
    left, low = (square % across) * SQUARE, (square // across) * SQUARE
    even = (chosen % 2 == 0)[:, None]
    x = left[:, None] + np.where(even, column, SQUARE - 1 - column)
    y = low[:, None] + np.where(even, row, SQUARE - 1 - row)
    if len(chosen):
        picture[y, x] = np.concatenate(in_pieces(piece_of, len(chosen), _PIECE))
    return picture


def _own_texels() -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Column and row of the texels of a lower triangle: on it, and one step past its long side."""
    column, row = np.meshgrid(np.arange(LEG + 2), np.arange(LEG + 2), indexing="ij")
    own = column + row <= LEG + 1
    return column[own], row[own]


def _texels(
    baked: Baked, chosen: NDArray[np.int64], u: NDArray[np.float32], v: NDArray[np.float32]
) -> NDArray[np.uint8]:
    """Marks (m, t, 3) at barycentric places (t,) of some triangles."""
    mesh = baked.walls
    a, b, c = (mesh.vertices[mesh.triangles[chosen, k]][:, None] for k in range(3))
    at = a + (b - a) * u[:, None] + (c - a) * v[:, None]
    normals = np.broadcast_to(mesh.flat[chosen][:, None], at.shape)
    share = np.ones(at.shape, np.float32)
    part_of = mesh.part[chosen]
    step = np.sqrt(np.abs(((b - a) ** 2).sum(axis=2)))[:, 0] / LEG
    for number in np.unique(part_of):
        mine = np.flatnonzero(part_of == number)
        part = baked.placed[number]
        size = np.repeat(np.minimum(0.6 * step[mine], 0.5).astype(np.float32), len(u))
        found = surface_colour(part, at[mine].reshape(-1, 3), normals[mine].reshape(-1, 3), size)
        share[mine] = marks(found, part.material.colour).reshape(len(mine), len(u), 3)
    return np.asarray(np.rint(255 * share), np.uint8)


def marks(colour: NDArray[np.float32], mean: tuple[float, float, float]) -> NDArray[np.float32]:
    """Colours (n, 3) as shares of the raised mean colour, on the picture's curve, 0 to 1."""
    raised = np.maximum(np.asarray(mean, np.float32) * np.float32(BRIGHTER), 1e-4)
    return np.asarray(np.clip(colour / raised, 0.0, 1.0) ** np.float32(CURVE), np.float32)
