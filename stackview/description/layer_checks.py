"""Checks of one layer that need no mesh: depths, heights, openings against the outline.

Sizes are compared by the circles inside and around an outline: cheap and certain. What passes
here is judged on the exact curves when the solids are made.
"""

import math

from stackview.description.context import Context
from stackview.description.faults import place
from stackview.description.lamp import Layer, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.resolve_layers import numbered
from stackview.description.stack_order import Draft
from stackview.description.written_fields import LAST_BIT, LEAST_SIZE


def check_layer(context: Context, draft: Draft, layer: Layer) -> None:
    """Add a fault for everything in one layer that cannot be cut as written."""
    faults = context.faults
    if layer.outline.narrowest <= 0:
        faults.add(
            place(draft.where, "step", "size"),
            f"leaves {context.say(layer.outline.narrowest)} across: a smaller step, or fewer copies",
            once=(draft.entry, "shrunk"),
        )
        return
    _check_wall(context, draft, layer)
    written = [opening for opening in layer.openings if not (draft.written.wall and opening.main)]
    for index, opening in enumerate(written):
        where = place(draft.entry, numbered("opening", index, len(draft.written.opening)))
        _check_opening(context, draft, layer, opening, where, index)
    _check_recesses(context, draft, layer)
    _check_grooves(context, draft, layer)
    _check_chamfers(context, draft, layer)
    _check_bores(context, draft, layer)


def _check_wall(context: Context, draft: Draft, layer: Layer) -> None:
    wall = draft.written.wall
    if wall is None:
        return
    wide = layer.outline.narrowest
    most = wide / 2 - context.cutter_radius
    # a round opening may be drilled narrower than the cutter
    if wall.mm >= wide / 2 or (layer.outline.radius is None and wall.mm > most + LAST_BIT):
        narrow = f"an opening narrower than the cutter, {context.say(2 * context.cutter_radius)}"
        context.faults.add(
            place(draft.where, "wall"),
            f"{wall} on both sides of a layer {context.say(wide)} across leaves "
            f"{'no opening' if wall.mm >= wide / 2 else narrow}: "
            + (
                f"at most {context.units.most(most)}, which leaves one as wide as the cutter"
                if most > LEAST_SIZE
                else "make the layer larger, or leave the wall out"
            ),
            once=(draft.entry, "wall"),
        )


def _check_opening(
    context: Context, draft: Draft, layer: Layer, opening: Opening, where: str, index: int
) -> None:
    outline, host = opening.outline, layer.outline
    once = (draft.entry, "opening", index)
    if outline.radius is None and outline.narrowest < 2 * context.cutter_radius:
        _too_narrow(context, outline, where, once)
    centre = math.hypot(outline.at[0] - host.at[0], outline.at[1] - host.at[1])
    if opening.around is not None and layer.around is None:
        # a copy's centre is at least this far from the axis, wherever on its circle it stands
        centre = abs(opening.around.circle / 2 - math.hypot(*outline.at)) - math.hypot(*host.at)
    reaches, there = centre + outline.inner_reach, host.outer_reach
    wider = centre == 0 and (
        outline.inner_reach >= host.inner_reach > 0 or outline.outer_reach >= host.outer_reach
    )
    if reaches >= there or wider:
        reaches = max(reaches, outline.outer_reach if wider else 0.0)
        context.faults.add(
            where,
            f"reaches {context.say(reaches)} from the middle of a layer whose outline reaches {context.say(there)}: "
            "it lies outside the outline; make it smaller or move it inwards",
            once=once,
        )


def _too_narrow(context: Context, outline: Outline, where: str, once: tuple[object, ...]) -> None:
    context.faults.add(
        where,
        f"is {context.say(outline.narrowest)} across at its narrowest, narrower than the cutter, "
        f"{context.say(2 * context.cutter_radius)}: widen it or name a smaller cutter",
        once=once,
    )


