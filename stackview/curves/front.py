"""A curve's lines and arcs moving sideways together.

Every line moves sideways, every arc changes its radius; neighbours that met at a sharp corner
meet again at the mitre, tangent ones stay tangent.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.curves.arcs import GONE, Path, Pieces, pieces_of, without_points
from stackview.curves.crossing import directions

TANGENT = 1e-7
"""Sine of the angle between two pieces below which their joint counts as tangent."""
CornerJoin = Literal["mitre", "round"]


class CannotOffset(Exception):  # noqa: N818 - caught here, turned into SolidError with the limit
    """The offset cannot go on: the curve closes up, or crosses itself at a place [mm]."""

    def __init__(self, what: str, at: tuple[float, float] | None = None) -> None:
        self.at = at
        super().__init__(what)


@dataclass(frozen=True, slots=True, eq=False)
class Front:
    """Pieces on their way, as carriers: a line's normal or an arc's circle, and the joints between.

    Row k describes piece k and the joint at its start. For arcs ``side`` is +1 where the arc
    grows with the offset (counter-clockwise) and −1 where it shrinks; ``turn`` is the sign of
    the turn at the joint, 0 where tangent; ``joint`` and ``normal`` hold the joint before any
    offset and the outward normal there.
    """

    start: Floats
    direction: Floats
    arc: NDArray[np.bool_]
    centre: Floats
    radius: Floats
    side: Floats
    sweep: Floats
    turn: Floats
    joint: Floats
    normal: Floats


def front_of(path: Path, by: float, corners: CornerJoin) -> Front:
    """Set out from ``path``; ``by`` says which way it will move, and so which corners open."""
    p = _halved(pieces_of(path))
    out = directions(p, np.zeros(len(p)))
    into = np.roll(directions(p, np.ones(len(p))), 1, axis=0)
    cross = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
    turn = np.where(np.abs(cross) > TANGENT, np.sign(cross), 0.0)
    normal = np.column_stack((out[:, 1], -out[:, 0]))
    mean = normal + np.column_stack((into[:, 1], -into[:, 0]))
    size = np.hypot(mean[:, 0], mean[:, 1])
    normal = np.where((turn == 0.0)[:, None], mean / np.where(size > 0.0, size, 1.0)[:, None], normal)
    front = Front(
        p.start, out, p.arc, p.centre, p.radius, np.sign(p.sweep), np.abs(p.sweep), turn, p.start, normal
    )
    if corners == "mitre":
        return front
    return _with_rounds(front, np.flatnonzero(turn * np.sign(by) > 0.0), into, cross)


def _halved(p: Pieces) -> Pieces:
    """Arcs of more than a quarter turn in equal parts, so that a sweep's growth is never in doubt."""
    parts = np.where(p.arc, np.ceil(np.abs(p.sweep) / (0.5 * np.pi) - 1e-9), 1).astype(np.int64)
    parts = np.maximum(parts, 1)
    if (parts == 1).all():
        return p
    piece = np.repeat(np.arange(len(p)), parts)
    place = np.arange(len(piece)) - np.repeat(np.cumsum(parts) - parts, parts)
    start = p.at(piece, place / parts[piece])
    start[place == 0] = p.start
    sweep = p.sweep[piece] / parts[piece]
    first = p.first[piece] + place * sweep
    end = np.roll(start, -1, axis=0)
    return Pieces(start, end, p.centre[piece], p.radius[piece], first, sweep, p.arc[piece])


def _with_rounds(front: Front, at: Whole, into: Floats, cross: Floats) -> Front:
    """Put an arc of no radius in before each piece in ``at``, tangent to both neighbours."""
    if not at.size:
        return front
    angle = np.arctan2(cross[at], (into[at] * front.direction[at]).sum(axis=1))
    before = np.column_stack((into[at, 1], -into[at, 0]))
    turn, normal = front.turn.copy(), front.normal.copy()
    turn[at] = 0.0
    rows = {
        "start": (front.start, front.start[at]),
        "direction": (front.direction, into[at]),
        "arc": (front.arc, np.ones(len(at), dtype=bool)),
        "centre": (front.centre, front.start[at]),
        "radius": (front.radius, np.zeros(len(at))),
        "side": (front.side, np.sign(angle)),
        "sweep": (front.sweep, np.abs(angle)),
        "turn": (turn, np.zeros(len(at))),
        "joint": (front.joint, front.start[at]),
        "normal": (normal, before),
    }
    return Front(**{name: np.insert(old, at, new, axis=0) for name, (old, new) in rows.items()})


def headings(front: Front, k: Whole, points: Floats) -> Floats:
    """Directions of travel (n, 2) of pieces ``k`` at ``points`` of theirs."""
    spoke = points - front.centre[k]
    side = front.side[k][:, None]
    size = np.maximum(np.hypot(spoke[:, 0], spoke[:, 1]), 1e-300)[:, None]
    round_ = np.column_stack((-spoke[:, 1], spoke[:, 0])) * side / size
    return np.where(front.arc[k][:, None], round_, front.direction[k])


def state(front: Front, by: float) -> tuple[Floats, NDArray[np.bool_]]:
    """Joints (n, 2) at the starts of the pieces after ``by`` [mm], and which pieces have vanished by then."""
    every = np.arange(len(front.arc))
    joints = joints_at(front, every - 1, every, np.full(len(every), by))
    ends = np.roll(joints, -1, axis=0)
    with np.errstate(invalid="ignore"):
        gone = ~(left_between(front, every, joints, ends, by) >= 0.0)
    return joints, gone


