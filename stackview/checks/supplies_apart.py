"""Lights of several supplies in one lamp, whose one cable would join what must never be joined."""

from collections.abc import Iterator, Sequence

from stackview.checks.alike import together
from stackview.description.lamp import Lamp
from stackview.description.materials_table import ports
from stackview.findings import Finding, Level, Way
from stackview.light.supplies import FedTogether, carriers_of_lights, lights_said


def several_supplies(lamp: Lamp, supplies: Sequence[FedTogether]) -> Iterator[Finding]:
    """A fault where one cable would bring several voltages, a caution where it would join several ports."""
    if len(supplies) < 2:
        return
    volts = {fed.feed.volts for fed in supplies}
    lit = [one for fed in supplies for one in fed.lit]
    line = "cord" if lamp.cord is not None else "cable"
    told = together([f"{fed.words} ({lights_said(fed.lit)})" for fed in supplies])
    if len(volts) > 1:
        does = f"joined in it, {max(volts):g} V destroy what is made for {min(volts):g} V"
        short = f"they are fed with several voltages, and the lamp has one {line}"
        advice = f"Give all lights one voltage, or each voltage a {line} of its own, never joined."
    else:
        does = "joined in it, one port feeds into the other"
        short = f"they hang on several ports, and the lamp has one {line}"
        advice = f"Feed all lights from one port that gives enough, or from each port by a {line} of its own, never joined."
    yield Finding(
        check="supply",
        level=Level.FAULT if len(volts) > 1 else Level.CAUTION,
        where=lights_said(lit),
        parts=carriers_of_lights(lit),
        what=f"they are fed from {told}, and the lamp has one {line}: {does}",
        short=short,
        source="a cable of two wires joins all that hangs on it",
        advice=advice,
        cause="several supplies",
        ways=_from_one_port(supplies) if len(volts) == 1 else (),
    )


def _from_one_port(supplies: Sequence[FedTogether]) -> tuple[Way, ...]:
    """The weakest port of the table that gives what all lights draw together, named by all of them."""
    amps = [fed.amperes for fed in supplies]
    total = sum(each for each in amps if each is not None)
    volts = supplies[0].feed.volts
    enough = [port for port in ports().values() if port.volts == volts and port.amps >= total]
    if None in amps or not enough:
        return ()
    best = min(enough, key=lambda port: port.amps).name
    return tuple(
        Way(f"light.{one.light.name}", "port", one.light.feed.port, best, is_length=False)
        for fed in supplies
        for one in fed.lit
        if one.light.feed.port is not None and one.light.feed.port != best
    )