def _check_recesses(context: Context, draft: Draft, layer: Layer) -> None:
    for index, written in enumerate(draft.written.recess):
        where = place(draft.entry, numbered("recess", index, len(draft.written.recess)))
        if written.depth.mm >= layer.thickness:
            context.faults.add(
                place(where, "depth"),
                f"{written.depth} is not less than the layer's thickness, {context.say(layer.thickness)}: "
                "make it shallower, or make it an opening",
                once=(draft.entry, "depth", index),
            )
        if written.around is not None and written.outline is None:
            context.faults.absent(where, "several recesses around the axis need an outline: add one")
    for recess in layer.recesses:
        _check_recess_outline(context, draft, layer, recess)
    both = [
        max((recess.depth for recess in layer.recesses if recess.face == face), default=0.0)
        for face in ("top", "underside")
    ]
    if min(both) > 0 and max(both) < layer.thickness <= sum(both):
        context.faults.add(
            place(draft.entry, "recess"),
            f"{context.say(both[0])} from the top and {context.say(both[1])} from the underside meet in a layer "
            f"{context.say(layer.thickness)} thick: make them shallower",
            once=(draft.entry, "recesses meet"),
        )


def _check_recess_outline(context: Context, draft: Draft, layer: Layer, recess: Recess) -> None:
    where = place(draft.entry, "recess")
    once = (draft.entry, "recess outline", recess.face)
    if recess.outline.radius is None and recess.outline.narrowest < 2 * context.cutter_radius:
        _too_narrow(context, recess.outline, where, once)
    if recess.fitted_to is None and recess.outline.at == layer.outline.at:
        wanted, there = recess.outline.inner_reach, layer.outline.outer_reach
        if wanted >= there:
            context.faults.add(
                where,
                f"is {context.say(2 * wanted)} across and takes away the whole face, {context.say(2 * there)}: "
                "make it smaller, or the layer thinner",
                once=once,
            )


def _check_grooves(context: Context, draft: Draft, layer: Layer) -> None:
    for index, groove in enumerate(layer.grooves):
        where = place(draft.entry, numbered("groove", index, len(layer.grooves)))
        once = (draft.entry, "groove", index)
        floor = 0.0
        if groove.along == "recess":
            recesses = [recess for recess in layer.recesses if recess.face == groove.face]
            if not recesses and not any(r.face == groove.face for r in draft.written.recess):
                context.faults.absent(
                    where, f"runs along a recess, but the {groove.face} has none: add a recess, or say along"
                )
                continue
            # it runs where a neighbour is seated; without one in the largest recess, which the solids decide
            seats = [recess.depth for recess in recesses if recess.fitted_to is not None]
            floor = max(seats) if seats else min((recess.depth for recess in recesses), default=0.0)
        if groove.along == "opening" and not any(opening.main for opening in layer.openings):
            context.faults.absent(
                where, "runs along the opening, but the layer has none: add wall or opening, or say along"
            )
        if floor < layer.thickness <= floor + groove.depth:
            context.faults.add(
                place(where, "depth"),
                f"{context.say(groove.depth)} goes through: {context.say(layer.thickness - floor)} is left there; "
                "make it shallower",
                once=once,
            )


def _check_chamfers(context: Context, draft: Draft, layer: Layer) -> None:
    where = place(draft.entry, "chamfer")
    for loop in ("outer", "opening"):
        heights = {
            chamfer.edge: chamfer.width * math.tan(math.radians(chamfer.angle))
            for chamfer in layer.chamfers
            if chamfer.edge.endswith(loop)
        }
        if sum(heights.values()) > layer.thickness:
            context.faults.add(
                where,
                f"takes {context.say(sum(heights.values()))} of the height at {' and '.join(heights)} of a layer "
                f"{context.say(layer.thickness)} thick: make it smaller",
                once=(draft.entry, "chamfer", loop),
            )
        if loop == "opening" and heights and not any(opening.main for opening in layer.openings):
            context.faults.absent(
                where, "is to bevel the opening, but the layer has none: add wall or opening"
            )
    edges = [chamfer.edge for chamfer in layer.chamfers]
    for edge in dict.fromkeys(edge for edge in edges if edges.count(edge) > 1):
        context.faults.add(
            where, f'the edge "{edge}" is bevelled twice: keep one of the two', once=(draft.entry, "twice")
        )


def _check_bores(context: Context, draft: Draft, layer: Layer) -> None:
    for index, bore in enumerate(layer.bores):
        low, high = bore.height - bore.diameter / 2, bore.height + bore.diameter / 2
        if low <= 0 or high >= layer.thickness:
            context.faults.add(
                place(draft.entry, numbered("bore", index, len(layer.bores))),
                f"{context.say(bore.diameter)} at a height of {context.say(bore.height)} breaks out of a layer "
                f"{context.say(layer.thickness)} thick: make it smaller, or move it to mid-height",
                once=(draft.entry, "bore", index),
            )
