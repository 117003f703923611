"""Supply: current against port, adapter, fuse and wire; voltage at the far end; cable, bore and repair."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor

from stackview.checks.held import TENTH, over
from stackview.checks.power_given import power_at_odds
from stackview.checks.proposals import smaller_fuse, sold_wires, thicker_wires
from stackview.checks.subject import Check, Subject
from stackview.checks.supplies_apart import several_supplies
from stackview.checks.wire import least_area, strip_drop, two_wire_drop, wire_resistance
from stackview.description.lamp import Lamp
from stackview.description.light_source import Feed
from stackview.description.materials_table import ports
from stackview.description.service_tables import carries, copper
from stackview.findings import Bound, Finding, Level, Way
from stackview.in_figures import figure
from stackview.light.layout import Lit
from stackview.light.supplies import FedTogether, carriers_of_lights, fed_together, lights_said

_SHORTEST = 0.2
"""No cable to a lamp is shorter [m]; common practice."""


@dataclass(frozen=True, slots=True)
class Wire:
    """The two wires that carry all the current: length [m], copper of each [mm²], and their place.

    ``written`` is false where nothing but defaults is known, so that only notes can come of it.
    """

    metres: float
    mm2: float
    where: str
    written: bool
    in_gauge: bool

    def thicker(self, least: float | None) -> tuple[Way, ...]:
        """The next wires sold of at least a cross-section [mm²], told in the measure in which these are written."""
        return thicker_wires(self.where, self.mm2, least, in_gauge=self.in_gauge)

    def least_for(self, amps: float) -> float | None:
        """The least cross-section sold that carries a current [mm²]; None where the table has none."""
        sizes = sold_wires(in_gauge=self.in_gauge).values()
        return next((size for size in sizes if carries(size)[0] >= amps), None)


def supply(subject: Subject) -> tuple[Finding, ...]:
    """Faults of overloaded ports, adapters and fuses; cautions of voltage and wire; notes of the rest."""
    supplies = fed_together(subject.light.lit, adapter=subject.lamp.supply.adapter is not None)
    found = list(several_supplies(subject.lamp, supplies))
    for fed in supplies:
        found.extend(_power(fed.feed, fed.lit))
        found.extend(_port(subject.lamp, fed.feed, fed.lit))
    found.extend(power_at_odds(subject.light.lit))
    found.extend(_drivers(subject.light.lit))
    found.extend(_rating(subject, lights=subject.light.lit))
    for fed in supplies:
        found.extend(_voltage(subject, fed))
        found.extend(_wire_load(subject, fed))
    return tuple(found)


def _wire_of(lamp: Lamp) -> Wire | None:
    """The cord of a pendant, or the cable of a lamp that stands."""
    if lamp.cord is not None and lamp.cord.wire_mm2 is not None:
        return Wire(lamp.cord.length / 1000.0, lamp.cord.wire_mm2, "cord", True, lamp.cord.in_gauge)
    if lamp.cable is not None:
        cable = lamp.cable
        return Wire(cable.length / 1000.0, cable.wire_mm2, "cable", cable.written, cable.in_gauge)
    return None


@dataclass(frozen=True, slots=True)
class _Current:
    """Current of several lights together [A], as far as it is given; ``whole`` where it is for all of them."""

    amps: float
    whole: bool

    @property
    def words(self) -> str:
        """As it is said: ``0.97 A``, or that it is no less."""
        return f"{'' if self.whole else 'at least '}{figure(self.amps, 2)} A"


def _current(lights: Sequence[Lit]) -> _Current:
    given = [lit.amperes for lit in lights if lit.amperes is not None]
    return _Current(sum(given), len(given) == len(lights))


def _power(feed: Feed, lights: Sequence[Lit]) -> Iterator[Finding]:
    unknown = [lit for lit in lights if lit.amperes is None]
    count = sum(lit.count for lit in unknown or lights)
    points = f"{count} light point{'s' if count != 1 else ''}"
    if unknown:
        whose = "its" if len(unknown) == 1 else "their"
        judged = f"nothing is said about {whose} supply"
        if len(unknown) < len(lights):
            judged = f"{whose} supply is held against the other lights alone"
        yield Finding(
            check="supply",
            level=Level.NOTE,
            where=lights_said(unknown),
            parts=carriers_of_lights(unknown),
            what=f"neither watts nor milliamps are given for {whose} {points}, so {judged}",
            advice="Write watts_per_metre, watts or milliamps, as its data sheet has it.",
        )
        return
    amps = _current(lights).amps
    watts = [lit.watts if lit.watts is not None else (lit.amperes or 0.0) * feed.volts for lit in lights]
    yield Finding(
        check="supply",
        level=Level.FACT,
        where=lights_said(lights),
        parts=carriers_of_lights(lights),
        what=f"{points} draw{'s' if count == 1 else ''} {figure(amps, 2)} A at {feed.volts:g} V, {figure(sum(watts), 1)} W",
        value=amps,
        unit="A",
        source="number of light points × current of each, or power over voltage",
    )


def _port(lamp: Lamp, feed: Feed, lights: Sequence[Lit]) -> Iterator[Finding]:
    drawn, count = _current(lights), sum(lit.count for lit in lights)
    amps = drawn.amps
    if feed.amps is None or lamp.supply.adapter is not None or not over(amps, feed.amps):
        return
    enough = [port for port in ports().values() if port.amps >= amps and port.volts == feed.volts]
    better = min(enough, key=lambda port: port.amps, default=None)
    ways = []
    if better is not None:
        ways.append("feed it from a port that gives more")
    else:
        ways.append("feed it from an adapter that gives as much")
    most = floor(feed.amps / (amps / count) + 1e-9)
    if most >= 1:
        ways.append("light fewer of its light points")
    if count == 1 or most < 1:
        ways.append("run it at less current")
    text = ", or ".join(ways)
    if len(lights) > 1:
        text = text.replace(" it ", " them ").replace(" its ", " their ")
    draws = f"{'they draw' if len(lights) > 1 else 'it draws'} {drawn.words}"
    yield Finding(
        check="supply",
        level=Level.FAULT,
        where=lights_said(lights),
        parts=carriers_of_lights(lights),
        what=f'{draws}, and the port "{feed.port}" gives {feed.amps:g} A',
        short=f"{draws}; the port gives {feed.amps:g} A",
        value=amps,
        unit="A",
        limit=feed.amps,
        bound=Bound.MOST,
        source=feed.source,
        advice=f"{text[0].upper()}{text[1:]}.",
        ways=_fed(feed, lights, amps, better.name if better is not None else None) if drawn.whole else (),
    )


def _fed(feed: Feed, lights: Sequence[Lit], amps: float, better: str | None) -> tuple[Way, ...]:
    """A port of the same voltage that gives enough, or an adapter where there is none; or all lights at less power."""
    names = [f"light.{lit.light.name}" for lit in lights]
    ports = [f"light.{lit.light.name}" for lit in lights if lit.light.feed.port is not None]
    ways = [
        Way(name, "port", feed.port or "", better, is_length=False) for name in ports if better is not None
    ]
    if better is None:
        ways.append(Way("supply", "adapter", "none", ceil(amps * 2.0) / 2.0, is_length=False))
    share = (feed.amps or 0.0) / amps
    ways += [Way(name, "power", 1.0, share, is_length=False, stepped=True) for name in names]
    return tuple(ways)


def _drivers(lights: tuple[Lit, ...]) -> Iterator[Finding]:
    """Power diodes, which take a set current and not a voltage: R = (U − P/I)/I with a resistor."""
    for lit in lights:
        emitter, volts = lit.light.emitter, lit.light.feed.volts
        if not lit.light.layout.set_current or emitter.amps is None or not emitter.watts:
            continue
        forward = emitter.watts / emitter.amps
        resistor = ""
        if forward < volts:
            ohms = (volts - forward) / emitter.amps
            resistor = f", or a resistor of {ohms:.1f} Ω that takes {(volts - forward) * emitter.amps:.2f} W"
        yield Finding(
            check="supply",
            level=Level.NOTE,
            where=lights_said([lit]),
            parts=carriers_of_lights([lit]),
            what=(
                f"a power diode is run at a current: {1000.0 * emitter.amps:.0f} mA, at which it drops "
                f"{forward:.2f} V of {volts:g} V"
            ),
            value=forward,
            unit="V",
            source="U = P/I; R = (U − U_F)/I (Ohm's law)",
            advice=f"Put a driver for {1000.0 * emitter.amps:.0f} mA before it{resistor}.",
        )


def _rating(subject: Subject, lights: tuple[Lit, ...]) -> Iterator[Finding]:
    """Adapter and fuse against the current of all lights."""
    drawn, given = _current(lights), subject.lamp.supply
    amps = drawn.amps
    for word, rating in (("adapter", given.adapter), ("fuse", given.fuse)):
        if rating is not None and over(amps, rating):
            yield Finding(
                check="supply",
                level=Level.FAULT,
                where=word,
                what=f"all lights together draw {drawn.words}, and the {word} is for {rating:g} A",
                value=amps,
                unit="A",
                limit=rating,
                bound=Bound.MOST,
                source="as written in the lamp's file",
                advice=f"Take {'an' if word == 'adapter' else 'a'} {word} that stands it.",
                ways=(Way("supply", word, rating, ceil(amps * 2.0) / 2.0, is_length=False),)
                if drawn.whole
                else (),
            )
    wire = _wire_of(subject.lamp)
    if given.fuse is not None and wire is not None:
        stands, source = carries(wire.mm2)
        if over(given.fuse, stands):
            yield Finding(
                check="supply",
                level=Level.CAUTION if wire.written else Level.NOTE,
                where="fuse",
                what=f"a fuse of {given.fuse:g} A does not protect wires of {wire.mm2:.2g} mm², good for {stands:.1f} A",
                value=given.fuse,
                unit="A",
                limit=stands,
                bound=Bound.MOST,
                source=source,
                advice="Take a smaller fuse, or thicker wires.",
                ways=(
                    *(smaller_fuse(given.fuse, amps, wire.mm2) if drawn.whole else ()),
                    *wire.thicker(wire.least_for(given.fuse)),
                ),
            )


# --- voltage ---


def _strip_loss(lit: Lit) -> float:
    """Voltage lost along the longest length of a light's strip [V]; 0 without strip or current."""
    strip, feed = lit.light.layout.strip, lit.light.feed
    if strip is None or not lit.cuts or lit.amperes is None:
        return 0.0
    count = max(cut.count for cut in lit.cuts)
    each = lit.amperes / lit.count
    ohms = strip.ohms_per_metre * strip.spacing / 1000.0
    return strip_drop(count, each, ohms, both_ends=feed.both_ends)


