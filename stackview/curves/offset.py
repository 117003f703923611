"""Exact offsets of curves of lines and arcs, and the corners that a round cutter leaves."""

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from stackview.arrays import Floats
from stackview.curves.advance import run
from stackview.curves.arcs import Path, area, pieces_of, without_points
from stackview.curves.crossing import crosses_itself, directions
from stackview.curves.front import (
    CannotOffset,
    CornerJoin,
    Front,
    front_of,
    headings,
    joints_at,
    path_through,
    sweeps,
)
from stackview.errors import SolidError


def offset(path: Path, by: float, corners: CornerJoin = "mitre", field: str = "outline") -> Path:
    """Move a path outwards by ``by`` [mm] (inwards if negative).

    ``corners`` says how a corner that opens is closed: "mitre" keeps it sharp, "round" by an
    arc about the old corner. Raises SolidError naming ``field`` if nothing is left or the
    curve would cross itself, with the largest offset that fits.
    """
    if by == 0.0:
        return path
    try:
        return _checked(run(front_of(path, by, corners), by))
    except CannotOffset as stop:
        limit = _largest(lambda g: _checked(run(front_of(path, g, corners), g)), by)
        raise _too_far(field, by, limit, stop) from None


@lru_cache(maxsize=512)
def mitre(path: Path) -> float:
    """How much farther than the offset the sharpest corner moves: 1/cos(turn/2); 1 without corners."""
    p = pieces_of(path)
    into = np.roll(directions(p, np.ones(len(p))), 1, axis=0)
    cos = float((into * directions(p, np.zeros(len(p)))).sum(axis=1).min())
    return 1.0 / float(np.sqrt(max(0.5 * (1.0 + cos), 1e-12)))


def _too_far(field: str, by: float, limit: float, stop: CannotOffset) -> SolidError:
    way = "an inset" if by < 0.0 else "a growth"
    return SolidError(
        field,
        f"{way} of {{by}} per side is too much: {stop}{'' if stop.at is None else ' near {where}'}. "
        "The largest that fits is {limit:most}; make it smaller or the curve larger",
        by=abs(by),
        where=stop.at or "",
        limit=abs(limit),
    )


def _largest(attempt: Callable[[float], Path], by: float) -> float:
    """Find the offset nearest to ``by`` that works, by bisection, rounded to 1e-4 mm."""
    low, high = 0.0, by
    while abs(high - low) > 1e-7:
        middle = 0.5 * (low + high)
        try:
            attempt(middle)
            low = middle
        except CannotOffset:
            high = middle
    return round(low, 4)


def rounded(path: Path, radius: float, field: str = "outline") -> Path:
    """Cut the largest pocket inside ``path`` that a cutter of ``radius`` [mm] can clear.

    Every corner that is sharper than the cutter becomes an arc of its radius, whose centre is
    where the pieces beside it meet when both move inwards by the radius; corners that stick
    into the pocket stay sharp. (Morphological opening of the pocket by a disc: Serra, Image
    Analysis and Mathematical Morphology, 1982.) Raises SolidError where the cutter does not
    fit, with the largest radius that does.
    """
    try:
        return _rounded(path, radius)
    except CannotOffset:
        limit = _largest(lambda r: _rounded(path, r), radius)
        raise SolidError(
            field,
            "the cutter of radius {radius} does not fit everywhere inside the pocket: "
            "the largest that does has radius {limit:most}; use a smaller cutter or a wider pocket",
            radius=radius,
            limit=limit,
        ) from None


def _rounded(path: Path, radius: float) -> Path:
    """Run the cutter's centre along the pocket's edge, then take the edge that it leaves.

    The front moved in by the radius is the way of the cutter's centre. Each corner of that way
    is the centre of a fillet; each piece of it leaves its own piece of the edge, and each arc
    about a corner that sticks in leaves that corner.
    """
    front, joints = run(front_of(path, -radius, "round"), -radius)
    _checked((front, joints))
    every = np.arange(len(front.arc))
    into, out = headings(front, every - 1, joints), headings(front, every, joints)
    filleted = front.turn > 0.0
    nominal = joints_at(front, every - 1, every, np.zeros(len(every)))
    normals = (np.column_stack((h[:, 1], -h[:, 0])) for h in (into, out))
    ends, starts = (np.where(filleted[:, None], joints + radius * n, nominal) for n in normals)
    angle = np.arctan2(into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0], (into * out).sum(axis=1))
    spread = np.where(front.arc, sweeps(front, every, starts, np.roll(ends, -1, axis=0)), 0.0)
    fillets = np.column_stack((ends, np.where(filleted, np.tan(0.25 * angle), 0.0)))
    pieces = np.column_stack((starts, np.tan(0.25 * spread) * front.side))
    rows = np.stack((fillets, pieces), axis=1).reshape(-1, 3)
    return without_points(rows)


def _checked(front: tuple[Front, Floats]) -> Path:
    path = path_through(*front)
    if len(path) < 2 or area(path) <= 0.0:
        raise CannotOffset("nothing is left of the curve")
    where = crosses_itself(path)
    if where is not None:
        raise CannotOffset("the curve crosses itself", where)
    return path
