"""Heat: how warm the skin gets, and a bound for the inside, against acrylic, tape and strip."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise
from math import floor, pi

from stackview.checks.lamp_heat import Shell, Source, Warm, spread_width, warm
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import Path, area, length
from stackview.description.lamp import Core, Layer
from stackview.description.outline import path_of
from stackview.findings import Bound, Finding, Level
from stackview.light.layout import Lit

_CONDUCTIVITY = {
    "wood": 0.13,
    "plywood": 0.13,
    "board": 0.12,
    "acrylic": 0.19,
    "metal": 100.0,
    "plastic": 0.2,
}
"""[W/mK]: wood across the grain, Wood Handbook ch. 4 (0.10 to 0.18); the rest from memory."""
_AS_LIGHT = 0.25
"""Least share of its power that a white LED gives off as light and not as heat; from memory."""
_WIDEST_WALL = 0.5
"""A layer whose wall is wider than this share of its opening's edge is a floor or a lid, not a ring."""
_ROUNDS = 12
_FILM = 10.0
"""Heat transfer of a warm face in still air, for how far heat spreads in a core [W/m²K]; common practice."""
_SOURCE = (
    "Churchill & Chu 1975 and grey radiation, solved; gaps taken as shut, so the inside is a bound from above"
)


def heat(subject: Subject) -> tuple[Finding, ...]:
    """Cautions where acrylic, tape or strip could get too hot, and a note of the temperatures."""
    lights = subject.light.lit
    watts = total_watts(lights)
    if not watts:
        return ()
    shell, room = shell_of(subject), subject.limits.value("room_hottest")
    found: list[Finding] = []
    hottest: Warm | None = None
    hottest_light = lights[0]
    for lit in lights:
        state = warm(shell, watts, room, source_of(subject, lit))
        if hottest is None or state.source > hottest.source:
            hottest, hottest_light = state, lit
        found.extend(_strip_too_hot(subject, lit, shell, state, watts))
    assert hottest is not None
    acrylic = _acrylic_too_hot(subject, shell, source_of(subject, hottest_light), hottest, watts)
    return (*acrylic, *found, _note(subject, hottest, watts))


def total_watts(lights: tuple[Lit, ...]) -> float | None:
    """Power of the lights together [W]; None where one of them is not given."""
    total = 0.0
    for lit in lights:
        if lit.watts is not None:
            total += lit.watts
        elif lit.amperes is not None:
            total += lit.amperes * lit.light.feed.volts
        else:
            return None
    return total


def shell_of(subject: Subject) -> Shell:
    """The lamp's outside and inside, from outlines and heights as they stand.

    Heat leaves by the rings' walls, the top and, of a pendant, the underside; the plates between
    and the table below are left out, for a bound.
    """
    layers = {layer.name: layer for layer in subject.lamp.layers}
    parts = [part for part in subject.stack.placed if part.role == "layer"]
    marks = sorted({level for part in parts for level in (part.underside, part.top)})
    side = 0.0
    for low, high in pairwise(marks):
        here = [layers[p.name] for p in parts if p.underside < high - 1e-9 and p.top > low + 1e-9]
        if here:
            side += max(_outer_edge(layer) for layer in here) * (high - low)
    bottom, top = layers[parts[0].name], layers[parts[-1].name]
    hangs = subject.lamp.hangs_at is not None
    inner, through = _walls(tuple(layers.values()))
    for layer, counts in ((top, True), (bottom, hangs)):
        if counts:
            size = area(path_of(layer.outline))
            inner += size
            through += _CONDUCTIVITY[layer.material.kind] * size / layer.thickness
    roof = area(path_of(top.outline))
    return Shell(
        side=side * 1e-6,
        height=(marks[-1] - marks[0]) / 1000.0,
        top=roof * 1e-6,
        bottom=area(path_of(bottom.outline)) * 1e-6 if hangs else 0.0,
        span=roof / _outer_edge(top) / 1000.0,
        inner=inner * 1e-6,
        through=through / 1000.0,
    )


def _walls(layers: tuple[Layer, ...]) -> tuple[float, float]:
    """Inner side of the rings [mm²], and Σ kA/t of their walls [mW/K], A the mean of in and out."""
    inner = through = 0.0
    for layer in layers:
        hole = _main_hole(layer)
        if hole is None or layer.material.kind == "acrylic" or layer.around is not None:
            continue
        outside, inside = length(path_of(layer.outline)), length(hole)
        wall = 2.0 * (area(path_of(layer.outline)) - area(hole)) / (outside + inside)
        if wall > _WIDEST_WALL * inside:
            continue
        inner += inside * layer.thickness
        through += _CONDUCTIVITY[layer.material.kind] * layer.thickness * (outside + inside) / 2.0 / wall
    return inner, through


def _outer_edge(layer: Layer) -> float:
    """Length of the outside [mm]; pieces on a circle count as the round that they stand on."""
    if layer.around is not None:
        return pi * layer.around.circle
    return length(path_of(layer.outline))


def _main_hole(layer: Layer) -> Path | None:
    holes = [path_of(opening.outline) for opening in layer.openings if opening.around is None]
    return max(holes, key=area, default=None)


