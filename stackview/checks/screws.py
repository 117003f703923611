"""Screws: whether they pass the holes drawn for them, and hold in what lies beyond.

Looked at along the axis of each small round hole under the heads: the layers lie where they are
seated, and a slab of one counts at the screw where its plan holds the whole circle of the thread.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import shapely

from stackview.checks.alike import together
from stackview.checks.facets import TO_PASS
from stackview.checks.held import under
from stackview.checks.slabs import Slab, slab_area, slabs_of_parts
from stackview.checks.subject import Check, Subject
from stackview.checks.voids import bore_bar
from stackview.curves.arcs import Path, bounds, turned
from stackview.description.lamp import Layer, Screws
from stackview.description.outline import around, path_of
from stackview.description.shapes import Circle
from stackview.findings import Bound, Finding, Level, Place, Way

_HEAD = 2.0
"""A countersunk head's diameter over its screw's: a wider hole lets it through (ISO 7050, from memory)."""
_SOURCE = "plane geometry; common practice for holes of wood screws"


@dataclass(frozen=True, slots=True)
class ScrewHole:
    """A round hole under a screw's head: its diameter, its middle as drawn and as it stands in the lamp [mm]."""

    key: str
    """Which opening of its layer it is."""
    diameter: float
    drawn: tuple[float, float]
    stands: tuple[float, float]


@dataclass(frozen=True, slots=True)
class DrivenScrew:
    """What one screw meets beyond the layer under its head."""

    hole: ScrewHole
    held: float
    """How much of it is in material all round, in the layer that it should hold in [mm]."""
    bitten: tuple[str, ...]
    """Layers between, which it has no hole through that is wide enough."""
    bores: tuple[str, ...]
    """Layers whose bore for a cable it comes into."""


def holes_for(screws: Screws, layer: Layer) -> list[ScrewHole]:
    """Round holes in a layer that a head of these screws covers, as they stand in the lamp."""
    found = []
    for number, opening in enumerate(layer.openings):
        shape = opening.outline.shape
        if opening.main or not isinstance(shape, Circle) or shape.diameter >= _HEAD * screws.diameter:
            continue
        for path in around(path_of(opening.outline, "opening"), opening.around):
            for copy in around(path, layer.around):
                drawn, stands = _middle(copy), _middle(turned(copy, layer.turn))
                found.append(ScrewHole(f"opening {number}", shape.diameter, drawn, stands))
    return found


def _middle(path: Path) -> tuple[float, float]:
    low_x, low_y, high_x, high_y = bounds(path)
    return (low_x + high_x) / 2.0, (low_y + high_y) / 2.0


def met_by(subject: Subject, screws: Screws, holes: list[ScrewHole]) -> list[DrivenScrew]:
    """What each screw meets, one in every hole."""
    parts = {part.name: part for part in subject.stack.placed}
    if not {screws.through, screws.into} <= parts.keys():
        return []
    first, last = parts[screws.through], parts[screws.into]
    down = first.underside > last.underside
    low, high = (
        (first.top - screws.length, first.top) if down else (first.underside, first.underside + screws.length)
    )
    ends = sorted((first.underside, last.underside))
    between = [
        layer
        for layer in subject.lamp.layers
        if layer.name not in (screws.through, screws.into)
        and layer.name in parts
        and ends[0] < parts[layer.name].underside < ends[1]
    ]
    slabs = slabs_of_parts(subject)

    def one(hole: ScrewHole) -> DrivenScrew:
        held = _in_material(hole, screws, slabs[screws.into], low, high)
        bitten = [each.name for each in between if _touched(hole, screws, slabs[each.name], low, high)]
        bores = [
            each.name
            for each in subject.lamp.layers
            if each.name in parts and _in_bore(hole, screws, each, parts[each.name].underside, low, high)
        ]
        return DrivenScrew(hole, held, tuple(bitten), tuple(bores))

    return [one(hole) for hole in holes]


