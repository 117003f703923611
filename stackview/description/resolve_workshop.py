"""Router, finish and wiring as written → as values."""

from collections.abc import Sequence
from dataclasses import replace

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import did_you_mean, place
from stackview.description.lamp import Layer
from stackview.description.references import known_layer
from stackview.description.units import shown
from stackview.description.workshop import Finishing, Router, Wiring, WoodFinish, Workshop
from stackview.description.workshop_tables import usual_workshop, wood_finishes
from stackview.description.written_workshop import WrittenFinishing

_OWN = "as written by the maker"


def resolve_workshop(context: Context, layers: Sequence[Layer]) -> Workshop:
    """What the file says of how the lamp is made, the usual for the rest."""
    usual = usual_workshop()
    return Workshop(
        _router(context, usual.router),
        _finishing(context, usual.finishing),
        _wiring(context, usual.wiring, layers),
    )


def _router(context: Context, usual: Router) -> Router:
    written = context.written.router
    if written is None:
        return usual
    least = usual.least_rpm if written.least_rpm is None else written.least_rpm
    most = usual.most_rpm if written.most_rpm is None else written.most_rpm
    if least > most:
        context.faults.add(
            "router",
            f"its slowest, least_rpm = {least:g}, is faster than its fastest, most_rpm = {most:g}: change one of them",
        )
    return Router(
        flutes=usual.flutes if written.flutes is None else written.flutes,
        least_rpm=least,
        most_rpm=most,
        outline=None if written.outline is None else written.outline.mm,
        groove=None if written.groove is None else written.groove.mm,
    )


def _finishing(context: Context, usual: Finishing) -> Finishing:
    written = context.written.finishing
    if written is None:
        return usual
    wood_grits, acrylic_grits = written.wood_grits, written.acrylic_grits
    for field, grits in (("wood_grits", wood_grits), ("acrylic_grits", acrylic_grits)):
        if grits is not None and list(grits) != sorted(grits):
            context.faults.add(
                f"finishing · {field}", f"{grits} do not go from coarse to fine: write the least number first"
            )
    return Finishing(
        _wood(context, written) or usual.wood,
        usual.wood_grits if wood_grits is None else tuple(wood_grits),
        usual.acrylic_grits if acrylic_grits is None else tuple(acrylic_grits),
    )


def _wood(context: Context, written: WrittenFinishing) -> WoodFinish | None:
    name = written.wood or str(defaults.WOOD_FINISH.value)
    known = wood_finishes().get(name.strip().lower())
    if known is None and (written.coats is None or written.hours is None):
        advice = did_you_mean(name, wood_finishes()) or ": give its coats and hours too"
        context.faults.add(place("finishing", "wood"), f"no finish {shown(name)} in the table{advice}")
        return None
    if known is None:
        # what a finish of the maker's own does to its rags nobody has said: they are treated as oily
        return WoodFinish(name, int(written.coats or 0), written.hours or 0.0, oily=True, source=_OWN)
    return replace(
        known,
        coats=known.coats if written.coats is None else written.coats,
        hours=known.hours if written.hours is None else written.hours,
    )


def _wiring(context: Context, usual: Wiring, layers: Sequence[Layer]) -> Wiring:
    written = context.written.wiring
    if written is None:
        return usual
    joined_in = None
    if written.joined_in is not None:
        joined_in = known_layer(context, written.joined_in, place("wiring", "joined_in"), layers)
    return Wiring(mm_or(written.tail, usual.tail), written.join or usual.join, joined_in)
