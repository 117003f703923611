"""Variants of a demo without end, one number changed each time, as a search asks for them."""

from collections.abc import Iterator
from dataclasses import replace

from stackview.description.lamp import Lamp
from stackview.description.light_source import Diode, Helix, Runs
from tests.stack.variants import thickness, wall


def light_height(lamp: Lamp, by: float) -> Lamp:
    """All lights ``by`` [mm] higher."""
    lights = []
    for light in lamp.lights:
        layout = light.layout
        if isinstance(layout, Helix | Runs):
            layout = replace(layout, start=layout.start + by)
        elif isinstance(layout, Diode):
            layout = replace(layout, height=layout.height + by)
        lights.append(replace(light, layout=layout))
    assert tuple(lights) != lamp.lights
    return replace(lamp, lights=tuple(lights))


def variants(lamp: Lamp, first: float) -> Iterator[Lamp]:
    """Variants without end, no two alike, those of another ``first`` neither."""
    gaps = "spacers" if any(layer.name.startswith("spacers") for layer in lamp.layers) else "ring"
    changes = (wall, thickness(gaps), thickness("plate"), light_height)
    step = 0
    while True:
        for change in changes:
            yield change(lamp, first + 0.013 * step)
        step += 1