def _voltage(subject: Subject, fed: FedTogether) -> Iterator[Finding]:
    """Voltage at the light point farthest from a supply: what cable and strip lose of it."""
    amps, wire = fed.amperes, _wire_of(subject.lamp)
    if not amps or wire is None:
        return
    in_wire = two_wire_drop(wire_resistance(wire.mm2), wire.metres, amps)
    worst = max(fed.lit, key=lambda lit: _strip_loss(lit) / lit.light.feed.volts)
    along, volts = _strip_loss(worst), worst.light.feed.volts
    limit = subject.limits["voltage_drop"]
    allowed, lost = limit.value / 100.0 * volts, in_wire + along
    in_strip = f" and {along:.2f} V along the strip" if along else ""
    long = subject.lamp.units.run(1000.0 * wire.metres)
    farthest = "middle" if worst.light.feed.both_ends else "last"
    left = f"{volts - lost:.2f} of {volts:g} V are" if lost < volts else f"nothing of {volts:g} V is"
    what = (
        f"{in_wire:.2f} V are lost in {long} of {wire.mm2:.2g} mm² {wire.where}{in_strip}: "
        f"{left} left at the {farthest} light point of {worst.light.name}"
    )
    too_much = over(100.0 * lost / volts, limit.value, TENTH)
    alone = over(100.0 * along / volts, limit.value, TENTH) or (wire.written and too_much)
    yield Finding(
        check="supply",
        level=Level.CAUTION if alone else Level.NOTE if too_much else Level.FACT,
        where=f'{wire.where} and light "{worst.light.name}"' if along else wire.where,
        parts=carriers_of_lights([worst]),
        what=what,
        short=f"{lost:.2f} of {volts:g} V are lost on the way to its {farthest} light point",
        value=100.0 * lost / volts,
        unit="%",
        limit=limit.value,
        bound=limit.bound,
        source=f"Kirchhoff's laws, {copper()[1]}; {limit.source}",
        advice=_less_loss(worst, wire, amps, allowed) if too_much else "",
        ways=_kept_up(worst, wire, amps, allowed) if too_much else (),
    )


