"""Variants of the demos: one number changed, as a maker tries things out."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from stackview.description.lamp import Lamp, Layer
from stackview.description.reading import read_lamp

DEMOS = Path(__file__).parents[2] / "demos"


def demo(name: str) -> Lamp:
    return read_lamp(DEMOS / f"{name}.toml")


def with_layers(lamp: Lamp, begin: str, change: Callable[[Layer], Layer]) -> Lamp:
    """The lamp with every layer changed whose name begins so."""
    layers = tuple(change(layer) if layer.name.startswith(begin) else layer for layer in lamp.layers)
    assert layers != lamp.layers, f'"{begin}" changes nothing of {lamp.name}'
    return replace(lamp, layers=layers)


def wall(lamp: Lamp, by: float) -> Lamp:
    """The walls of all rings ``by`` [mm] thicker."""

    def thicker(layer: Layer) -> Layer:
        openings = tuple(
            replace(one, outline=one.outline.grown(-by)) if one.main else one for one in layer.openings
        )
        return replace(layer, openings=openings)

    return with_layers(lamp, "ring", thicker)


def thickness(begin: str) -> Callable[[Lamp, float], Lamp]:
    """A change of the thickness of the layers whose names begin so, by some [mm]."""
    return lambda lamp, by: with_layers(
        lamp, begin, lambda layer: replace(layer, thickness=layer.thickness + by)
    )


def depth(lamp: Lamp, by: float) -> Lamp:
    """The recesses of all rings ``by`` [mm] deeper."""
    return with_layers(
        lamp,
        "ring",
        lambda layer: replace(
            layer, recesses=tuple(replace(one, depth=one.depth + by) for one in layer.recesses)
        ),
    )


def plate_size(lamp: Lamp, by: float) -> Lamp:
    """All plates ``by`` [mm] larger on every side, their recesses as they were."""
    return with_layers(lamp, "plate", lambda layer: replace(layer, outline=layer.outline.grown(by)))


def turn(lamp: Lamp, by: float) -> Lamp:
    """All rings turned by some more [°]."""
    return with_layers(lamp, "ring", lambda layer: replace(layer, turn=layer.turn + by))
