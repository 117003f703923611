"""All the lamp's light points, placed, with what was cut and what it draws."""

from dataclasses import dataclass
from typing import assert_never

from stackview.description.light_source import Diode, Helix, Light, Panel, Ring, Runs
from stackview.errors import Fault, LampError
from stackview.light import on_core, on_layer
from stackview.light.faces import points_joined
from stackview.light.points import LightPoints
from stackview.light.ribbon import Ribbon
from stackview.light.strip import Cut
from stackview.one_line import one_line
from stackview.stack.assembly import Stack


@dataclass(frozen=True, slots=True)
class Lit:
    """One light as laid out: its strips as cut (none for single points) and its light points."""

    light: Light
    count: int
    cuts: tuple[Cut, ...]

    __repr__ = one_line

    @property
    def length(self) -> float:
        """Total length of strip [mm]; 0 where there is none."""
        return sum(cut.length for cut in self.cuts)

    @property
    def watts(self) -> float | None:
        """Power of all its light points [W]; None where not given."""
        each = self.light.emitter.watts
        return None if each is None else each * self.count

    @property
    def amperes(self) -> float | None:
        """Current [A]: as given for each point, else power over voltage (I = P / U); None where neither is."""
        each = self.light.emitter.amps
        if each is not None:
            return each * self.count
        return None if self.watts is None else self.watts / self.light.feed.volts


@dataclass(frozen=True, slots=True, eq=False)
class LightLayout:
    """Every light of a lamp laid out in the assembled stack."""

    points: LightPoints
    lit: tuple[Lit, ...]
    ribbons: tuple[Ribbon, ...]

    __repr__ = one_line


def lay_out(stack: Stack) -> LightLayout:
    """Place every light point of the lamp.

    Raises
    ------
    LampError
        When a light does not fit what carries it; all lights' faults together.
    """
    faults: list[Fault] = []
    points: list[LightPoints] = []
    lit: list[Lit] = []
    ribbons: list[Ribbon] = []
    for source, light in enumerate(stack.lamp.lights):
        try:
            found, cuts, strips = _laid(light, stack, source)
        except LampError as error:
            faults.extend(error.faults)
            continue
        points.append(found)
        lit.append(Lit(light, len(found), cuts))
        ribbons.extend(strips)
    if faults:
        raise LampError(stack.lamp.name, tuple(faults))
    return LightLayout(points_joined(points), tuple(lit), tuple(ribbons))


def _laid(light: Light, stack: Stack, source: int) -> on_core._Laid:
    layout, emitter, where = light.layout, light.emitter, f'light "{light.name}"'
    match layout:
        case Helix():
            return on_core.helix(layout, emitter, stack, source, where)
        case Runs():
            return on_core.runs(layout, emitter, stack, source, where)
        case Ring():
            return on_layer.ring(layout, emitter, stack, source), (), ()
        case Panel():
            return on_layer.panel(layout, emitter, stack, source), (), ()
        case Diode():
            return on_layer.diode(layout, emitter, stack, source), (), ()
        case _:
            assert_never(layout)
