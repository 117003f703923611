"""Cable: whether it passes the bore and its wires get to the light, what takes its pull."""

from collections.abc import Iterator

from stackview.checks.held import over
from stackview.checks.proposals import wider_bore
from stackview.checks.subject import Check, Subject
from stackview.checks.voids import MOUTH, bore_bar
from stackview.checks.wiring import wiring
from stackview.curves.arcs import length
from stackview.description.lamp import Bore, Layer
from stackview.description.service import Cable
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level

_PLAY = 0.2
"""Play of a cable in its bore, all round [mm]; common practice."""
_TOUCH = 1e-6
_ROUNDING = 1e-6
_SOURCE = "measures as described; plane geometry"


def cable(subject: Subject) -> tuple[Finding, ...]:
    """What keeps the cable from going in, or from holding."""
    if not subject.lamp.lights:
        return ()
    return (*_through(subject), *_relief(subject))


# --- through the bore ---


def _through(subject: Subject) -> Iterator[Finding]:
    lamp, units = subject.lamp, subject.lamp.units
    if lamp.cable is None:
        yield from wiring(subject)
        return
    bores = [(layer, bore) for layer in lamp.layers for bore in layer.bores]
    if not bores:
        wanted = lamp.cable.diameter + 2.0 * _PLAY
        yield Finding(
            check="cable",
            level=Level.NOTE,
            where=lamp.layers[0].name,
            parts=(lamp.layers[0].name,),
            what="no layer has a bore for the cable",
            source=_SOURCE,
            advice=_bored(lamp.layers[0], lamp.cable, wanted, units),
        )
    for layer, bore in bores:
        yield from _narrow(layer, bore, lamp.cable, units)
        yield from _deep(subject, layer, bore)
    yield from wiring(subject)


def _bored(layer: Layer, wire: Cable, wanted: float, units: Units) -> str:
    """What could bring the cable in. No drill is named: where bore and opening go, none has tried."""
    thick = f"the cable, {units.show(wire.diameter)} thick"
    if layer.thickness <= wanted:
        return (
            f"{layer.name} is too thin to be bored for {thick}: bring it up through an opening, or take a "
            "thicker sheet."
        )
    return (
        f"Add a bore to {layer.name} for {thick}, with some play, and an opening from its end up to the light, "
        "clear of what stands above; then check again whether its wires get there."
    )


def _narrow(layer: Layer, bore: Bore, wire: Cable, units: Units) -> Iterator[Finding]:
    for wide, what, level in (
        (wire.diameter, "the cable", Level.FAULT),
        (wire.plug, "its plug", Level.CAUTION),
    ):
        if wide is None or not over(wide, bore.diameter):
            continue
        yield Finding(
            check="cable",
            level=level if wire.written else Level.NOTE,
            where=f"{layer.name}, bore",
            parts=(layer.name,),
            what=f"{what} is {units.show(wide)} wide, and the bore {units.show(bore.diameter)}",
            value=wide,
            unit="mm",
            limit=bore.diameter,
            bound=Bound.MOST,
            source=_SOURCE,
            advice=(
                "Drill it wider"
                f"{', or pass the bare ends and put the plug on afterwards' if what == 'its plug' else ''}."
            ),
            ways=wider_bore(layer, bore, wide + 2.0 * _PLAY),
        )


def _deep(subject: Subject, layer: Layer, bore: Bore) -> Iterator[Finding]:
    """Whether a drill is long enough: from the outside in to where the bore ends."""
    bar, units, limit = bore_bar(layer, bore), subject.lamp.units, subject.limits["drill_reach"]
    if bar is None:
        return
    deep = length(bar.path) / 2.0 - bore.diameter + MOUTH  # of a bar as wide as the bore
    most = limit.value * bore.diameter
    if deep <= most + _ROUNDING:
        return
    yield Finding(
        check="cable",
        level=Level.CAUTION,
        where=f"{layer.name}, bore",
        parts=(layer.name,),
        what=f"it goes {units.show(deep)} deep, and a drill of {units.show(bore.diameter)} cuts {units.show(most)}",
        value=deep,
        unit="mm",
        limit=most,
        bound=limit.bound,
        source=limit.source,
        advice="Drill from both ends, let it end where it meets the opening (length), or take an extra-long drill "
        "and raise drill_reach.",
    )


# --- its pull ---


def _relief(subject: Subject) -> Iterator[Finding]:
    lamp = subject.lamp
    hangs = lamp.cord is not None
    given = lamp.cord.strain_relief if lamp.cord else lamp.cable.strain_relief if lamp.cable else True
    if given:
        return
    word = "cord" if hangs else "cable"
    yield Finding(
        check="cable",
        level=Level.NOTE if given is None else Level.CAUTION,
        where=word,
        what="nothing is said of a strain relief" if given is None else "there is no strain relief",
        source="common practice; IEC 60598-1 asks for one on luminaires, from memory",
        advice=(
            "Clamp it, or knot it inside, so that no pull comes on the joints"
            f"{', for the whole lamp hangs from it' if hangs else ''}; then write strain_relief = true under [{word}]."
        ),
    )


CHECK = Check(
    name="cable",
    question="Does the cable come in and hold, do its wires get to the light?",
    formula="cable and plug against the bore; bore length ≤ reach × diameter; a wire's middle is free where nothing "
    "within its radius is in the way, level by level",
    source="plane geometry; strain relief after IEC 60598-1, from memory",
    limits=("drill_reach",),
    run=cable,
)
