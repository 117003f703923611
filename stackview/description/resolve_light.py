"""Light sources as written → light sources as values."""

import math
from collections.abc import Sequence

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import did_you_mean, place
from stackview.description.lamp import Core, Layer
from stackview.description.light_source import (
    Diode,
    Emitter,
    Feed,
    Helix,
    Layout,
    Light,
    Panel,
    Ring,
    Runs,
    Strip,
)
from stackview.description.references import known_layer
from stackview.description.resolve_outline import pair
from stackview.description.resolve_service import known_ports
from stackview.description.units import shown
from stackview.description.wording import label
from stackview.description.written_light import LAYOUT_KEYS, STRIP_LAYOUTS, WrittenLight, light_names

MOST_POINTS = 100_000
"""Light points in one lamp."""
_STRIP_KEYS = (
    "leds_per_metre", "spacing", "cut_every", "width", "thickness", "lumens_per_metre", "watts_per_metre",
    "bend_radius", "hottest", "ohms_per_metre",
)  # fmt: skip
_FOR_EXAMPLE = "runs = { count = 6 } on a core, ring = { diameter = 60, count = 12 } on a layer"


def resolve_lights(
    context: Context, layers: Sequence[Layer], core: Core | None, *, core_known: bool
) -> tuple[Light, ...]:
    """All light sources; ``core_known`` is false where a core is written but could not be read."""
    made: list[Light] = []
    total = 0
    kinds = [
        [key for key in LAYOUT_KEYS if getattr(light, key) is not None] for light in context.written.light
    ]
    names = light_names([(light.name, kinds[index]) for index, light in enumerate(context.written.light)])
    for index, written in enumerate(context.written.light):
        where = label("light", index, {"name": written.name})
        given = kinds[index]
        name = names[index]
        if len(given) != 1 or name is None:
            found = f"{' and '.join(given)} are given" if given else "its kind is missing"
            (context.faults.add if given else context.faults.absent)(
                where, f"{found}: give exactly one of {', '.join(LAYOUT_KEYS)}, e.g. {_FOR_EXAMPLE}"
            )
            continue
        kind = given[0]
        if any(name == light.name for light in made):
            context.faults.add(place(where, "name"), f"two lights are called {shown(name)}: rename one")
        light, points = _light(context, written, kind, name, where, layers, core, core_known)
        total += points
        if light is not None:
            made.append(light)
    if total > MOST_POINTS:
        context.faults.add(
            "light",
            f"{total} light points are more than a lamp may have, {MOST_POINTS}: fewer or shorter strips",
        )
    return tuple(made)


def _light(
    context: Context,
    written: WrittenLight,
    kind: str,
    name: str,
    where: str,
    layers: Sequence[Layer],
    core: Core | None,
    core_known: bool,
) -> tuple[Light | None, int]:
    """One light and the number of its light points (a bound for strips)."""
    feed = _feed(context, written, where)
    layout: Layout | None
    if kind in STRIP_LAYOUTS:
        strip = _strip(context, written, where)
        if not core_known or strip is None:
            return None, 0
        if core is None:
            context.faults.absent(place(where, kind), "needs a core to sit on: add a [core] table")
            return None, 0
        layout, points = (_helix if kind == "helix" else _runs)(context, written, strip, core, layers, where)
        emitter = _emitter(context, written, where, strip)
    else:
        for key in _STRIP_KEYS:
            if getattr(written, key) is not None:
                context.faults.add(
                    place(where, key), f"goes with a strip, but this is a {kind}: leave it out"
                )
        for key in ("continuous", "fed_at_both_ends"):
            if getattr(written, key):
                context.faults.add(
                    place(where, key), f"goes with a strip, but this is a {kind}: leave it out"
                )
        if written.price is not None and written.price.per != "piece":
            what = (
                f"{written.price} goes with a strip, but this is a {kind}: give it per piece, the whole light"
            )
            context.faults.add(place(where, "price"), what)
        layout, points = _on_layer(context, written, kind, where, layers)
        emitter = _emitter(context, written, where, None)
    return (Light(name, layout, emitter, feed, written.price) if layout is not None else None), points