def _less_loss(worst: Lit, wire: Wire, amps: float, allowed: float) -> str:
    """Wire, or wire and feeding at both ends, with which no more than ``allowed`` [V] is lost."""
    along, strip = _strip_loss(worst), worst.light.layout.strip
    ways = []
    if strip is not None and along > 0.4 * allowed and not worst.light.feed.both_ends:
        along = _at_both_ends(worst)
        ways.append("feed the strip at both ends")
    left = allowed - along
    if left > 0.0:
        area = least_area(wire.metres, amps, left)
        if area > wire.mm2:
            ways.append("take thicker wires")
    else:
        ways.append("take a strip for a higher voltage, such as 12 or 24 V")
    text = " and ".join(ways)
    return f"{text[0].upper()}{text[1:]}." if text else ""


def _at_both_ends(lit: Lit) -> float:
    """Voltage lost along the longest length of a light's strip, were it fed at both ends [V]."""
    strip = lit.light.layout.strip
    if strip is None or not lit.cuts or lit.amperes is None:
        return 0.0
    count = max(cut.count for cut in lit.cuts)
    return strip_drop(
        count, lit.amperes / lit.count, strip.ohms_per_metre * strip.spacing / 1000.0, both_ends=True
    )


def _kept_up(worst: Lit, wire: Wire, amps: float, allowed: float) -> tuple[Way, ...]:
    """Thicker wires, the strip fed at both ends, both, or a shorter cable: no more than ``allowed`` [V] is lost."""
    along, both = _strip_loss(worst), _at_both_ends(worst)
    name = f"light.{worst.light.name}"
    ways: list[Way] = []
    if allowed > along:
        ways += wire.thicker(least_area(wire.metres, amps, allowed - along))
    if worst.light.layout.strip is not None and not worst.light.feed.both_ends:
        fed = Way(name, "fed_at_both_ends", False, True, is_length=False)
        ways.append(fed)
        if allowed > both:
            thick = wire.thicker(least_area(wire.metres, amps, allowed - both))
            thinner = [way for way in thick if way not in ways]
            ways += [replace(way, along="both ends, thicker wires") for way in (fed, *thinner) if thinner]
    if allowed > along:
        metres = (allowed - along) / two_wire_drop(wire_resistance(wire.mm2), 1.0, amps)
        if metres > _SHORTEST:
            ways.append(Way(wire.where, "length", 1000.0 * wire.metres, 1000.0 * metres))
    return tuple(ways)


