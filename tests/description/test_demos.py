"""The demo lamps keep the numbers that they were invented with."""

from pathlib import Path

import pytest

from stackview.curves.arcs import bounds
from stackview.description.lamp import Lamp, Layer
from stackview.description.light_source import Diode, Helix, Runs
from stackview.description.outline import path_of
from stackview.description.reading import read_lamp
from stackview.description.shapes import Circle, Curve, Rectangle, Regular

DEMOS = Path(__file__).parents[2] / "demos"


def demo(name: str) -> Lamp:
    return read_lamp(DEMOS / f"{name}.toml")


def named(lamp: Lamp, word: str) -> list[Layer]:
    return [layer for layer in lamp.layers if word in layer.name]


@pytest.mark.parametrize("name", ["moor-drum", "honeycomb", "kelp", "turning-lantern"])
def test_every_recess_is_deeper_than_nothing_and_fitted_to_a_plate(name: str) -> None:
    lamp = demo(name)
    for layer in lamp.layers:
        for recess in layer.recesses:
            assert recess.fitted_to is None or "plate" in recess.fitted_to
    assert lamp.lights
    assert len(lamp.eyes) == 2


def test_moor_drum() -> None:
    lamp = demo("moor-drum")
    rings = named(lamp, "ring")
    assert (lamp.layers[0].thickness, 2 * lamp.layers[0].outline.outer_reach) == (17.4, 130)
    assert [2 * ring.outline.outer_reach for ring in rings] == [120, 116, 112, 108, 104, 100]
    assert {ring.thickness for ring in rings} == {8.8}
    assert [2 * ring.openings[0].outline.inner_reach for ring in rings] == [92, 88, 84, 80, 76, 72]
    spacers = named(lamp, "spacers")
    assert [(s.thickness, s.around.count) for s in spacers if s.around] == [(5, 3), (5, 3)]
    assert {plate.thickness for plate in named(lamp, "plate")} == {3.8}
    assert {recess.depth for ring in rings for recess in ring.recesses} == {1.5}
    (light,) = lamp.lights
    assert isinstance(light.layout, Diode)
    assert (light.emitter.watts, light.emitter.amps) == (1, 0.35)
    assert lamp.surface is not None
    assert lamp.surface.height == 550
    assert (lamp.eyes[0].distance, lamp.eyes[0].height) == (900, 700)


def test_honeycomb() -> None:
    lamp = demo("honeycomb")
    walnut = [layer for layer in lamp.layers if layer.material.kind == "wood"]
    assert len(walnut) == 7
    assert {layer.thickness for layer in walnut} == {18.8468}  # 0.742 in, exactly
    assert all(layer.outline.shape == Regular(6, 139.7) for layer in walnut)
    assert str(walnut[0].material.sold) == "3/4 in"
    plates = named(lamp, "plate")
    assert len(plates) == 4
    assert {plate.thickness for plate in plates} == {5.588}  # .220 in, exactly
    assert {(plate.finish.top, plate.finish.underside, plate.finish.edge) for plate in plates} == {
        ("sanded",) * 3
    }
    assert [spacer.thickness for spacer in named(lamp, "spacers")] == [7.9375] * 2
    assert lamp.core is not None
    assert lamp.core.outline.shape == Regular(6, 28.575)
    (light,) = lamp.lights
    assert isinstance(light.layout, Runs)
    assert light.layout.count == 6
    # twelve light points at 120 to the metre
    assert light.layout.length == pytest.approx(12 * 1000 / 120)
    assert light.emitter.amps == 0.02
    assert [(eye.distance, eye.height) for eye in lamp.eyes] == [(1524, 1168.4), (1524, 1549.4)]
    # 4.8 in across flats in a recess cut with a 1/4 in cutter
    assert plates[0].outline.shape == Regular(6, 121.92)  # its corners left sharp, for the tool to find
    assert plates[1].outline.shape == Regular(6, 121.92, 3.175)
    assert walnut[0].recesses[0].outline.cutter_radius == 3.175


def test_kelp() -> None:
    lamp = demo("kelp")
    rings = named(lamp, "ring")
    assert len(rings) == 6
    assert {ring.thickness for ring in rings} == {14.8}
    shape = rings[0].outline.shape
    assert isinstance(shape, Curve)
    assert bounds(path_of(rings[0].outline)) == pytest.approx((-160, -105, 160, 105), abs=0.01)
    assert len(named(lamp, "plate")) == 6
    below = [recess for recess in rings[0].recesses if recess.face == "underside"]
    assert [(recess.depth, recess.fitted_to) for recess in below] == [(3.0, "bottom plate")]
    (light,) = lamp.lights
    assert isinstance(light.layout, Helix)
    assert (light.layout.turns, light.layout.pitch, light.layout.strip.continuous) == (5, 14, True)
    assert light.emitter.watts == pytest.approx(8 * 0.005)
    assert lamp.core is not None
    assert (lamp.core.outline.shape, lamp.core.hangs_from) == (Circle(100), "lid")
    assert lamp.cord is not None
    assert (lamp.cord.length, lamp.cord.wire_mm2) == (3000, 0.5)
    assert (lamp.hangs_at, lamp.surface) == (1500, None)
    assert [(eye.distance, eye.height) for eye in lamp.eyes] == [(800, 1200), (1500, 1630)]


def test_turning_lantern() -> None:
    lamp = demo("turning-lantern")
    cherry = [layer for layer in lamp.layers if layer.material.kind == "wood"]
    assert len(cherry) == 9
    assert {layer.thickness for layer in cherry} == {18.6}
    assert [layer.turn for layer in cherry] == [0, 5, 10, 15, 20, 25, 30, 35, 40]
    assert [layer.grain for layer in cherry] == [90, 0, 90, 0, 90, 0, 90, 0, 90]
    assert all(layer.outline.shape == Rectangle(150, 90, 12) for layer in cherry)
    plates = named(lamp, "plate")
    assert [plate.finish.top for plate in plates] == ["clear", "sanded"] * 4
    # each plate turns with the layer it lies in
    assert [plate.turn for plate in plates] == [layer.turn for layer in cherry[:-1]]
    assert {plate.thickness for plate in plates} == {4.6}
    assert lamp.core is not None
    assert (lamp.core.outline.shape, lamp.core.height) == (Circle(32), 150)
    assert [(eye.distance, eye.height) for eye in lamp.eyes] == [(700, 1200), (2500, 1150)]
