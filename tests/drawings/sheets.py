"""Parts ready to be drawn, and what must hold of every page."""

import itertools
from dataclasses import replace

from hypothesis import strategies as st

from stackview.description.lamp import Chamfer, Layer, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle, Regular
from stackview.description.units import Units
from stackview.drawings.label_room import meets
from stackview.drawings.paper import Paper
from stackview.drawings.title_block import PageNote
from stackview.shop.drawn_cuts import drawn_cuts
from stackview.shop.part_sheet import PartSheet, index_marks
from tests.shop.parts import WOOD, full_layer


def sheet_of(layer: Layer, *fronts: float) -> PartSheet:
    """One part; with index marks if fronts are given."""
    cuts = drawn_cuts(layer)
    marks = index_marks(cuts, [(f"{layer.name} {k}", front) for k, front in enumerate(fronts, 1)])
    return PartSheet(layer, (layer.name,), layer.name, 1, (), cuts, marks if fronts else ())


def note_of(units: Units | None = None) -> PageNote:
    return PageNote("Lamp", 1.0, 1, 3, "body", units or Units("mm"))


def full_sheet() -> PartSheet:
    return sheet_of(full_layer(), 0.0, -5.0, -10.0)


def check_page(page: Paper) -> None:
    """Nothing is written over other words, and nothing past the border."""
    for (one, a), (other, b) in itertools.combinations(page.boxes, 2):
        assert not meets(a, b), f"{one!r} meets {other!r}"
    for words, (left, low, right, high) in page.boxes:
        inside = (
            left >= 8.0 and low >= 8.0 and right <= page.size.width - 8.0 and high <= page.size.height - 8.0
        )
        assert inside, words


@st.composite
def layers(draw: st.DrawFn) -> Layer:
    """Rings and plates of many sizes with recesses, holes and chamfers."""
    size = draw(st.floats(20.0, 600.0))
    thick = draw(st.floats(2.0, 40.0))
    shape = draw(
        st.sampled_from(
            [
                Circle(size),
                Rectangle(size, 0.6 * size, 0.1 * size),
                Regular(draw(st.integers(3, 9)), 0.7 * size),
            ]
        )
    )
    inner = Outline(shape, grow=-draw(st.floats(0.05, 0.12)) * size)
    openings = [Opening(inner, main=True)] if draw(st.booleans()) else []
    if not openings and draw(st.booleans()):
        openings.append(Opening(Outline(Circle(0.04 * size), at=(0.07 * size, -0.1 * size))))
    recesses = []
    if draw(st.booleans()):
        recesses.append(Recess("top", 0.3 * thick, replace(inner, grow=0.6 * inner.grow), 0.0, "plate"))
    chamfers = (Chamfer("top outer", min(0.2 * thick, 0.02 * size)),) if draw(st.booleans()) else ()
    return Layer(
        "part",
        WOOD,
        thick,
        Outline(shape),
        openings=tuple(openings),
        recesses=tuple(recesses),
        chamfers=chamfers,
    )
