"""Which lights hang on one supply: those of one voltage, and of one port where ports are named."""

from collections.abc import Sequence
from dataclasses import dataclass

from stackview.description.light_source import Feed
from stackview.light.layout import Lit


@dataclass(frozen=True, slots=True)
class FedTogether:
    """Lights on one supply; ``feed`` names its port, if any light does."""

    feed: Feed
    lit: tuple[Lit, ...]

    @property
    def amperes(self) -> float | None:
        """What they draw together [A]; None where that of one is not given."""
        known = [one.amperes for one in self.lit if one.amperes is not None]
        return sum(known) if len(known) == len(self.lit) else None

    @property
    def words(self) -> str:
        """The supply as it is said: ``5 V, port "usb 2.0"``."""
        port = "" if self.feed.port is None else f', port "{self.feed.port}"'
        return f"{self.feed.volts:g} V{port}"


def fed_together(lit: Sequence[Lit], *, adapter: bool = False) -> tuple[FedTogether, ...]:
    """Lights by the supply that they hang on, in the order of their first light.

    A light that names no port hangs on the one that the others of its voltage name; where these name several, on one
    of its own. An ``adapter`` takes the place of all ports, so that voltages alone tell supplies apart.
    """
    ports: dict[float, dict[str, None]] = {}
    for one in lit:
        named = ports.setdefault(one.light.feed.volts, {})
        if one.light.feed.port is not None and not adapter:
            named[one.light.feed.port] = None
    groups: dict[tuple[float, str | None], list[Lit]] = {}
    for one in lit:
        volts, port = one.light.feed.volts, None if adapter else one.light.feed.port
        if port is None and len(ports[volts]) == 1:
            (port,) = ports[volts]
        groups.setdefault((volts, port), []).append(one)
    return tuple(FedTogether(_feed_of(some), tuple(some)) for some in groups.values())


def _feed_of(lit: Sequence[Lit]) -> Feed:
    """The feed of the first light that names its port; else that of the first."""
    return next((one.light.feed for one in lit if one.light.feed.port is not None), lit[0].light.feed)


def lights_said(lit: Sequence[Lit]) -> str:
    """Lights by their names: ``lights "strip", "top"``."""
    names = ", ".join(f'"{one.light.name}"' for one in lit)
    return f"light{'s' if len(lit) > 1 else ''} {names}"


def carriers_of_lights(lit: Sequence[Lit]) -> tuple[str, ...]:
    """The parts that some lights sit on, each once."""
    return tuple(dict.fromkeys(one.light.layout.carrier for one in lit))
