"""Parts to draw: one with a cut of every kind, and random outlines."""

from math import cos, hypot, pi, sin

from hypothesis import strategies as st

from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.material import Material
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Curve, Rectangle, Regular, Shape

WOOD = Material("cherry", "wood", "cherry", "opaque", 600.0, (0.4, 0.2, 0.1))


def full_layer() -> Layer:
    """A rectangle of 150 × 90 mm with every kind of cut."""
    return Layer(
        "body",
        WOOD,
        18.0,
        Outline(Rectangle(150.0, 90.0, 12.0)),
        openings=(
            Opening(Outline(Rectangle(60.0, 40.0, 5.0)), main=True),
            Opening(Outline(Circle(8.0), at=(-60.0, 20.0))),
        ),
        recesses=(
            Recess("top", 2.0, Outline(Rectangle(134.0, 74.0, 8.0)), 0.2, "plate"),
            Recess("underside", 5.0, Outline(Circle(4.0), at=(62.0, -30.0)), 0.0),
        ),
        grooves=(Groove("top", "recess", 1.0, 1.5, 0.8),),
        chamfers=(Chamfer("top outer", 2.0), Chamfer("underside opening", 3.0, 60.0)),
        bores=(Bore(6.0, 9.0, 180.0),),
    )


@st.composite
def shapes(draw: st.DrawFn) -> Shape:
    """Circles, rectangles, polygons, and wavy curves of arcs that never cross themselves."""
    kind = draw(st.integers(0, 3))
    size = draw(st.floats(6.0, 300.0))
    if kind == 0:
        return Circle(size)
    if kind == 1:
        depth = draw(st.floats(6.0, 300.0))
        return Rectangle(size, depth, draw(st.floats(0.0, 0.49)) * min(size, depth))
    if kind == 2:
        return Regular(draw(st.integers(3, 12)), size, draw(st.floats(0.0, 0.49)) * size)
    count = draw(st.integers(5, 40))
    radii = draw(st.lists(st.floats(0.7, 1.0), min_size=count, max_size=count))
    bulges = draw(st.lists(st.floats(-0.1, 0.1), min_size=count, max_size=count))
    places = [
        (size * r * cos(2 * pi * k / count), size * r * sin(2 * pi * k / count)) for k, r in enumerate(radii)
    ]
    # a bulge may not reach past the neighbours' rays: with these it does not
    assert all(hypot(*place) > 0.0 for place in places)
    return Curve(tuple((*place, bulge) for place, bulge in zip(places, bulges, strict=True)), "drawn.svg")
