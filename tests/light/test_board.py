"""A board lies on the highest face under it: the layer's own, or the floor of a recess; worked out by hand."""

import pytest

from stackview.description.lamp import Layer, Opening
from stackview.description.light_source import Diode, Panel
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.light.board import lies_at
from stackview.light.layout import lay_out
from stackview.stack.assembly import Stack, assemble
from tests.lamps import WOOD
from tests.light.lamps import EMITTER, lamp_with
from tests.stack.layers import pocket


def stack(layout: Panel | Diode, **cuts: object) -> Stack:
    """A disc of 120, 20 thick, with recesses 8 deep or openings."""
    base = Layer("base", WOOD, 20.0, Outline(Circle(120.0)), **cuts)  # type: ignore[arg-type]
    return assemble(lamp_with(layout, (base,)))


def middle(layout: Panel | Diode, **cuts: object) -> float:
    return float(lay_out(stack(layout, **cuts)).points.centres[0, 2])


def diode(x: float = 0.0, facing: str = "up") -> Diode:
    return Diode("base", facing, (x, 0.0), 3.0, 0.0, 0.0)  # type: ignore[arg-type]


TOP = {"recesses": (pocket(Outline(Circle(40.0)), 8.0, 0.0),)}
UNDER = {"recesses": (pocket(Outline(Circle(40.0)), 8.0, 0.0, face="underside"),)}


@pytest.mark.parametrize(
    ("layout", "cuts", "expected"),
    [
        (diode(), {}, 23.0),
        (diode(), TOP, 20.0 - 8.0 + 3.0),
        (diode(40.0), TOP, 23.0),
        # Its face of 4 mm reaches over the recess's edge, at 20: it lies on the top.
        (diode(19.0), TOP, 23.0),
        (diode(), UNDER, 23.0),
        (diode(facing="down"), UNDER, 8.0 - 3.0),
        # Over a hole for its wires the board lies on what is round the hole.
        (diode(), {"openings": (Opening(Outline(Circle(8.0))),)}, 23.0),
        (diode(), {"openings": (Opening(Outline(Circle(8.0))),), **TOP}, 15.0),
        # Three by three light points 10 apart fit into the recess, 24 across; 20 apart they bridge it.
        (Panel(3, 3, 10.0, "base", "up", (0.0, 0.0)), TOP, 12.0),
        (Panel(3, 3, 20.0, "base", "up", (0.0, 0.0)), TOP, 20.0),
    ],
)
def test_what_it_lies_on(layout: Panel | Diode, cuts: dict[str, object], expected: float) -> None:
    assert middle(layout, **cuts) == pytest.approx(expected)


def test_over_a_wide_opening_it_lies_on_nothing_and_is_drawn_at_the_face() -> None:
    wide = {"openings": (Opening(Outline(Circle(30.0))),)}
    assert lies_at(diode(), EMITTER, stack(diode(), **wide).part("base")) is None
    assert middle(diode(), **wide) == pytest.approx(23.0)
