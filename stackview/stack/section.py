"""The section: the assembled lamp cut upright through its axis at a bearing.

Each triangle that the cutting plane passes gives one straight piece, from the mesh edge where
its outline falls below the plane to the one where it rises above it. Neighbouring triangles
share that edge and run along it in opposite senses, so that the pieces link up through the
edges into closed loops, with no distances compared and no tolerance. A vertex exactly on the
plane is taken to be in front of it; what this makes of a face that lies in the plane has the
area of its side behind.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed

_STRAIGHT = 1e-9
"""A corner that stands off the line between its neighbours by less than this is none [mm]."""
_NOTHING = 1e-9
"""Loops of less area than this come from faces in the cutting plane itself [mm²]."""


@dataclass(frozen=True, slots=True, eq=False)
class CutFace:
    """Where the cut passes through one part.

    loops : closed polygons (k, 2) of (across, height) [mm], the first corner not repeated:
    counter-clockwise round the material, clockwise round a hollow. Read-only.
    """

    part: Placed
    loops: tuple[NDArray[np.float64], ...]

    def __post_init__(self) -> None:
        for loop in self.loops:
            loop.setflags(write=False)

    @property
    def area(self) -> float:
        """Area of the cut [mm²]."""
        return sum(loop_area(loop) for loop in self.loops)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least across, least height, greatest across, greatest height [mm]."""
        corners = np.concatenate(self.loops)
        (left, low), (right, high) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
        return left, low, right, high


def section(stack: Stack, bearing: float) -> tuple[CutFace, ...]:
    """Cut the lamp by the upright plane through its axis at ``bearing`` [°].

    Across is positive towards the bearing and negative on the far side, as seen from
    ``bearing`` − 90°. Parts come in the stack's order; those that the plane misses are left out.
    """
    solids = [(part, part.solid) for part in stack.placed]
    faces = (CutFace(part, cut_loops(solid.vertices, solid.triangles, bearing)) for part, solid in solids)
    return tuple(face for face in faces if face.loops)


def cut_loops(
    vertices: NDArray[np.float64], triangles: NDArray[np.int64], bearing: float
) -> tuple[NDArray[np.float64], ...]:
    """Cut a watertight mesh at ``bearing`` [°] into closed loops (k, 2) of (across, height) [mm].

    Parameters
    ----------
    vertices : (n, 3) [mm]; triangles : (m, 3) counter-clockwise from outside
    """
    radians = np.radians(bearing)
    sine, cosine = np.sin(radians), np.cos(radians)
    across = vertices[:, 0] * sine - vertices[:, 1] * cosine
    # Distance in front of the plane, towards who looks from bearing − 90°.
    before = -vertices[:, 0] * cosine - vertices[:, 1] * sine
    front = before >= 0
    side = front[triangles]
    passed = triangles[(side.any(axis=1)) & ~(side.all(axis=1))]
    if not len(passed):
        return ()
    following = passed[:, [1, 2, 0]]
    rising = ~front[passed] & front[following]
    falling = front[passed] & ~front[following]
    # One rising and one falling edge each, named from its vertex behind to the one in front.
    begin = _edge_key(following[falling], passed[falling], len(vertices))
    end = _edge_key(passed[rising], following[rising], len(vertices))
    flat = np.stack([across, vertices[:, 2]], axis=1)
    corner = _on_plane(flat, before, passed[rising], following[rising])
    loops = (_without_straight(corner[order]) for order in _cycles(begin, end))
    return tuple(loop for loop in loops if len(loop) > 2 and abs(loop_area(loop)) > _NOTHING)


def loop_area(loop: NDArray[np.float64]) -> float:
    """Signed area of a closed loop (k, 2), positive counter-clockwise: the shoelace formula.

    >>> loop_area(np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]]))
    6.0
    """
    x, y = (loop - loop[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def _edge_key(behind: NDArray[np.int64], front: NDArray[np.int64], size: int) -> NDArray[np.int64]:
    return behind * size + front


def _on_plane(
    flat: NDArray[np.float64],
    before: NDArray[np.float64],
    behind: NDArray[np.int64],
    front: NDArray[np.int64],
) -> NDArray[np.float64]:
    """Where edges meet the plane (k, 2), by the two ends' distances from it."""
    share = before[behind] / (before[behind] - before[front])
    return flat[behind] + share[:, None] * (flat[front] - flat[behind])


def _cycles(begin: NDArray[np.int64], end: NDArray[np.int64]) -> list[list[int]]:
    """Pieces linked end to beginning, as lists of piece numbers, each a closed round.

    A piece's end edge is the begin edge of exactly one other: the triangle across it.
    """
    order = np.argsort(begin)
    following = order[np.searchsorted(begin[order], end)].tolist()
    left = [True] * len(following)
    rounds: list[list[int]] = []
    for first in range(len(following)):
        found: list[int] = []
        at = first
        while left[at]:
            left[at] = False
            found.append(at)
            at = following[at]
        if found:
            rounds.append(found)
    return rounds


def _without_straight(loop: NDArray[np.float64]) -> NDArray[np.float64]:
    """Leave out doubled corners, and corners along a straight side."""
    apart = np.hypot(*(loop - np.roll(loop, 1, axis=0)).T) > _STRAIGHT
    loop = loop[apart]
    if len(loop) < 3:
        return loop
    back, ahead = loop - np.roll(loop, 1, axis=0), np.roll(loop, -1, axis=0) - loop
    turn = back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0]
    chord = np.hypot(*(back + ahead).T)
    return np.ascontiguousarray(loop[np.abs(turn) > _STRAIGHT * np.maximum(chord, _STRAIGHT)])
