"""The file's model → the lamp: every name resolved, every fault that needs no mesh reported."""

from collections.abc import Sequence
from pathlib import Path

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.curve_file import Drawings
from stackview.description.faults import Faults, place
from stackview.description.fitting import fit_layers
from stackview.description.lamp import Core, Lamp, Layer
from stackview.description.layer_checks import check_layer
from stackview.description.limits_table import Limit, own_limit
from stackview.description.resolve_layers import cut_layer
from stackview.description.resolve_light import resolve_lights
from stackview.description.resolve_materials import resolve_materials
from stackview.description.resolve_outline import named_outline
from stackview.description.resolve_parts import (
    resolve_cord,
    resolve_core,
    resolve_eyes,
    resolve_feet,
    resolve_posts,
    resolve_surface,
)
from stackview.description.resolve_screws import resolve_screws
from stackview.description.resolve_service import (
    resolve_cable,
    resolve_gluing,
    resolve_rooms,
    resolve_supply,
)
from stackview.description.resolve_sheets import resolve_sheets
from stackview.description.resolve_workshop import resolve_workshop
from stackview.description.service_tables import usual_gluing, usual_rooms
from stackview.description.stack_order import Draft, draft_stack
from stackview.description.units import shown
from stackview.description.written_lamp import WrittenLamp


def resolve(
    written: WrittenLamp,
    folder: Path,
    faults: Faults,
    *,
    allow_outside: bool = False,
    drawings: Drawings | None = None,
) -> Lamp | None:
    """Resolve a lamp's file; faults are added to ``faults`` and None returned where there are any.

    ``folder`` is where curve files lie; only ``allow_outside`` lets them lie elsewhere; ``drawings``
    holds those read already.
    """
    context = Context(written, folder, allow_outside, faults, drawings or Drawings())
    for name in written.outlines:
        named_outline(context, name, f"outline {shown(name)}")
    resolve_materials(context)
    drafts = draft_stack(context)
    layers = _layers(context, drafts)
    core = resolve_core(context, layers)
    _check_core(context, core, layers)
    surface, hangs_at = resolve_surface(context)
    gluing, rooms = resolve_gluing(context, layers), resolve_rooms(context)
    core_known = core is not None or (written.core is None and not faults.is_lost("any", "core"))
    lamp = Lamp(
        name=written.name,
        unit=written.unit,
        layers=layers,
        posts=resolve_posts(context, layers),
        screws=resolve_screws(context, layers),
        core=core,
        feet=resolve_feet(context, layers),
        cord=resolve_cord(context, layers),
        lights=resolve_lights(context, layers, core, core_known=core_known),
        surface=surface,
        hangs_at=hangs_at,
        eyes=resolve_eyes(context, surface),
        chord_error=mm_or(written.chord_error, defaults.CHORD_ERROR.number),
        cutter=2.0 * context.cutter_radius,
        limits=_limits(context),
        gluing=gluing or usual_gluing(),
        rooms=rooms or usual_rooms(),
        supply=resolve_supply(context),
        cable=resolve_cable(context),
        sheets=resolve_sheets(context),
        workshop=resolve_workshop(context, layers),
        currency=written.currency or "",
    )
    return None if faults.all() else lamp


def _layers(context: Context, drafts: Sequence[Draft]) -> tuple[Layer, ...]:
    if not context.written.layer and not context.faults.is_lost("any", "layer"):
        context.faults.add("layer", "the lamp has no layers: begin with a [[layer]], the base, and go up")
    cut = [cut_layer(context, draft) for draft in drafts]
    made = [layer for layer in cut if layer is not None]
    for draft, layer in zip(drafts, cut, strict=True):
        if layer is None:
            # It has been told what is wrong with it; that it is missing elsewhere is no news.
            context.faults.lost.setdefault("layer", set()).add(draft.name)
    whole = len(made) == len(cut) and not any(context.faults.is_lost("any", k) for k in ("layer", "groups"))
    # with a layer missing, its neighbours would be fitted to the wrong ones
    fitted = fit_layers(context, drafts, made) if whole else tuple(made)
    for draft, layer in zip([d for d, c in zip(drafts, cut, strict=True) if c], fitted, strict=True):
        check_layer(context, draft, layer)
    return fitted


def _limits(context: Context) -> tuple[Limit, ...]:
    found = []
    for name, value in context.written.limits.items():
        try:
            found.append(own_limit(name, value, context.units, "your own limit, in the lamp's file"))
        except ValueError as wrong:
            context.faults.add(place("limits", shown(name)), str(wrong))
    return tuple(found)


def _check_core(context: Context, core: Core | None, layers: Sequence[Layer]) -> None:
    """A fault for every single opening that the core surely does not pass.

    Heights are those of a stack that seats everywhere, the lowest they can be, so that no layer
    is blamed that the core does not reach.
    """
    if core is None or core.height is None:
        return
    names = [layer.name for layer in layers]
    host = names.index(core.stands_on or core.hangs_from or names[0])
    up = 1 if core.stands_on else -1
    reached, passed = 0.0, host + up
    while 0 <= passed < len(layers) and reached < core.height - core.sunk - 1e-9:
        layer = layers[passed]
        for opening in layer.openings:
            if opening.around is None and layer.around is None and opening.outline.at == core.outline.at:
                for reach, room, word in (
                    (core.outline.inner_reach, opening.outline.inner_reach, "narrowest"),
                    (core.outline.outer_reach, opening.outline.outer_reach, "widest"),
                ):
                    wide, hole = 2 * reach, 2 * room
                    if wide > hole:
                        context.faults.add(
                            place("core", "outline"),
                            f"the core is {context.say(wide)} across at its {word}, and the opening of layer "
                            f"{shown(layer.name)} is {context.say(hole)}: a larger opening, or a thinner core",
                            once=("core", word),
                        )
                        break
        reached += layer.thickness
        passed += up
