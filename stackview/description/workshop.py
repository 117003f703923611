"""How a lamp is made: router, finish and wiring; values that only the order of work needs."""

from dataclasses import dataclass
from typing import Literal

from stackview.description import defaults
from stackview.one_line import one_line

JoinedBy = Literal["solder", "connector"]


@dataclass(frozen=True, slots=True)
class Router:
    """What parts are cut with: flutes, speeds [rev/min], and cutters other than the lamp's, by diameter [mm]."""

    flutes: int = int(defaults.FLUTES.number)
    least_rpm: float = defaults.LEAST_RPM.number
    most_rpm: float = defaults.MOST_RPM.number
    outline: float | None = None
    """Cutter of outlines; None for the lamp's own."""
    groove: float | None = None
    """Cutter of grooves; None for one as wide as the groove, where the lamp's own is wider."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class WoodFinish:
    """A finish of wood: how many coats, how long each dries [h], whether its rags can catch fire by themselves."""

    name: str
    coats: int
    hours: float
    oily: bool
    source: str

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Finishing:
    """How faces are finished: wood, and the grits that wood and acrylic are sanded with, coarsest first."""

    wood: WoodFinish
    wood_grits: tuple[int, ...] = (120, 180, 240)
    acrylic_grits: tuple[int, ...] = (240, 400)

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Wiring:
    """How wires are joined: wire left at each joint [mm], by what, and the layer that the joint lies in.

    ``joined_in`` None: where the cable comes in.
    """

    tail: float = defaults.WIRE_TAIL.number
    join: JoinedBy = "solder"
    joined_in: str | None = None

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class Workshop:
    """Everything that the file says of how the lamp is made."""

    router: Router
    finishing: Finishing
    wiring: Wiring

    __repr__ = one_line