def _in_material(hole: ScrewHole, screws: Screws, slabs: tuple[Slab, ...], low: float, high: float) -> float:
    """Length over which the whole thread is in material [mm]; what a narrower hole leaves of it counts."""
    thread = shapely.Point(hole.stands).buffer(screws.diameter / 2.0 - TO_PASS, quad_segs=32).exterior
    return sum(length for slab, length in _along(slabs, low, high) if shapely.covers(slab.area, thread))


def _touched(hole: ScrewHole, screws: Screws, slabs: tuple[Slab, ...], low: float, high: float) -> bool:
    thread = shapely.Point(hole.stands).buffer(screws.diameter / 2.0 - TO_PASS)
    return any(
        length > TO_PASS and shapely.intersects(slab.area, thread)
        for slab, length in _along(slabs, low, high)
    )


def _along(slabs: tuple[Slab, ...], low: float, high: float) -> Iterator[tuple[Slab, float]]:
    """The slabs that reach between two heights of a screw, and how long they go along it [mm]."""
    for slab in slabs:
        length = slab.within(low, high)
        if length > 0.0:
            yield slab, length


def _in_bore(hole: ScrewHole, screws: Screws, layer: Layer, foot: float, low: float, high: float) -> bool:
    for bore in layer.bores:
        bar = bore_bar(layer, bore)
        if bar is None or min(foot + bar.high, high) - max(foot + bar.low, low) <= TO_PASS:
            continue
        area = slab_area(turned(bar.path, layer.turn))
        if shapely.distance(area, shapely.Point(hole.stands)) < screws.diameter / 2.0 - TO_PASS:
            return True
    return False


def screws_hold(subject: Subject) -> tuple[Finding, ...]:
    """Every set of screws that the holes drawn for it do not serve; a fact where none are drawn."""
    layers = {layer.name: layer for layer in subject.lamp.layers}
    return tuple(
        finding
        for screws in subject.lamp.screws
        for finding in _of_set(subject, screws, layers[screws.through], layers[screws.into])
    )


def _of_set(subject: Subject, screws: Screws, under_head: Layer, holding: Layer) -> Iterator[Finding]:
    holes = holes_for(screws, under_head)
    if not holes:
        yield _finding(
            screws,
            Level.FACT,
            f"no holes are drawn for them in {under_head.name}: they are drilled once both layers lie in their places",
        )
        return
    yield from _in_the_head_layer(subject, screws, under_head, holes)
    met = met_by(subject, screws, holes)
    if not met:
        return
    yield from _on_the_way(screws, met)
    yield from _where_they_hold(subject, screws, holding, met)


def _in_the_head_layer(
    subject: Subject, screws: Screws, under_head: Layer, holes: list[ScrewHole]
) -> Iterator[Finding]:
    units = subject.lamp.units
    if len(holes) < screws.count:
        yield _finding(
            screws,
            Level.CAUTION,
            f"there are {screws.count} of them, but only {len(holes)} such hole{'s' if len(holes) > 1 else ''} in "
            f"{under_head.name}",
            short=f"more screws than holes in {under_head.name}",
            advice=f"Draw {screws.count} holes, or take fewer screws.",
            parts=(under_head.name,),
            cause="number of holes",
        )
    narrow = min(holes, key=lambda hole: hole.diameter)
    if under(narrow.diameter, screws.diameter):
        ways = tuple(
            Way(
                under_head.name,
                f"size of {key}",
                0.0,
                (screws.diameter - diameter) / 2.0,
                along="size of the holes",
            )
            for key, diameter in dict.fromkeys((hole.key, hole.diameter) for hole in holes)
            if under(diameter, screws.diameter)
        )
        yield _finding(
            screws,
            Level.CAUTION,
            f"the holes in {under_head.name} are {units.show(narrow.diameter)} wide, the screws "
            f"{units.show(screws.diameter)}: they bite there too, and do not draw the layers together",
            short=f"they do not pass their holes in {under_head.name}",
            advice="Make those holes as wide as the screws.",
            value=narrow.diameter,
            limit=screws.diameter,
            parts=(under_head.name,),
            places=tuple(
                Place(under_head.name, *hole.drawn) for hole in holes if under(hole.diameter, screws.diameter)
            ),
            cause="holes narrower than the screws",
            ways=ways,
        )


