"""Outlines, and copies around the axis, as the lamp's file writes them."""

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag

from stackview.description.units import UnitName
from stackview.description.written_fields import (
    Angle,
    Copies,
    FileName,
    FlatPlace,
    InnerGap,
    Name,
    SideCount,
    Size,
    Sizes,
    Written,
    by_text,
    tag,
)

SHAPE_KEYS = ("circle", "rectangle", "sides", "curve", "like")


class WrittenOutline(Written):
    """A closed curve: exactly one of circle, rectangle, sides, curve or like."""

    circle: Size | None = Field(None, description="A circle of this diameter.")
    rectangle: Sizes | None = Field(
        None, description="A rectangle: width left to right, depth front to back."
    )
    sides: SideCount | None = Field(
        None,
        description="A regular polygon with this many sides, one flat to the front; needs a size across.",
    )
    across_flats: Size | None = Field(None, description="Size of a polygon from flat to flat.")
    across_corners: Size | None = Field(None, description="Size of a polygon from corner to corner.")
    corner_radius: Size | None = Field(None, description="Radius of the corners of a rectangle or a polygon.")
    curve: FileName | None = Field(
        None, description="An SVG or DXF file, beside the lamp's file, with one closed curve."
    )
    unit: UnitName | None = Field(None, description="Unit that the curve file is drawn in; a curve needs it.")
    origin: Literal["middle", "file"] | None = Field(
        None,
        description="A curve's own centre: the middle of its extent (default), or the drawing's zero.",
    )
    pick: Name | None = Field(
        None, description="Which curve of the file: an SVG id or a DXF layer; left out, the first closed one."
    )
    like: Name | None = Field(None, description="The same as this outline under [outlines].")
    inset: InnerGap | None = Field(None, description="Smaller by this on every side.")
    turn: Angle | None = Field(
        None, description="Turn about its own centre, counter-clockwise from above [°]."
    )
    at: FlatPlace | None = Field(
        None,
        description="Place of its centre from the lamp's axis: to the right, to the back; default [0, 0].",
    )


class WrittenAround(Written):
    """Copies evenly spaced on a circle about the lamp's axis."""

    count: Copies = Field(description="How many copies.")
    circle: Size = Field(description="Diameter of the circle on which their centres stand.")
    first: Angle = Field(0.0, description="Bearing of the first: 0 front, 90 right, 180 back [°].")


OutlineField = Annotated[
    Annotated[Name, Tag(tag("text"))] | Annotated[WrittenOutline, Tag(tag("table"))], Discriminator(by_text)
]
"""The name of an outline under [outlines], or an outline written in place."""
