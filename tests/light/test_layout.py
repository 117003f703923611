"""All lights laid out: counts, watts and amperes, and every light's faults together."""

from dataclasses import replace

import pytest

from stackview.description.lamp import Core, Lamp, Layer
from stackview.description.light_source import Diode, Emitter, Feed, Helix, Light, Panel, Ring, Strip
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.errors import LampError
from stackview.light.layout import Lit, lay_out
from stackview.light.strip import Cut
from stackview.stack.assembly import assemble
from tests.lamps import WOOD

EMITTER = Emitter(beam=120.0, face=(4.0, 2.0), kelvin=2700.0, lumens=None, watts=0.1)
STRIP = Strip(spacing=10.0, cut_every=10.0, width=8.0, thickness=2.0)
HELIX = Helix(STRIP, pitch=20.0, start=5.0, first=0.0, hand="right", turns=2.0, length=None)
DIODE = Diode("base", "up", (0.0, 0.0), 1.0, 0.0, 0.0)


def stack(*layouts, core=Core(WOOD, Outline(Circle(30.0)), 100.0, "base", None)):  # type: ignore[no-untyped-def]
    base = Layer("base", WOOD, 20.0, Outline(Circle(120.0)))
    lights = tuple(Light(f"light {k}", layout, EMITTER, Feed(5.0, None)) for k, layout in enumerate(layouts))
    return assemble(Lamp("test", "mm", (base,), core=core, lights=lights))


def test_every_layout_gives_its_points_in_order() -> None:
    ring = Ring(80.0, 12, "base", 5.0, "out", 0.0)
    panel = Panel(4, 3, 10.0, "base", "up", (0.0, 0.0))
    made = lay_out(stack(HELIX, ring, panel, DIODE))
    counts = [lit.count for lit in made.lit]
    assert counts[1:] == [12, 12, 1]
    assert len(made.points) == sum(counts)
    assert made.points.source.tolist() == [k for k, count in enumerate(counts) for _ in range(count)]
    # Only what is a strip has a length, and a ribbon to draw.
    assert [lit.length > 0 for lit in made.lit] == [True, False, False, False]
    assert len(made.ribbons) == len(made.lit[0].cuts) == 1


def test_no_lights_are_no_points() -> None:
    made = lay_out(stack())
    assert (len(made.points), made.lit, made.ribbons) == (0, (), ())


def test_power_and_current() -> None:
    light = Light("runs", HELIX, EMITTER, Feed(5.0, None))
    lit = Lit(light, 72, (Cut(400.0, 360.0, 36, 36), Cut(390.0, 360.0, 36, 36)))
    assert lit.length == 720.0
    assert lit.watts == pytest.approx(7.2)
    # I = P/U.
    assert lit.amperes == pytest.approx(1.44)
    given = replace(lit, light=replace(light, emitter=replace(EMITTER, amps=0.02)))
    assert given.amperes == pytest.approx(1.44)
    silent = replace(lit, light=replace(light, emitter=replace(EMITTER, watts=None)))
    assert silent.watts is silent.amperes is None
    stated = replace(lit, light=replace(light, emitter=replace(EMITTER, watts=None, amps=0.01)))
    assert stated.watts is None
    assert stated.amperes == pytest.approx(0.72)


def test_faults_of_all_lights_are_told_together() -> None:
    short = replace(HELIX, turns=None, length=3.0)
    with pytest.raises(LampError) as caught:
        lay_out(stack(short, DIODE, short))
    assert [fault.where.split(" ·")[0] for fault in caught.value.faults] == [
        'light "light 0"',
        'light "light 2"',
    ]