def _on_the_way(screws: Screws, met: list[DrivenScrew]) -> Iterator[Finding]:
    bitten = tuple(dict.fromkeys(name for one in met for name in one.bitten))
    if bitten:
        yield _finding(
            screws,
            Level.CAUTION,
            f"they go through {together(bitten)}, which {'has' if len(bitten) == 1 else 'have'} no hole there that they "
            "pass: they would bite, or split it",
            short=f"no hole for them in {together(bitten)}",
            advice="Draw a hole there as wide as the screws, in line with the others.",
            parts=bitten,
            cause="no hole on the way",
        )
    bored = tuple(dict.fromkeys(name for one in met for name in one.bores))
    if bored:
        yield _finding(
            screws,
            Level.CAUTION,
            f"{_so_many(sum(bool(one.bores) for one in met), len(met))} come into the bore of {together(bored)}, where "
            "the cable lies",
            short=f"they come into the bore of {together(bored)}",
            advice="Turn the holes or the bore aside.",
            parts=bored,
            cause="screws in a bore",
        )


def _where_they_hold(
    subject: Subject, screws: Screws, holding: Layer, met: list[DrivenScrew]
) -> Iterator[Finding]:
    units, limit = subject.lamp.units, subject.limits["screw_grip"]
    least = limit.value * screws.diameter
    # Where a layer has more holes than there are screws, the best of them are taken.
    taken = sorted(met, key=lambda one: -one.held)[: screws.count]
    loose = [one for one in taken if under(one.held, least)]
    if loose:
        worst = loose[-1].held
        yield _finding(
            screws,
            Level.CAUTION,
            f"{_so_many(len(loose), len(taken))} find "
            + (
                f"only {units.show(worst)} of {holding.name} to hold in"
                if worst > TO_PASS
                else f"nothing of {holding.name} to hold in"
            ),
            short=f"little of {holding.name} holds them",
            advice=f"Put the holes over {holding.name}'s material, its own holes narrower than the screws, or take longer "
            "ones.",
            value=worst,
            limit=least,
            source=limit.source,
            parts=(holding.name, screws.through),
            places=tuple(Place(screws.through, *one.hole.drawn) for one in loose),
            cause="nothing to hold in",
        )
    if holding.material.is_acrylic:
        yield _finding(
            screws,
            Level.CAUTION,
            f"{holding.name} is acrylic: a wood screw splits it",
            short=f"{holding.name} is acrylic, which they split",
            advice="Tap a thread for machine screws, or go through it into wood or a nut.",
            parts=(holding.name,),
            cause="screws into acrylic",
        )


def _so_many(some: int, of: int) -> str:
    return "they" if some == of else f"{some} of {of}"


def _finding(screws: Screws, level: Level, what: str, **more: Any) -> Finding:
    """What is told of a set of screws."""
    length = {"unit": "mm", "bound": Bound.LEAST} if "limit" in more else {}
    return Finding(
        "screws",
        level,
        f"{screws.name}, through {screws.through} into {screws.into}",
        what,
        **{"source": _SOURCE, **length, **more},
    )


CHECK = Check(
    name="screws",
    question="Do the screws pass the holes drawn for them, and hold in what lies beyond?",
    formula="holes under the head: at least as many as screws, as wide as the screws, under twice that; the thread in "
    "material all round over at least its limit; nothing bitten on the way, no bore for a cable met",
    source=_SOURCE,
    limits=("screw_grip",),
    run=screws_hold,
)