def _strip(context: Context, written: WrittenLight, where: str) -> Strip | None:
    ways = [k for k in ("leds_per_metre", "spacing") if getattr(written, k) is not None]
    if written.continuous and ways:
        context.faults.add(
            place(where, ways[0]),
            "a continuous strip counts as a light point every "
            f"{context.say(defaults.CONTINUOUS_SPACING.number)}: leave it out",
        )
    elif len(ways) == 2:
        context.faults.add(where, "leds_per_metre and spacing say the same: keep one of the two")
    spacing = 1000.0 / (written.leds_per_metre or defaults.LEDS_PER_METRE.number)
    spacing = written.spacing.mm if written.spacing else spacing
    spacing = defaults.CONTINUOUS_SPACING.number if written.continuous else spacing
    # common practice: 5 V strip is cut between any two LEDs
    cut_every = mm_or(written.cut_every, spacing)
    # a cut mark stands between two light points; half a per cent allows for a rounded pitch
    if cut_every < spacing * 0.995:
        context.faults.add(
            place(where, "cut_every"),
            f"{written.cut_every} is shorter than from light point to light point, {context.say(spacing)}: "
            "give the distance between two cut marks",
        )
        return None
    return Strip(
        spacing=spacing,
        cut_every=cut_every,
        width=mm_or(written.width, defaults.STRIP_WIDTH.number),
        thickness=mm_or(written.thickness, defaults.STRIP_THICKNESS.number),
        continuous=written.continuous,
        bend_radius=mm_or_none(written.bend_radius),
        hottest=written.hottest,
        ohms_per_metre=defaults.STRIP_TRACKS.number
        if written.ohms_per_metre is None
        else written.ohms_per_metre,
    )


def _room(core: Core, layers: Sequence[Layer], start: float) -> float:
    """Height on the core above ``start``; of a core without a height at most that of the stack [mm]."""
    height = core.height if core.height is not None else sum(layer.thickness for layer in layers)
    return max(height - start, 0.0)


def _helix(
    context: Context, written: WrittenLight, strip: Strip, core: Core, layers: Sequence[Layer], where: str
) -> tuple[Helix | None, int]:
    helix = written.helix
    assert helix is not None
    where = place(where, "helix")
    radius = core.outline.radius
    if radius is None:
        context.faults.add(
            where, "is wound on a round core, and this core is not round: use runs, or a round core"
        )
        return None, 0
    start = mm_or(helix.start, defaults.STRIP_START.number)
    if helix.pitch.mm < strip.width:
        context.faults.add(
            place(where, "pitch"),
            f"{helix.pitch} is less than the strip's width, {context.say(strip.width)}, so turns would overlap: "
            "wind it wider",
        )
    if helix.turns is not None and helix.length is not None:
        context.faults.add(where, "turns and length are both given: keep one of the two")
    # one turn at mid-thickness, √((2πr)² + p²)
    round_ = 2 * math.pi * (radius + strip.thickness / 2)
    per_turn = math.hypot(round_, helix.pitch.mm)
    most = max(_room(core, layers, start) - strip.width, 0.0) / helix.pitch.mm * per_turn
    asked = helix.length.mm if helix.length else (helix.turns * per_turn if helix.turns else math.inf)
    length = min(asked, most)
    _long_enough(context, strip, length, where)
    made = Helix(strip, helix.pitch.mm, start, helix.first, helix.hand, helix.turns, mm_or_none(helix.length))
    return made, math.floor(length / strip.spacing)