def source_of(subject: Subject, lit: Lit) -> Source:
    """The areas by which a light loses its heat.

    A strip, and as much of the core beside it as heat spreads to, no more than the whole core;
    a metal tube gives to the air inside it too. Without a strip, the floor that the lights sit
    on, a square decimetre at most.
    """
    core, strip = subject.lamp.core, lit.light.layout.strip
    watts = (total_watts((lit,)) or 0.0) * (1.0 - _AS_LIGHT)
    if core is None or strip is None:
        return Source(watts, 0.01, 0.01, 0.1)
    part = subject.stack.part("core")
    tall = part.top - part.underside
    whole = length(path_of(core.outline)) * tall
    spread = 1000.0 * spread_width(_CONDUCTIVITY[core.material.kind], _thick(core) / 1000.0, _FILM)
    outside = min(whole, lit.length * (strip.width + 2.0 * spread))
    both = 2.0 if core.wall is not None and core.material.kind == "metal" else 1.0
    return Source(watts, both * outside * 1e-6, outside * 1e-6, tall / 1000.0)


def _thick(core: Core) -> float:
    """Wall of a tube, or half the thickness of a solid core [mm]."""
    radius = core.outline.radius
    half = radius if radius is not None else area(path_of(core.outline)) / length(path_of(core.outline)) * 2.0
    return core.wall if core.wall is not None else half


def watts_for(shell: Shell, source: Source, watts: float, room: float, cool: Callable[[Warm], bool]) -> float:
    """The most of ``watts`` with which it stays cool, all lights dimmed alike, on the safe side [W]."""
    low, high = 0.0, 1.0
    for _ in range(_ROUNDS):
        share = (low + high) / 2.0
        dimmed = replace(source, watts=share * source.watts)
        low, high = (share, high) if cool(warm(shell, share * watts, room, dimmed)) else (low, share)
    return floor(low * watts * 10.0) / 10.0


def _strip_too_hot(subject: Subject, lit: Lit, shell: Shell, state: Warm, watts: float) -> Iterator[Finding]:
    tape_strip = lit.light.layout.strip
    if tape_strip is None:
        return
    tape, general = subject.limits["tape_hottest"], subject.limits["strip_hottest"]
    own = tape_strip.hottest
    strip = general.value if own is None else own
    for what, most, source in (
        ("the strip", strip, general.source if own is None else "as written for this strip"),
        ("its tape", tape.value, tape.source),
    ):
        if state.source <= most:
            continue
        room = subject.limits.value("room_hottest")
        fewer = watts_for(shell, source_of(subject, lit), watts, room, partial(_cool_source, most))
        core = subject.lamp.core
        metal = "" if core is not None and core.material.kind == "metal" else ", take a metal core"
        yield Finding(
            check="heat",
            level=Level.CAUTION,
            where=f'light "{lit.light.name}"',
            what=(
                f"{what} could come to about {state.source:.0f} °C in a room at {room:g} °C, with {watts:.1f} W "
                f"in the lamp; it is good for {most:g} °C"
            ),
            value=state.source,
            unit="°C",
            limit=most,
            bound=Bound.MOST,
            source=f"{_SOURCE}; {source}",
            advice=(
                f"Run it at about {fewer:.1f} W or less{metal}, or let air through; then measure "
                "the first hour."
            ),
        )
        return


def _cool_source(most: float, state: Warm) -> bool:
    return state.source <= most


def _cool_air(most: float, state: Warm) -> bool:
    return state.air <= most


def _acrylic_too_hot(
    subject: Subject, shell: Shell, source: Source, state: Warm, watts: float
) -> Iterator[Finding]:
    limit = subject.limits["acrylic_hottest"]
    acrylic = [layer.name for layer in subject.lamp.layers if layer.material.kind == "acrylic"]
    if not acrylic or state.air <= limit.value:
        return
    room = subject.limits.value("room_hottest")
    fewer = watts_for(shell, source, watts, room, partial(_cool_air, limit.value))
    yield Finding(
        check="heat",
        level=Level.CAUTION,
        where=acrylic[-1],
        what=(
            f"the air inside could come to about {state.air:.0f} °C in a room at {room:g} °C, with {watts:.1f} W "
            f"in the lamp; acrylic is good for {limit.value:g} °C"
        ),
        value=state.air,
        unit="°C",
        limit=limit.value,
        bound=limit.bound,
        source=f"{_SOURCE}; {limit.source}",
        advice=f"Stay below about {fewer:.1f} W, or let air through below and above.",
    )


def _note(subject: Subject, state: Warm, watts: float) -> Finding:
    room = subject.limits.value("room_hottest")
    return Finding(
        check="heat",
        level=Level.NOTE,
        where="whole lamp",
        what=(
            f"{watts:.1f} W warm its skin to about {state.skin:.0f} °C in a room at {room:g} °C; inside, the air "
            f"stays below about {state.air:.0f} °C and the light's face below about {state.source:.0f} °C"
        ),
        value=state.skin - room,
        unit="K",
        source=_SOURCE,
        advice="An estimate: feel it after an hour before leaving it alone.",
    )


CHECK = Check(
    name="heat",
    question="How warm does the skin get, and how hot at most acrylic, tape and strip inside?",
    formula=(
        "P = ΣA(h_c + h_r)(T_s − T∞), Nu = (0.825 + 0.387 Ra^⅙/(1 + (0.492/Pr)^(9/16))^(8/27))²; "
        "through the wall t/kA; air and source by the same films"
    ),
    source="Churchill & Chu 1975; Incropera & DeWitt 6th ed., Eq. 9.26, 9.30–9.32, 1.9",
    limits=("acrylic_hottest", "strip_hottest", "tape_hottest", "room_hottest"),
    run=heat,
)
