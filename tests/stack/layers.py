"""Layers for seating tests."""

from dataclasses import replace

from stackview.description.lamp import Layer, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from tests.lamps import WOOD, acrylic

ASH = WOOD
CLEAR = acrylic("clear")


def circle(diameter: float) -> Outline:
    return Outline(Circle(diameter))


def square(side: float, corner: float = 0.0) -> Outline:
    return Outline(Rectangle(side, side, corner))


def ring(
    name: str, outer: float = 120.0, inner: float = 92.0, thick: float = 10.0, recess: Recess | None = None
) -> Layer:
    return Layer(
        name,
        ASH,
        thick,
        circle(outer),
        openings=(Opening(circle(inner), main=True),),
        recesses=(recess,) if recess else (),
    )


def plate(name: str, outline: Outline, thick: float = 4.0) -> Layer:
    return Layer(name, CLEAR, thick, outline)


def pocket(
    outline: Outline,
    depth: float,
    clearance: float = 0.2,
    cutter: float = 0.0,
    to: str | None = None,
    face="top",
) -> Recess:  # type: ignore[no-untyped-def]
    grown = replace(outline.grown(clearance), cutter_radius=cutter)
    return Recess(face, depth, grown, clearance, to)
