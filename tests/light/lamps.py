"""Lamps with one light each."""

from stackview.description.lamp import Core, Lamp, Layer
from stackview.description.light_source import Emitter, Feed, Layout, Light
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.stack.assembly import Stack, assemble
from tests.lamps import WOOD

EMITTER = Emitter(beam=120.0, face=(4.0, 2.0), kelvin=2700.0, lumens=None, watts=0.1)
ROUND = Core(WOOD, Outline(Circle(30.0)), 100.0, "base", None)


def stack_with(layout: Layout, core: Core | None = ROUND, emitter: Emitter = EMITTER) -> Stack:
    base = Layer("base", WOOD, 20.0, Outline(Circle(120.0)))
    return assemble(lamp_with(layout, (base,), core, emitter))


def lamp_with(
    layout: Layout, layers: tuple[Layer, ...], core: Core | None = None, emitter: Emitter = EMITTER
) -> Lamp:
    light = Light("light", layout, emitter, Feed(5.0, None))
    return Lamp("test", "mm", layers, core=core, lights=(light,))
