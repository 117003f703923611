"""Sheets and offcuts at hand, as the lamp's file writes them."""

from pydantic import Field

from stackview.description.written_fields import (
    Angle,
    Copies,
    FlatPlace,
    InnerGap,
    Name,
    PiecePrice,
    Size,
    Sizes,
    Written,
)
from stackview.description.written_outline import OutlineField


class WrittenZone(Written):
    """A place of a sheet that cannot be used: a scratch, a knot, a screw; parts and cutter stay out of it."""

    outline: OutlineField = Field(description="Its shape, as large as what must not be used.")
    at: FlatPlace = Field(
        description="Place of its middle from the sheet's left and from its lower edge; "
        "of an outline, from those of the rectangle about it."
    )
    name: Name | None = Field(None, description='What it is, e.g. "knot".')


class WrittenSheet(Written):
    """A sheet, board or offcut at hand, to lay parts out on; those listed first are used first."""

    material: Name = Field(description="Name of a material under [materials].")
    name: Name | None = Field(None, description='What you call it; left out, "sheet 1" and so on.')
    size: Sizes | None = Field(None, description="A rectangle: left to right, then front to back.")
    outline: OutlineField | None = Field(
        None, description="The shape of an offcut that is no rectangle, in place of size."
    )
    thickness: Size | None = Field(
        None, description="How thick it is; left out, as thick as its material is measured or sold."
    )
    grain: Angle | None = Field(
        None, description="Bearing along which its grain runs [°]: 90 left to right, 0 front to back."
    )
    margin: InnerGap | None = Field(None, description="Strip along its edges on which no part may lie.")
    zone: list[WrittenZone] = Field(
        default=[], max_length=100, description="Places of it that cannot be used."
    )
    count: Copies | None = Field(None, description="How many such sheets are at hand.")
    price: PiecePrice | None = Field(None, description="What one costs, should more be needed.")