def _wire_load(subject: Subject, fed: FedTogether) -> Iterator[Finding]:
    """Wires too thin for the current of one supply."""
    drawn, wire = _current(fed.lit), _wire_of(subject.lamp)
    amps = drawn.amps
    if wire is None or not wire.written:
        return
    stands, source = carries(wire.mm2)
    if over(amps, stands):
        yield Finding(
            check="supply",
            level=Level.FAULT,
            where=wire.where,
            what=f"wires of {wire.mm2:.2g} mm² carry {stands:.1f} A, and the lamp draws {drawn.words}",
            value=amps,
            unit="A",
            limit=stands,
            bound=Bound.MOST,
            source=source,
            advice="Take thicker wires."
            if wire.least_for(amps)
            else "Share its lights between several cables.",
            ways=wire.thicker(wire.least_for(amps)),
        )


CHECK = Check(
    name="supply",
    question="Do port, adapter, fuse and wires carry the current, and what voltage is left at the far end?",
    formula="I = Σ n·i; P = U·I; ΔV = 2·(ρ/A)·L·I in the cable, i·r·N(N + 1)/2 along a strip fed at one end",
    source="USB 2.0, 3.x, Battery Charging 1.2, IEC 62680-1-3 (each port's own); copper: ASTM B258; Kirchhoff's laws",
    limits=("voltage_drop",),
    run=supply,
)
