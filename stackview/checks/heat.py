"""Heat: how warm the skin and the inside get, against hand, wood, acrylic, glue, strip and diode.

What is told is with the air that the lamp's open gaps let through; beside it stands the same with
them shut, a bound from above. A lamp without gaps has but the bound.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import floor

from stackview.checks.airing import flow_of
from stackview.checks.alike import together
from stackview.checks.held import WHOLE_NUMBER, over
from stackview.checks.lamp_heat import Shell, Source, Warm, solved, warm
from stackview.checks.shell import shell_of, source_of, total_watts
from stackview.checks.subject import Check, Subject
from stackview.description.material import MaterialKind
from stackview.findings import Bound, Finding, Level, Way
from stackview.in_figures import figure
from stackview.light.layout import Lit
from stackview.stack.joints import glue_of, glued_joints

_SHARE = 1.0 / 1024.0
"""How finely the share of all watts is found that something stands."""
_ROUNDING = 1e-6
_NEAR = 0.5
"""Two temperatures nearer than this read alike [°C]."""
_SOURCE = "Churchill & Chu 1975 and grey radiation, solved"
_TOUCH: dict[MaterialKind, str] = {
    "metal": "touch_metal",
    "acrylic": "touch_plastic",
    "plastic": "touch_plastic",
    "wood": "touch_wood",
    "plywood": "touch_wood",
    "board": "touch_wood",
}


@dataclass(frozen=True, slots=True)
class Case:
    """One light of the lamp, lit with all the others: as its gaps are, and with them shut."""

    lit: Lit
    shell: Shell
    source: Source
    watts: float
    room: float
    flow: float
    open: Warm
    shut: Warm


@dataclass(frozen=True, slots=True)
class Heated:
    """One thing that must not get hotter than its limit [°C]; ``of`` reads its temperature."""

    where: str
    thing: str
    """As a sentence begins: "the strip"."""
    harm: str
    """What is said of the limit: "it is good for", "it burns a hand … from"."""
    of: Callable[[Warm], float]
    most: float
    source: str
    level: Level
    parts: tuple[str, ...]
    at_light: bool = False


def heat(subject: Subject) -> tuple[Finding, ...]:
    """Faults and cautions of what could get too hot, and a note of the temperatures."""
    lights = subject.light.lit
    watts = total_watts(lights)
    if not watts:
        return ()
    shell, room, flow = shell_of(subject), subject.limits.value("room_hottest"), flow_of(subject)
    cases = [_case(subject, lit, shell, watts, room, flow) for lit in lights]
    hottest = max(cases, key=lambda case: case.open.source)
    found = [_worst(subject, hottest, [held]) for held in _all_over(subject)]
    found += [_worst(subject, case, of) for case in cases for of in _at_the_light(subject, case.lit)]
    return (*(finding for finding in found if finding is not None), _note(hottest))


def _case(subject: Subject, lit: Lit, shell: Shell, watts: float, room: float, flow: float) -> Case:
    source = source_of(subject, lit)
    shut = warm(shell, watts, room, source)
    aired = warm(shell, watts, room, source, flow) if flow > 0.0 else shut
    return Case(lit, shell, source, watts, room, flow, aired, shut)


# --- what is held against what ---


def _skin(state: Warm) -> float:
    return state.skin


def _air(state: Warm) -> float:
    return state.air


def _face(state: Warm) -> float:
    return state.source


def _all_over(subject: Subject) -> Iterator[Heated]:
    """What the whole lamp's warmth comes to: hand, wood, acrylic, glue."""
    yield _hand(subject)
    wooden = [layer.name for layer in subject.lamp.layers if layer.material.is_wooden]
    if wooden:
        limit = subject.limits["wood_hottest"]
        where = together(wooden)
        yield Heated(
            where,
            "wood beside the air inside",
            "wood is safe up to",
            _air,
            limit.value,
            limit.source,
            Level.FAULT,
            tuple(wooden),
        )
    for name, extruded in (("acrylic_hottest", False), ("acrylic_extruded_hottest", True)):
        sheets = [
            layer.name
            for layer in subject.lamp.layers
            if layer.material.is_acrylic and layer.material.extruded == extruded
        ]
        if sheets:
            limit, sort = subject.limits[name], "extruded acrylic" if extruded else "acrylic"
            yield Heated(
                sheets[-1],
                "the air inside",
                f"{sort} is good for",
                _air,
                limit.value,
                limit.source,
                Level.CAUTION,
                tuple(sheets),
            )
    yield from _glues(subject)


