"""Clashes: no two solids overlap silently."""

from itertools import combinations

from stackview.by_value import by_value, mark
from stackview.description.units import MILLIMETRES, Units
from stackview.findings import Bound, Finding, Level, Place
from stackview.solids.measure import box
from stackview.solids.overlap import DEPTH, Overlap, overlap
from stackview.solids.solid import Solid
from stackview.stack.placed import Placed

_KEPT = 4_000_000
"""Overlaps of pairs of parts kept for further variants of a lamp [bytes]."""


def clashes(
    placed: tuple[Placed, ...], chord_error: float, units: Units = MILLIMETRES
) -> tuple[Finding, ...]:
    """Every pair of parts whose solids share space, by boolean intersection, largest first.

    Facets of two curves that fit each other reach into one another by up to the chord error
    of each. Such slivers along a wall are no clash: whether curves fit is decided on the exact
    curves. A shared part that is thin from top to bottom is one, however thin.
    """
    found: list[tuple[float, Finding]] = []
    for one, other in combinations(placed, 2):
        if one.underside >= other.top or other.underside >= one.top or _apart(one.solid, other.solid):
            continue
        shared = shared_by(one, other)
        if shared is not None and not _facets_only(shared, chord_error):
            found.append((shared.volume, _clash(one, other, shared.lifted(one.solid.lift), units)))
    return tuple(finding for _, finding in sorted(found, key=lambda pair: -pair[0]))


def _apart(one: Solid, other: Solid) -> bool:
    """Whether the boxes about two solids share less than counts."""
    (low, high), (least, most) = box(one), box(other)
    return any(min(high[k], most[k]) - max(low[k], least[k]) <= DEPTH for k in range(3))


def shared_by(one: Placed, other: Placed) -> Overlap | None:
    """What the solids of two parts share; its heights count from the first one's own ground."""
    return _shared(one.solid.ground, other.solid.ground, other.solid.lift - one.solid.lift)


@by_value(_KEPT, key=lambda one, other, rise: (mark(one), mark(other), rise))
def _shared(one: Solid, other: Solid, rise: float) -> Overlap | None:
    """What two solids share when the other is lifted by ``rise`` [mm]: the same at any height of the pair."""
    return overlap(one, other.lifted(rise))


def _facets_only(shared: Overlap, chord_error: float) -> bool:
    sliver = max(2.0 * chord_error, DEPTH)
    return shared.depth <= sliver < shared.high[2] - shared.low[2]


def _clash(one: Placed, other: Placed, shared: Overlap, units: Units) -> Finding:
    x, y, z = shared.centre
    several = f" in {shared.pieces} places, the largest" if shared.pieces > 1 else ""
    return Finding(
        check="overlap",
        level=Level.FAULT,
        where=f"{one.name} and {other.name}",
        what=f"they take the same space, {units.volume(shared.volume)}{several} about {units.at(x, y)}, {units.plain(z)} up",
        short=f"they take the same space, {units.volume(shared.volume)}",
        value=shared.volume,
        unit="mm³",
        limit=0.0,
        bound=Bound.MOST,
        source="boolean intersection of the two solids",
        advice=_advice(one, other),
        parts=(one.name, other.name),
        places=tuple(Place(part.name, x, y, z) for part in (one, other)),
        cause=f"{_upright(one, other)} by {shared.volume:.2g} mm³",
    )


def _upright(one: Placed, other: Placed) -> str:
    """The core or post that two parts in one place share it by, or nothing."""
    return next((part.name for part in (one, other) if part.is_upright), "layers")


def _advice(one: Placed, other: Placed) -> str:
    """What parts them: shorten what stands up too far, or give it room to pass."""
    upright, through = (one, other) if one.is_upright else (other, one)
    if not upright.is_upright:
        return "Make the recess or opening of one larger or deeper, or the other smaller."
    if upright.top < through.top - 1e-6:
        return f"Shorten {upright.name} at its top, or give {through.name} an opening for it."
    if upright.underside > through.underside + 1e-6:
        return f"Raise the foot of {upright.name}, or give {through.name} a recess or opening for it."
    return f"Give {through.name} an opening that {upright.name} passes, or make the one it has larger."
