"""Short grain: where wood is left narrow along its grain, beside an opening, a hole or a pin, it snaps or shears off.

Widths are exact distances between the curves, where the edge faces along the grain. What chamfers
take of a wall comes off as the mean over its thickness: c²·tan α/2t each.
"""

from dataclasses import dataclass
from math import radians, tan

from stackview.checks.against import against
from stackview.checks.held import under
from stackview.checks.proposals import larger, resized, turned_grain
from stackview.checks.subject import Subject
from stackview.checks.voids import Void, voids_of
from stackview.curves.arcs import Path, bounds
from stackview.curves.fit import gap, overlapping
from stackview.curves.narrowest import narrowest
from stackview.description.lamp import Layer
from stackview.description.outline import path_of
from stackview.findings import Finding, Place

_ACROSS = 45.0
"""A wall runs across the grain where the grain is nearer to its width than to its length [°]."""
_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Short:
    """The least width along the grain beside one kind of cut, chamfers off, what it has to be, and where [mm]."""

    beside: str
    width: float
    bevels: float
    needed: float
    at: tuple[float, float]
    cuts: tuple[Void, ...]
    """The cut, and the opening where it lies beside that and not beside the outer edge."""


def short_grain(subject: Subject, layer: Layer) -> list[Finding]:
    """A caution for each kind of cut beside which wood is too narrow along its grain."""
    if not layer.material.is_solid_wood:
        return []
    wall, hole = subject.limits["short_grain"], subject.limits["short_grain_hole"]
    worst: dict[str, Short] = {}
    for short in _shorts_of(layer, wall.value, hole.value):
        known = worst.get(short.beside)
        if under(short.width, short.needed) and (known is None or short.width < known.width):
            worst[short.beside] = short
    return [_found(subject, layer, short) for short in worst.values()]


def _found(subject: Subject, layer: Layer, short: Short) -> Finding:
    units = subject.lamp.units
    limit = subject.limits["short_grain" if short.beside == "wall" else "short_grain_hole"]
    eaten = f", chamfers off ({units.show(short.bevels)} in the mean)" if short.bevels > _ROUNDING else ""
    what = (
        "short grain: the grain runs across its wall, which is only"
        if short.beside == "wall"
        else f"short grain: between its {short.beside} and the edge, along the grain, the wood is only"
    )
    by = short.needed - short.width
    ways = [way for cut in short.cuts for way in resized(layer, cut, -by)]
    if len(short.cuts) == 1:
        ways.append(larger(layer.name, by))
    return against(
        limit,
        short.width,
        "walls",
        f"{what} {units.show(max(short.width, 0.0))} wide{eaten} at {units.at(*short.at)}",
        by="exact distance of the edges along the grain",
        held_to=short.needed,
        advice="Make it wider there, turn the grain by a quarter, or use plywood.",
        short=f"short grain: only {units.show(max(short.width, 0.0))} of wood",
        places=(Place(layer.name, *short.at),),
        cause=f"short grain at the {short.beside}",
        ways=(*ways, *turned_grain(layer)),
    )


def _shorts_of(layer: Layer, wall: float, hole: float) -> list[Short]:
    """Widths along the grain beside the main opening and every other cut, where they may be too narrow.

    ``wall`` is how wide a wall has to be [mm]; beside a hole narrower than that, ``hole`` times the
    hole's width is enough, and beside a shallow cut as much as it is deep.
    """
    outer = path_of(layer.outline)
    voids = voids_of(layer)
    keys = {f"opening {number}" for number, one in enumerate(layer.openings) if one.main}
    main = [void for void in voids if void.key in keys]
    outside, inside = bevel_of(layer, "outer"), bevel_of(layer, "opening")
    found = [_short("wall", opening, outer, layer, outside + inside, wall) for opening in main]
    for void in voids:
        if void.entered == "side" or void.key in keys:
            continue
        needed = min(wall, hole * _narrow(void), void.high - void.low)
        found.append(_short(void.name, void, outer, layer, outside, needed))
        found += [
            _short(void.name, void, opening.path, layer, inside, needed, opening)
            for opening in main
            if not overlapping(void.path, opening.path)
        ]
    return [one for one in found if one is not None]


def _short(
    beside: str, cut: Void, edge: Path, layer: Layer, bevels: float, needed: float, other: Void | None = None
) -> Short | None:
    if (
        gap(cut.path, edge).by - bevels >= needed
    ):  # no width is less than the least, whichever way the grain runs
        return None
    least = thinnest_across(edge, cut.path, layer.grain)
    if least is None:
        return None
    return Short(beside, least[0] - bevels, bevels, needed, least[1], (cut, other) if other else (cut,))


def bevel_of(layer: Layer, loop: str) -> float:
    """What the chamfers of one edge take of the wall there, in the mean over its thickness: Σ c²·tan α/2t [mm]."""
    cut = sum(
        one.width**2 * tan(radians(one.angle)) for one in layer.chamfers if one.edge.endswith(f" {loop}")
    )
    return cut / (2.0 * layer.thickness)


def _narrow(void: Void) -> float:
    low_x, low_y, high_x, high_y = bounds(void.path)
    return min(high_x - low_x, high_y - low_y)


def thinnest_across(outer: Path, opening: Path, grain: float) -> tuple[float, tuple[float, float]] | None:
    """The least width [mm] between an edge and a cut where the grain runs across it, and where on the edge.

    ``grain`` is the bearing along which the grain runs [°]. None where the grain crosses no wall.
    """
    least = narrowest(outer, opening, grain, _ACROSS)
    return None if least is None else (least.by, least.at)
