"""Fits recesses to the layers that lie in them, and turns each plate with the layer it seats in."""

from collections.abc import Sequence
from dataclasses import replace

from stackview.description.context import Context, mm_or
from stackview.description.faults import place
from stackview.description.lamp import Layer, Recess
from stackview.description.outline import Outline
from stackview.description.resolve_layers import cut_to, numbered, turned_about_axis
from stackview.description.stack_order import Draft
from stackview.description.written_layer import WrittenRecess


def fit_layers(context: Context, drafts: Sequence[Draft], layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """Add every fitted recess, cut to its neighbour's outline plus clearance, and set every turn.

    A layer that seats in a fitted recess takes the whole turn of the layer it seats in, plus the
    turn written for itself; a step's turn then comes through that layer and is not added twice.
    Where recesses on both sides are fitted to one layer, it turns with the layer below.
    """
    hosts = _hosts(context, drafts)
    turns = [_turn(index, drafts, hosts) for index in range(len(drafts))]
    turned = [replace(layer, turn=turn) for layer, turn in zip(layers, turns, strict=True)]
    made = []
    for index, (draft, layer) in enumerate(zip(drafts, turned, strict=True)):
        fitted = []
        for number, written in enumerate(draft.written.recess):
            if written.outline is None:
                recess = _fitted(context, drafts, turned, hosts, index, number, written)
                fitted += [recess] if recess else []
        made.append(replace(layer, recesses=(*layer.recesses, *fitted)) if fitted else layer)
    return tuple(made)


def _neighbour(index: int, written: WrittenRecess, count: int) -> int | None:
    other = index + 1 if written.face == "top" else index - 1
    return other if 0 <= other < count else None


def _hosts(context: Context, drafts: Sequence[Draft]) -> list[int | None]:
    """For each layer the index of the layer whose fitted recess it seats in, the lower one first."""
    hosts: list[int | None] = [None] * len(drafts)
    for face in ("underside", "top"):
        for index, draft in enumerate(drafts):
            for written in draft.written.recess:
                other = _neighbour(index, written, len(drafts))
                if written.outline is None and written.face == face and other is not None:
                    hosts[other] = index
    for index, host in enumerate(hosts):
        if host is not None and hosts[host] == index and host < index:
            context.faults.add(
                place(drafts[index].entry, "recess"),
                f'is fitted to layer "{drafts[host].name}", whose own recess is fitted to this one: '
                "keep one of the two",
                once=(drafts[index].entry, "mutual"),
            )
            hosts[host] = None
    return hosts


def _turn(index: int, drafts: Sequence[Draft], hosts: Sequence[int | None]) -> float:
    """Turn of a layer: through the chain of layers that it seats in, to the one that turns by itself."""
    extra, seen = 0.0, set[int]()
    while (host := hosts[index]) is not None and index not in seen:
        seen.add(index)
        extra += drafts[index].written.turn
        index = host
    return float(drafts[index].written.turn + drafts[index].change.turn + extra)


def _fitted(
    context: Context,
    drafts: Sequence[Draft],
    layers: Sequence[Layer],
    hosts: Sequence[int | None],
    index: int,
    number: int,
    written: WrittenRecess,
) -> Recess | None:
    draft, host = drafts[index], layers[index]
    where = place(draft.entry, numbered("recess", number, len(draft.written.recess)))
    once = (draft.entry, "recess", number)
    other = _neighbour(index, written, len(drafts))
    side = "above" if written.face == "top" else "below"
    if other is None:
        context.faults.add(
            where,
            f"is to be fitted, but no layer lies {side}: give it an outline, or another face",
            once=once,
        )
        return None
    neighbour = layers[other]
    if written.around or neighbour.around or host.around:
        pieces = (
            "this recess" if written.around else f'layer "{(neighbour if neighbour.around else host).name}"'
        )
        context.faults.add(
            where,
            f"cannot be fitted, because {pieces} is several separate pieces: give it an outline",
            once=once,
        )
        return None
    clearance = mm_or(written.clearance, context.clearance)
    # the exact written turn where the neighbour seats here: a difference of sums would be a hair off
    by = drafts[other].written.turn if hosts[other] == index else neighbour.turn - host.turn
    plain = replace(turned_about_axis(neighbour.outline, by), cutter_radius=0.0)
    edge = cut_to(context, plain.grown(clearance))
    _check_fit(context, host, edge, neighbour, where, once)
    return Recess(written.face, written.depth.mm, edge, clearance, fitted_to=neighbour.name)


def _check_fit(
    context: Context, host: Layer, edge: Outline, neighbour: Layer, where: str, once: tuple[object, ...]
) -> None:
    """Faults for a recess that surely breaks through the host's edge or falls through its opening."""
    if edge.at == host.outline.at:
        # a drawing that lies beside its own centre holds no circle about it: the exact curves decide there
        for reach, room, word in (
            (edge.inner_reach, host.outline.inner_reach, "across at its narrowest"),
            (edge.outer_reach, host.outline.outer_reach, "across at its widest"),
        ):
            wanted, there = 2 * reach, 2 * room
            if wanted >= there > 0:
                context.faults.add(
                    where,
                    f'for layer "{neighbour.name}" it is {context.say(wanted)} {word}, but this layer is only '
                    f"{context.say(there)}: make the plate smaller",
                    once=once,
                )
                return
    for opening in host.openings:
        if opening.around is None and opening.outline.at == edge.at:
            held, hole = 2 * edge.outer_reach, 2 * opening.outline.inner_reach
            if held <= hole:
                context.faults.add(
                    where,
                    f'for layer "{neighbour.name}" it is {context.say(held)} across, and this layer\'s opening '
                    f"is {context.say(hole)}: nothing would hold it; make it larger, or the opening smaller",
                    once=once,
                )