def _hand(subject: Subject) -> Heated:
    """What of the outside burns soonest within ten seconds; if none does, within a minute."""
    kinds = {layer.material.kind for layer in subject.lamp.layers}
    least = min((subject.limits[_TOUCH[kind]] for kind in kinds), key=lambda limit: limit.value)
    minute = subject.limits["touch_minute"]
    return Heated(
        "whole lamp", "its skin", "it burns a hand that rests on it for a minute from", _skin,
        minute.value, f"{minute.source}; {least.name} {least.value:g} °C", Level.CAUTION, (),
    )  # fmt: skip


def _glues(subject: Subject) -> Iterator[Heated]:
    used: dict[str, list[str]] = {}
    known = {}
    parts: dict[str, dict[str, None]] = {}
    for joint in glued_joints(subject.stack):
        glue = glue_of(subject.lamp, joint)
        if glue.hottest is not None:
            used.setdefault(glue.name, []).append(f"{joint.upper.name} on {joint.lower.name}")
            known[glue.name] = glue
            parts.setdefault(glue.name, {}).update(dict.fromkeys((joint.lower.name, joint.upper.name)))
    for name, places in used.items():
        glue = known[name]
        assert glue.hottest is not None
        yield Heated(
            together(places),
            f"its {name}",
            "it holds up to",
            _air,
            glue.hottest,
            glue.source,
            Level.CAUTION,
            tuple(parts[name]),
        )


def _at_the_light(subject: Subject, lit: Lit) -> Iterator[list[Heated]]:
    """Strip and tape, or diode, and the wood that they lie on; of each list only the first that is too hot counts."""
    where, strip, limits = f'light "{lit.light.name}"', lit.light.layout.strip, subject.limits
    on = (lit.light.layout.carrier,)
    core = subject.lamp.core
    carrier = core.material if strip is not None and core is not None else None
    if strip is None:
        carrier = next(one.material for one in subject.lamp.layers if one.name == lit.light.layout.carrier)
    if carrier is not None and carrier.is_wooden:
        wood = limits["wood_hottest"]
        thing = "the wood that it lies on"
        yield [
            Heated(where, thing, "wood is safe up to", _face, wood.value, wood.source, Level.FAULT, on, True)
        ]
    if strip is not None:
        general, tape = limits["strip_hottest"], limits["tape_hottest"]
        most, source = (
            (general.value, general.source)
            if strip.hottest is None
            else (strip.hottest, "as written for this strip")
        )
        yield [
            Heated(where, "the strip", "it is good for", _face, most, source, Level.CAUTION, on, True),
            Heated(
                where, "its tape", "it is good for", _face, tape.value, tape.source, Level.CAUTION, on, True
            ),
        ]
    elif lit.light.layout.set_current:
        diode = limits["diode_hottest"]
        thing = "the board under the diode"
        yield [
            Heated(where, thing, "it is good for", _face, diode.value, diode.source, Level.CAUTION, on, True)
        ]


# --- findings ---


def _worst(subject: Subject, case: Case, held: list[Heated]) -> Finding | None:
    """The first of these that is hotter than its limit."""
    for one in held:
        if over(one.of(case.open), one.most, WHOLE_NUMBER):
            return _too_hot(subject, case, one)
    return None