def _runs(
    context: Context, written: WrittenLight, strip: Strip, core: Core, layers: Sequence[Layer], where: str
) -> tuple[Runs, int]:
    runs = written.runs
    assert runs is not None
    start = mm_or(runs.start, defaults.STRIP_START.number)
    length = min(mm_or(runs.length, math.inf), _room(core, layers, start))
    _long_enough(context, strip, length, place(where, "runs"))
    made = Runs(strip, runs.count, runs.first, start, mm_or_none(runs.length))
    return made, runs.count * math.floor(length / strip.spacing)


def mm_or_none(length: object) -> float | None:
    """Millimetres of a length, or None."""
    return getattr(length, "mm", None)


def _long_enough(context: Context, strip: Strip, length: float, where: str) -> None:
    if length < strip.cut_every * (1 - 1e-9):
        context.faults.add(
            where,
            f"has room for {context.say(length)} of strip, shorter than one segment, {context.say(strip.cut_every)} "
            "from cut mark to cut mark: make the core or the strip longer",
        )


def _on_layer(
    context: Context, written: WrittenLight, kind: str, where: str, layers: Sequence[Layer]
) -> tuple[Layout | None, int]:
    source = getattr(written, kind)
    on = known_layer(context, source.on, place(where, kind, "on"), layers)
    on = on or (layers[0].name if layers and source.on is None else None)
    if on is None:
        return None, 0
    if written.ring is not None:
        ring = written.ring
        made = Ring(ring.diameter.mm, ring.count, on, mm_or(ring.height, 0.0), ring.facing, ring.first)
        return made, ring.count
    if written.panel is not None:
        panel = written.panel
        spacing = mm_or(panel.spacing, defaults.PANEL_SPACING.number)
        return Panel(
            panel.columns, panel.rows, spacing, on, panel.facing, pair(panel.at)
        ), panel.columns * panel.rows
    diode = written.diode
    assert diode is not None
    return Diode(on, diode.facing, pair(diode.at), mm_or(diode.height, 0.0), diode.tilt, diode.bearing), 1


def _emitter(context: Context, written: WrittenLight, where: str, strip: Strip | None) -> Emitter:
    """Optical data of one light point; what is written per metre is shared out by the spacing."""
    share = strip.spacing / 1000.0 if strip else 0.0
    for one, metre in (("lumens", "lumens_per_metre"), ("watts", "watts_per_metre")):
        if getattr(written, one) is not None and getattr(written, metre) is not None:
            context.faults.add(where, f"{one} and {metre} say the same: keep one of the two")
    face = defaults.LED_FACE.pair
    if written.diode is not None:
        face = defaults.DIODE_FACE.pair
    elif strip is not None and strip.continuous:
        face = (strip.spacing, min(3.0, strip.width))
    return Emitter(
        beam=written.beam if written.beam is not None else defaults.BEAM.number,
        face=pair(written.face) if written.face else face,
        kelvin=written.colour_temperature or defaults.KELVIN.number,
        lumens=_shared(written.lumens, written.lumens_per_metre, share),
        watts=_shared(written.watts, written.watts_per_metre, share),
        amps=written.milliamps / 1000.0 if written.milliamps is not None else None,
    )


def _shared(one: float | None, metre: float | None, share: float) -> float | None:
    if one is not None:
        return one
    return metre * share if metre is not None and share else None


def _feed(context: Context, written: WrittenLight, where: str) -> Feed:
    port = written.port.strip().lower() if written.port else None
    table = known_ports(context)
    if port is not None and port not in table and not context.faults.is_lost("port", str(written.port)):
        context.faults.add(
            place(where, "port"), f"no port {shown(written.port)} in the table{did_you_mean(port, table)}"
        )
    known = table.get(port) if port else None
    if known and written.volts is not None and written.volts != known.volts:
        context.faults.add(
            where,
            f"volts = {written.volts:g}, but its port {shown(port)} gives {known.volts:g} V: change one of them",
        )
    volts = written.volts if written.volts is not None else (known.volts if known else defaults.VOLTS.number)
    amps, source = (known.amps, known.source) if known else (None, "")
    return Feed(volts, port, amps, source, written.fed_at_both_ends)
