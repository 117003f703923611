"""A layer whose recesses stand clear of every other edge: built face by face, with nothing to cut.

Most recesses lie well inside the outline and take whole openings in or leave them out. Then every
edge is one upright wall between two heights and every face one level area between edges, so that
the mesh is known without booleans, which take several times as long.
"""

from itertools import combinations

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.curves.arcs import Path, polygon
from stackview.curves.fit import inside, overlapping, room_inside
from stackview.description.lamp import FaceSide, Layer
from stackview.description.outline import path_of
from stackview.solids.chamfer import LABELS, Block, Wall, numbers_apart, triangles_over, wall
from stackview.solids.holes import Hole, run_together
from stackview.solids.solid import Face


def stepped(layer: Layer, outer: Path, holes: list[Hole], chord_error: float) -> Block | None:
    """The whole layer as one block; None where edges come near each other, or are not all upright."""
    if layer.grooves or layer.chamfers or layer.bores:
        return None
    pockets = [path_of(recess.outline, "recess") for recess in layer.recesses]
    paths = [hole.path for hole in holes]
    room = 2.0 * chord_error
    within = [[_within(path, pocket, room) for path in paths] for pocket in pockets]
    faces: list[FaceSide] = [recess.face for recess in layer.recesses]
    clear = (
        all(_clear_inside(pocket, outer, room) for pocket in pockets)
        and not any(
            one == other and overlapping(pockets[a], pockets[b], -room)
            for (a, one), (b, other) in combinations(enumerate(faces), 2)
        )
        and not any(run_together(paths, room))
        and all(whole is not None for row in within for whole in row)
    )
    if not clear:
        return None
    heights = [layer.heights_of_cut(recess.face, recess.depth) for recess in layer.recesses]
    first = 2 + len(pockets)
    walls = [wall(polygon(outer, chord_error), (0.0, layer.thickness), Face.OUTER, first=first)]
    for number, path in enumerate(paths):
        around = [heights[k] for k, row in enumerate(within) if row[number]]
        low = max((z[1] for z in around if z[0] == 0.0), default=0.0)
        high = min((z[0] for z in around if z[0] > 0.0), default=layer.thickness)
        walls.append(wall(polygon(path, chord_error)[::-1], (low, high), Face.OPENING, first=first))
    for path, z in zip(pockets, heights, strict=True):
        walls.append(wall(polygon(path, chord_error)[::-1], z, Face.RECESS_WALL, first=first))
    return _closed(walls, faces, within)


def _clear_inside(inner: Path, outer: Path, room: float) -> bool:
    return room_inside(inner, outer) >= room or -inside(inner, outer).by >= room


def _within(opening: Path, pocket: Path, room: float) -> bool | None:
    """Whether an opening lies well inside a recess, or well outside it; None where neither."""
    if _clear_inside(opening, pocket, room):
        return True
    return None if overlapping(opening, pocket, -room) else False


def _closed(walls: list[Wall], faces: list[FaceSide], within: list[list[bool | None]]) -> Block:
    """Walls of the outline, the openings and the recesses, closed by level faces."""
    starts = np.cumsum([0] + [len(one.vertices) for one in walls])
    vertices: Floats = np.concatenate([one.vertices for one in walls])
    lows = [one.low + start for one, start in zip(walls, starts, strict=False)]
    highs = [one.high + start for one, start in zip(walls, starts, strict=False)]
    openings = range(1, len(walls) - len(faces))
    recesses = range(len(walls) - len(faces), len(walls))
    triangles: list[Whole] = []
    numbers: list[Whole] = []

    def close(rings: list[Whole], number: int, *, up: bool) -> None:
        over, _ = triangles_over(vertices, rings)
        triangles.append(over if up else over[:, ::-1])
        numbers.append(np.full(len(over), number))

    for side, rings, number in (("underside", lows, int(Face.UNDERSIDE)), ("top", highs, LABELS + Face.TOP)):
        own = [k for k, face in enumerate(faces) if face == side]
        whole = [k for k in openings if not any(within[one][k - 1] for one in own)]
        close([rings[k] for k in (0, *whole, *(recesses[one] for one in own))], number, up=side == "top")
        for one in own:
            # A recess's wall runs the other way round than its floor.
            floor = (lows if side == "top" else highs)[recesses[one]][::-1]
            inner = [rings[k] for k in openings if within[one][k - 1]]
            close([floor, *inner], (2 + one) * LABELS + Face.RECESS_FLOOR, up=side == "top")
    return Block(
        vertices,
        np.concatenate(
            [*triangles, *(one.triangles + start for one, start in zip(walls, starts, strict=False))]
        ),
        np.concatenate([*numbers, *numbers_apart([one.numbers for one in walls])]),
    )