def left_between(front: Front, k: Whole, joints: Floats, ends: Floats, by: Floats | float) -> Floats:
    """How much is left (n,) [mm] of pieces ``k`` between their joints after ``by``: below 0, or nan, they have vanished.

    A length is only below 0 where it is by more than rounding.
    """
    run = ((ends - joints) * front.direction[k]).sum(axis=1)
    arc = front.arc[k]
    if arc.any():
        radius = front.radius[k] + front.side[k] * by
        along = sweeps(front, k, joints, ends) * radius
        run = np.where(arc, np.where(radius < GONE, np.minimum(along, radius - GONE) - GONE, along), run)
    return np.asarray(run + GONE * 1e-2)


def sweeps(front: Front, k: Whole, joints: Floats, ends: Floats) -> Floats:
    """Signed sweeps [rad] of pieces ``k`` between joints, in each arc's own way round, the nearest to the old sweep."""
    a, b = joints - front.centre[k], ends - front.centre[k]
    turned = (np.arctan2(b[:, 1], b[:, 0]) - np.arctan2(a[:, 1], a[:, 0])) * front.side[k]
    spread: Floats = turned - 2.0 * np.pi * np.round((turned - front.sweep[k]) / (2.0 * np.pi))
    return spread


def joints_at(front: Front, i: Whole, j: Whole, by: Floats) -> Floats:
    """Where pieces ``j`` meet those before them, ``i``, after offsets (n,) [mm]; nan where they no longer meet."""
    joints = front.joint[j] + by[:, None] * front.normal[j]
    sharp = np.flatnonzero(front.turn[j] != 0.0)
    if not sharp.size:
        return joints
    arc_p, arc_q = front.arc[i[sharp]], front.arc[j[sharp]]
    kinds = (
        (~arc_p & ~arc_q, _meet_lines),
        (~arc_p & arc_q, _meet_line_arc),
        (arc_p & ~arc_q, _meet_arc_line),
        (arc_p & arc_q, _meet_arcs),
    )
    for of_kind, meet in kinds:
        if of_kind.any():
            some = sharp[of_kind]
            joints[some] = meet(front, i[some], j[some], by[some])
    return joints


def _foot(front: Front, k: Whole, by: Floats) -> Floats:
    """A point (n, 2) on each line after the offset."""
    d = front.direction[k]
    return np.asarray(front.start[k] + by[:, None] * np.column_stack((d[:, 1], -d[:, 0])))


def _reach(front: Front, k: Whole, by: Floats) -> Floats:
    """Radius (n,) of each arc after the offset."""
    return np.asarray(front.radius[k] + front.side[k] * by)


def _meet_lines(front: Front, i: Whole, j: Whole, by: Floats) -> Floats:
    a, d, b, e = _foot(front, i, by), front.direction[i], _foot(front, j, by), front.direction[j]
    cross = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    w = b - a
    met: Floats = a + d * ((w[:, 0] * e[:, 1] - w[:, 1] * e[:, 0]) / cross)[:, None]
    return met


def _meet_line_arc(front: Front, i: Whole, j: Whole, by: Floats) -> Floats:
    """Line into arc: of the two crossings the one that turns the right way, as the corner always did."""
    return _line_circle(front, i, j, by, front.turn[j] * front.side[j])


def _meet_arc_line(front: Front, i: Whole, j: Whole, by: Floats) -> Floats:
    return _line_circle(front, j, i, by, -front.turn[j] * front.side[i])


def _line_circle(front: Front, line: Whole, arc: Whole, by: Floats, sign: Floats) -> Floats:
    d, foot, radius = front.direction[line], _foot(front, line, by), _reach(front, arc, by)
    w = front.centre[arc] - foot
    middle = (w * d).sum(axis=1)
    off = w[:, 0] * d[:, 1] - w[:, 1] * d[:, 0]
    with np.errstate(invalid="ignore"):
        half = np.sqrt((radius - np.abs(off)) * (radius + np.abs(off)))
    met: Floats = foot + d * (middle + sign * half)[:, None]
    return met


def _meet_arcs(front: Front, i: Whole, j: Whole, by: Floats) -> Floats:
    w = front.centre[j] - front.centre[i]
    apart2 = (w * w).sum(axis=1)
    apart = np.sqrt(apart2)
    r, s = _reach(front, i, by), _reach(front, j, by)
    with np.errstate(invalid="ignore", divide="ignore"):
        along = (apart2 + (r - s) * (r + s)) / (2.0 * apart)
        half = np.sqrt((r - np.abs(along)) * (r + np.abs(along)))
        d = w / apart[:, None]
    left = np.column_stack((-d[:, 1], d[:, 0]))
    sign = front.turn[j] * front.side[i] * front.side[j]
    met: Floats = front.centre[i] + d * along[:, None] + left * (sign * half)[:, None]
    return met


def path_through(front: Front, joints: Floats) -> Path:
    """Run a path through the joints, pieces of no length left out."""
    ends = np.roll(joints, -1, axis=0)
    bulge = np.zeros(len(joints))
    if front.arc.any():
        spread = np.where(front.arc, sweeps(front, np.arange(len(joints)), joints, ends), 0.0)
        bulge = np.tan(0.25 * spread) * front.side
    return without_points(np.column_stack((joints, bulge)))
