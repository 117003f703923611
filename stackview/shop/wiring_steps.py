"""Wiring as steps: strips and their tails, the cable's way in, the joint, and the light tests before things are shut in."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.checks.alike import together
from stackview.checks.assembly_order import AssemblyOrder
from stackview.checks.befores import strip_name
from stackview.checks.facets import AT_LARGE
from stackview.curves.arcs import polygon
from stackview.description.outline import path_of
from stackview.in_figures import figure
from stackview.light.layout import Lit
from stackview.light.supplies import FedTogether, fed_together, lights_said
from stackview.shop.access import CABLE, Sealed, ToReach, joint_thing, strip_thing, things_said
from stackview.shop.glue_up import place_key
from stackview.shop.step import After, WorkStep

if TYPE_CHECKING:
    from stackview.study import Study


@dataclass(frozen=True, slots=True)
class InWiring:
    """A step and the move that it comes right before; as many moves as there are for one that comes after all."""

    move: int
    step: WorkStep


def wiring_steps(
    study: "Study", order: AssemblyOrder, things: Sequence[ToReach], sealed: Sequence[Sealed]
) -> tuple[InWiring, ...]:
    """Every step of the wiring of one lamp with its place among the moves; none for a lamp without light."""
    lit = study.light.lit
    if not lit:
        return ()
    lost = {one.thing: one.move for one in sealed}
    end = len(order.moves)
    carriers = [_carried(order, one) for one in lit]
    soldered = [
        _soldered(study, order, one, move, wire_run(study, one.light.name, things))
        for one, move in zip(lit, carriers, strict=True)
    ]
    cable = _cable_in(study, order, lost)
    come_in = 0 if cable is None else cable.move
    # beside the lamp, on its tails, where it would be too late once all is in its place
    at = max(min(max(come_in, *(move + 1 for move in carriers)), lost.get(CABLE, end)), come_in)
    join = _join(study, lit, cable=cable is not None, beside=at <= max(carriers))
    tests = _tests(study, lost, at, end)
    return (*soldered, *([cable] if cable is not None else []), InWiring(at, join), *tests)


def _carried(order: AssemblyOrder, lit: Lit) -> int:
    """The move that brings what carries a light, or the strip itself where that is stuck on in its place."""
    wanted = (strip_name(lit.light.name), lit.light.layout.carrier)
    moves = [
        number
        for name in wanted
        for number, move in enumerate(order.moves)
        if name in move.names and not move.joins
    ]
    return moves[0]


@dataclass(frozen=True, slots=True)
class WireRun:
    """How wires go from where the cable comes in to a light: how far about [mm], and by what."""

    length: float
    by: str


def wire_run(study: "Study", light: str, things: Sequence[ToReach]) -> WireRun | None:
    """The way of a light's wires, straight up and across, and over the end of a tube that they come up in.

    None where no cable comes in.
    """
    known = {thing.name: thing for thing in things}
    cable, joint = known.get(CABLE), known.get(joint_thing(light))
    if cable is None or joint is None or not joint.places:
        return None
    start, z0, _ = cable.places[0]
    runs = []
    for place, low, high in joint.places:
        z1, across = (low + high) / 2.0, place.centroid.distance(start.centroid)
        end = _end_of_tube(study, start)
        if end is None:
            runs.append((abs(z1 - z0) + across, ""))
        else:
            height, by = end
            runs.append((abs(height - z0) + abs(height - z1) + across, by))
    length, by = max(runs)
    return WireRun(length, by)


def _end_of_tube(study: "Study", start: BaseGeometry) -> tuple[float, str] | None:
    """Where wires that come up inside a tube leave it [mm], and by what."""
    core = study.lamp.core
    if core is None or core.wall is None:
        return None
    hollow = shapely.Polygon(polygon(path_of(core.outline.grown(-core.wall)), AT_LARGE))
    if not hollow.contains(start.centroid):
        return None
    part = study.stack.part("core")
    if core.holes:
        return part.underside + core.holes[0].height, "inside the core and out by the hole in its wall"
    if core.stands_on is not None:
        return part.top, "up inside the core and over its upper end"
    return part.underside, "down inside the core and round its lower end"


def _soldered(study: "Study", order: AssemblyOrder, lit: Lit, move: int, run: WireRun | None) -> InWiring:
    """Strip or board made ready on the bench, before what carries it goes in."""
    units, wiring = study.lamp.units, study.lamp.workshop.wiring
    name, carrier, strip = lit.light.name, lit.light.layout.carrier, lit.light.layout.strip
    spare = units.rough(wiring.tail)
    tail = spare if run is None else units.rough(wiring.tail + run.length)
    told = () if run is None else (_way(run, units.rough(run.length), spare),)
    in_place = any(strip_name(name) in each.names for each in order.moves)
    by = "Solder" if wiring.join == "solder" else "Put connectors and"
    if strip is not None:
        cuts: dict[tuple[int, float], int] = {}
        for cut in lit.cuts:
            cuts[cut.segments, cut.length] = cuts.get((cut.segments, cut.length), 0) + 1
        lengths = ", ".join(
            f"{count} × {units.show(length)} ({segments} segment{'' if segments == 1 else 's'})"
            for (segments, length), count in cuts.items()
        )
        stick = (
            "keep it for later: it is stuck on when the core stands" if in_place else "stick it on the core"
        )
        title = f'Light "{name}": cut {lengths}, {"solder" if by == "Solder" else "fit"} tails'
        do = [
            f"Cut the strip at its marks: {lengths}.",
            f"{by} two tails of {tail} at the end where the wires come in, and try every length.",
            *told,
            f"Then {stick}, where the drawings have it; insulate what could touch metal.",
        ]
        title += "" if in_place else ", stick it on the core"
    else:
        title = f'Light "{name}": fix it on {carrier}, {"solder" if by == "Solder" else "fit"} tails'
        do = [
            f"{by} two tails of {tail}, and try it.",
            *told,
            f"Fix it on {carrier} with what takes its heat: screws or heat-conducting glue, by its data sheet.",
        ]
    return InWiring(
        _bench(order, move),
        WorkStep(
            key=f"solder {name}",
            phase="wire",
            title=title,
            parts=(carrier,),
            tools=("soldering iron" if wiring.join == "solder" else "connectors", "extraction", "multimeter"),
            do=tuple(do),
            after=(After(f"cut {carrier}", "it carries the light"),),
            needs=(joint_thing(name), strip_thing(name)),
        ),
    )


def _way(run: WireRun, far: str, spare: str) -> str:
    by = f", {run.by}" if run.by else ""
    return f"The way to where the cable comes in is about {far}{by}; {spare} more let the joint be made beside it."


def _bench(order: AssemblyOrder, move: int) -> int:
    """On the bench, before anything is glued: before the first move of the block that the carrier belongs to."""
    block = order.moves[move].block
    return next(number for number, each in enumerate(order.moves) if each.block == block)


def _cable_in(study: "Study", order: AssemblyOrder, lost: dict[str, int]) -> InWiring | None:
    """The cable through its bore, or the cord through the uppermost layer."""
    lamp, units = study.lamp, study.lamp.units
    line = lamp.cord or lamp.cable
    host = (
        lamp.layers[-1].name
        if lamp.cord is not None
        else next((one.name for one in lamp.layers if one.bores), None)
    )
    if line is None or host is None:
        return None
    move = next(number for number, each in enumerate(order.moves) if host in each.names and not each.joins)
    at = min(move + 1, lost.get(CABLE, move + 1))
    word = "cord" if lamp.cord is not None else "cable"
    way = f"the hole of {host}" if lamp.cord is not None else f"the bore of {host}"
    return InWiring(
        at,
        WorkStep(
            key="cable in",
            phase="wire",
            title=f"Bring the {word} in through {way}, with strain relief",
            parts=(host,),
            tools=("pliers", "multimeter"),
            do=(
                f"Unplugged; pull in {units.rough(lamp.workshop.wiring.tail)} more than the joint needs.",
                "Clamp or knot it inside, so that no pull comes on the joints.",
                *(
                    ("A plug goes through before the joint is made, or is fitted afterwards.",)
                    if lamp.cord is None
                    else ()
                ),
            ),
            after=(After(place_key(_with_it(order, host)), f"{host} is there") if at > move else _cut(host),),
            needs=(CABLE,),
        ),
    )


def _with_it(order: AssemblyOrder, name: str) -> str:
    return next(move.names[0] for move in order.moves if name in move.names and not move.joins)


def _cut(name: str) -> After:
    return After(f"cut {name}", "it is cut")


def _join(study: "Study", lit: Sequence[Lit], *, cable: bool, beside: bool) -> WorkStep:
    lamp, wiring = study.lamp, study.lamp.workshop.wiring
    what = "cord" if lamp.cord is not None else "cable"
    names = together([f'"{one.light.name}"' for one in lit])
    by = "Solder" if wiring.join == "solder" else "Plug"
    supplies = _supplies(study)
    to = f"the {what}" if len(supplies) == 1 else f"a {what} of their own supply"
    do = [f"{by} tails and {what} together, plus to plus; cover each joint with heat-shrink tube."]
    if len(supplies) > 1:
        fed = "; ".join(f"{lights_said(each.lit)} to {each.words}" for each in supplies)
        do.insert(0, f"Never join wires of two supplies: {fed}.")
    if wiring.joined_in is not None:
        do.append(f"The joint is to lie in {wiring.joined_in}.")
    if beside:
        do.append("Beside the lamp: the tails reach out of it; tuck them in afterwards, clear of the light.")
    drive = [one.light.name for one in lit if one.light.layout.set_current]
    if drive:
        quoted = together([f'light "{name}"' for name in drive])
        do.append(f"Put the driver or resistor that `stackview check` names before {quoted}.")
    if not cable:
        do.append(
            "The file has neither bore nor cord, so that the order does not know where the cable comes in."
        )
    after = [After(f"solder {one.light.name}", "its tails are on") for one in lit]
    after += [After("cable in", f"the {what} is in")] if cable else []
    return WorkStep(
        key="join wires",
        phase="wire",
        title=f"Join the tails of light {names} to {to}{', beside the lamp' if beside else ''}",
        parts=tuple(dict.fromkeys(one.light.layout.carrier for one in lit)),
        tools=("soldering iron" if wiring.join == "solder" else "connectors", "heat-shrink tube"),
        do=tuple(do),
        after=tuple(after),
        needs=(CABLE,) if cable else (),
    )


def _tests(study: "Study", lost: dict[str, int], at: int, end: int) -> tuple[InWiring, ...]:
    """A test right after the joint, and again before joints, and at last the lights, are shut in."""
    lit = study.light.lit
    things = [thing for one in lit for thing in (joint_thing(one.light.name), strip_thing(one.light.name))]
    joints = [lost[joint_thing(one.light.name)] for one in lit if joint_thing(one.light.name) in lost]
    lights = [lost[thing] for thing in things if thing in lost]
    moves = sorted({at, *([min(joints)] if joints else ()), *([max(lights)] if lights else ())})
    found = []
    for number, move in enumerate(one for one in moves if one >= at):
        open_still = tuple(thing for thing in things if lost.get(thing, end) >= move)
        shut = [thing for thing in things if lost.get(thing) == move]
        last = f" With the next part {things_said(shut)} cannot be reached any more." if shut else ""
        found.append(
            InWiring(
                move,
                WorkStep(
                    key=f"light test {number + 1}",
                    phase="test",
                    title="Light test"
                    + (f", the last with {things_said(shut)} within reach" if shut else ""),
                    parts=tuple(dict.fromkeys(one.light.layout.carrier for one in lit)),
                    tools=("the lamp's own supply", "multimeter"),
                    do=(
                        f"{_points(lit)} lit for ten minutes; move every wire; nothing flickers, nothing is too hot "
                        f"to touch.{last}",
                        *_draws(_supplies(study)),
                    ),
                    after=(After("join wires", "the light is joined"),),
                    needs=open_still,
                ),
            )
        )
    return tuple(found)


def _points(lit: Sequence[Lit]) -> str:
    count = sum(one.count for one in lit)
    return f"{count} light point{'' if count == 1 else 's'}"


def _supplies(study: "Study") -> tuple[FedTogether, ...]:
    return fed_together(study.light.lit, adapter=study.lamp.supply.adapter is not None)


def _draws(supplies: Sequence[FedTogether]) -> list[str]:
    """What a meter should show at each supply, where all is given that it feeds."""
    if len(supplies) == 1:
        amps = supplies[0].amperes
        return [] if not amps else [f"It should draw about {figure(amps, 2)} A."]
    return [
        f"From {fed.words} it should draw about {figure(fed.amperes, 2)} A ({lights_said(fed.lit)})."
        for fed in supplies
        if fed.amperes
    ]
