"""Whether the power and the current that a light is given go together."""

from collections.abc import Iterator, Sequence

from stackview.findings import Finding, Level
from stackview.in_figures import figure
from stackview.light.layout import Lit
from stackview.light.supplies import carriers_of_lights, lights_said

_ROUNDED = 1.25
"""By how much power and current may miss each other, for data sheets round; common practice."""


def power_at_odds(lights: Sequence[Lit]) -> Iterator[Finding]:
    """Cautions of lights that take the feed's voltage, and whose power is not that voltage times their current.

    A light at a set current is none of them: what it drops of the voltage is its own, P = U_F·I.
    """
    for lit in lights:
        emitter, volts = lit.light.emitter, lit.light.feed.volts
        if lit.light.layout.set_current or not emitter.watts or not emitter.amps:
            continue
        drawn = volts * emitter.amps
        if max(drawn, emitter.watts) <= _ROUNDED * min(drawn, emitter.watts):
            continue
        yield Finding(
            check="supply",
            level=Level.CAUTION,
            where=lights_said([lit]),
            parts=carriers_of_lights([lit]),
            what=(
                f"its power and its current do not go together: {figure(1000.0 * emitter.amps, 1)} mA at {volts:g} V are "
                f"{figure(drawn, 3)} W, and {figure(emitter.watts, 3)} W are given for one light point; supply and wires "
                "are held against the current, heat against the power"
            ),
            short="its power and its current do not go together",
            value=emitter.watts,
            unit="W",
            source="P = U·I",
            advice="Write the one that its data sheet has for the whole light, resistors and all, and leave the other out.",
        )