def _too_hot(subject: Subject, case: Case, held: Heated) -> Finding:
    value, shut = held.of(case.open), held.of(case.shut)
    gaps = f" (about {shut:.0f} °C were its gaps shut)" if shut - value >= _NEAR else ""
    level = held.level
    if held.of is _skin and over(value, most := _ten_seconds(subject), WHOLE_NUMBER):
        level = Level.FAULT
        held = replace(held, harm="it burns a hand within ten seconds from", most=most)
    fewer = _watts_for(case, held.of, held.most)
    core = subject.lamp.core
    wooden = held.at_light and not (core is not None and core.material.is_metal)
    metal = ""
    if wooden:
        metal = ", mount it on metal" if case.lit.light.layout.strip is None else ", take a metal core"
    return Finding(
        check="heat",
        level=level,
        where=held.where,
        what=(
            f"{held.thing} could come to about {value:.0f} °C in a room at {case.room:g} °C, with {figure(case.watts, 1)} W "
            f"in the lamp{gaps}; {held.harm} {held.most:g} °C"
        ),
        short=f"{held.thing} may reach {value:.0f} °C; {held.harm} {held.most:g} °C",
        value=value,
        unit="°C",
        limit=held.most,
        source=f"{_SOURCE}{_AIRED if gaps else ''}; {held.source}",
        advice=(
            f"Run it at less power{metal}, or let air through below and above; then measure the first hour."
        ),
        ways=_dimmed(subject, fewer / case.watts),
        parts=held.parts,
        bound=Bound.MOST,
    )


def _dimmed(subject: Subject, share: float) -> tuple[Way, ...]:
    """All lights together at a share of their power."""
    return tuple(
        Way(f"light.{lit.light.name}", "power", 1.0, share, is_length=False, stepped=True)
        for lit in subject.light.lit
        if share > 0.0 and lit.amperes
    )


_AIRED = "; air through gaps by stack effect, the inside taken as mixed (ASHRAE Fundamentals, from memory)"


def _ten_seconds(subject: Subject) -> float:
    """Temperature at which the outside burns within ten seconds: of the material that does so soonest [°C]."""
    return min(subject.limits.value(_TOUCH[layer.material.kind]) for layer in subject.lamp.layers)


def _watts_for(case: Case, of: Callable[[Warm], float], most: float) -> float:
    """The most watts with which something stays as cool as ``most`` [°C], all lights dimmed alike, on the safe side [W]."""

    def hotter(share: float) -> float:
        dimmed = replace(case.source, watts=share * case.source.watts)
        return of(warm(case.shell, share * case.watts, case.room, dimmed, case.flow)) - most

    tenths = floor(solved(hotter, 0.0, 1.0, _SHARE) * case.watts * 10.0 + _ROUNDING)
    while tenths > 0 and hotter(tenths / 10.0 / case.watts) > 0.0:
        tenths -= 1
    return tenths / 10.0


def _note(case: Case) -> Finding:
    open_, shut = case.open, case.shut
    bracket = "stays below"
    air, face = f"{shut.air:.0f} °C", f"{shut.source:.0f} °C"
    if shut.air - open_.air >= _NEAR:
        bracket = "comes to"
        air = f"{open_.air:.0f} °C ({air} were its gaps shut)"
        face = f"{open_.source:.0f} °C ({face})"
    return Finding(
        check="heat",
        level=Level.FACT,
        where="whole lamp",
        what=(
            f"{figure(case.watts, 1)} W warm its skin to about {open_.skin:.0f} °C in a room at {case.room:g} °C; inside, "
            f"the air {bracket} about {air} and the light's face {bracket} about {face}"
        ),
        value=open_.skin - case.room,
        unit="K",
        source=_SOURCE + (_AIRED if bracket == "comes to" else "; shut, so the inside is a bound from above"),
        advice="An estimate: feel it after an hour before leaving it alone.",
    )


CHECK = Check(
    name="heat",
    question="How warm does the skin get for a hand, and how hot wood, acrylic, glue, tape, strip and diode inside?",
    formula=(
        "P = ΣA(h_c + h_r)(T_s − T∞) + ρcVΔT, Nu = (0.825 + 0.387 Ra^⅙/(1 + (0.492/Pr)^(9/16))^(8/27))²; "
        "through the wall t/kA; through open gaps V = C·A·√(2gH·ΔT/T), 1/A² = Σ 1/A_i²"
    ),
    source="Churchill & Chu 1975; Incropera & DeWitt 6th ed., Eq. 9.26, 9.30–9.32, 1.9; "
    "ASHRAE Fundamentals, stack effect, and ISO 13732-1, touch, from memory",
    limits=(
        "touch_minute",
        "touch_metal",
        "touch_plastic",
        "touch_wood",
        "wood_hottest",
        "acrylic_hottest",
        "acrylic_extruded_hottest",
        "strip_hottest",
        "tape_hottest",
        "diode_hottest",
        "room_hottest",
    ),
    run=heat,
)
