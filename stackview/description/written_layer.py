"""Layers, and groups of layers repeated, as the lamp's file writes them."""

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from stackview.description.lamp import Edge, FaceSide
from stackview.description.material import FINISHES, SheetSurface
from stackview.description.written_fields import (
    Angle,
    Copies,
    InnerGap,
    Name,
    OneOrMany,
    Shift,
    Size,
    Slope,
    Written,
    by_text,
    one_or_many,
    tag,
)
from stackview.description.written_outline import OutlineField, WrittenAround, WrittenOutline


class WrittenOpening(WrittenOutline):
    """A hole right through the layer."""

    around: WrittenAround | None = Field(None, description="Several alike, on a circle about the axis.")


class WrittenRecess(Written):
    """A pocket from one face; left without an outline it is fitted to the layer that lies on that face."""

    depth: Size = Field(description="How deep it is cut.")
    face: FaceSide = Field("top", description="The face it is cut into.")
    outline: OutlineField | None = Field(
        None, description="What it is cut to; left out, the neighbour's outline plus the clearance."
    )
    clearance: InnerGap | None = Field(
        None, description="Play per side; a fitted recess takes the lamp's clearance."
    )
    around: WrittenAround | None = Field(None, description="Several alike, on a circle; needs an outline.")


class WrittenGroove(Written):
    """A channel beside a glued joint that catches the glue squeezed out."""

    along: Literal["outline", "opening", "recess"] = Field("recess", description="The edge that it follows.")
    face: FaceSide = Field("top", description="The face it is cut into.")
    distance: InnerGap | None = Field(None, description="From that edge to the groove's near side.")
    width: Size | None = Field(None, description="Width of the groove.")
    depth: Size | None = Field(
        None, description="Depth of the groove; in a recess, below the recess's floor."
    )


class WrittenChamfer(Written):
    """A bevel along one edge or several."""

    edge: Annotated[list[Edge], one_or_many, OneOrMany(), Field(min_length=1)] = Field(
        description="The edge, or a list of edges."
    )
    width: Size = Field(description="How far it is set back along the face.")
    angle: Slope | None = Field(None, description="Slope to the face [°]; default 45.")


class WrittenBore(Written):
    """A sideways hole for the cable, from the outside towards the axis."""

    diameter: Size = Field(description="Diameter of the hole.")
    height: Size | None = Field(
        None, description="Its centre above the layer's underside; left out, half-way up."
    )
    bearing: Angle | None = Field(
        None, description="Side it enters from: 0 front, 90 right, 180 back (default)."
    )
    length: Size | None = Field(None, description="How far it goes in; left out, as far as the axis.")


class WrittenFinish(Written):
    """Finish of an acrylic plate, face by face."""

    top: SheetSurface = Field("clear", description="The upper face.")
    underside: SheetSurface = Field("clear", description="The lower face.")
    edge: SheetSurface = Field("clear", description="All the edges.")


FinishField = Annotated[
    Annotated[SheetSurface, Tag(tag("text"))] | Annotated[WrittenFinish, Tag(tag("table"))],
    Discriminator(by_text),
]


class WrittenStep(Written):
    """What changes from one copy to the next."""

    size: Shift | None = Field(
        None,
        description="Change of the size across; pieces set around keep theirs, and their circle changes.",
    )
    turn: Angle = Field(0.0, description="Turn, counter-clockwise seen from above [°].")
    thickness: Shift | None = Field(None, description="Change of thickness; acrylic sheet keeps its own.")
    grain: Angle = Field(0.0, description="Turn of the grain alone [°]; 90 lays it crosswise in turn.")


class LayerBody(Written):
    """One flat part: what it is cut from, its outline, and everything cut into it."""

    name: Name = Field(description="What you call this layer.")
    material: Name = Field(description="Name of a material under [materials].")
    outline: OutlineField = Field(description="Its outer edge: a name under [outlines], or a shape.")
    thickness: Size | None = Field(None, description="Thickness, where it is not that of the material.")
    wall: Size | None = Field(
        None, description="Width of the wall left by an opening that follows the outline."
    )
    opening: Annotated[list[WrittenOpening], one_or_many, OneOrMany()] = Field(
        default=[], max_length=200, description="Holes right through."
    )
    recess: Annotated[list[WrittenRecess], one_or_many, OneOrMany()] = Field(
        default=[], max_length=200, description="Pockets from one face."
    )
    groove: Annotated[list[WrittenGroove], one_or_many, OneOrMany()] = Field(
        default=[], max_length=200, description="Channels that catch glue."
    )
    chamfer: Annotated[list[WrittenChamfer], one_or_many, OneOrMany()] = Field(
        default=[], max_length=200, description="Bevelled edges."
    )
    bore: Annotated[list[WrittenBore], one_or_many, OneOrMany()] = Field(
        default=[], max_length=200, description="Sideways holes for the cable."
    )
    around: WrittenAround | None = Field(None, description="Several pieces alike, such as three spacers.")
    turn: Angle = Field(
        0.0,
        description=(
            "Turn about the lamp's axis, counter-clockwise from above [°]; "
            "what lies in a fitted recess turns with its carrier, and by this beyond it."
        ),
    )
    grain: Angle | None = Field(None, description="Bearing along which the grain runs; 90 is left to right.")
    finish: FinishField | None = Field(
        None, description=f"Finish of an acrylic plate: {' or '.join(FINISHES)}."
    )


class _Repeated(Written):
    repeat: Copies = Field(1, description="How many times, from the bottom up.")
    step: WrittenStep | None = Field(None, description="What changes from one copy to the next.")
    first: WrittenStep | None = Field(None, description="A change that the first copy already has.")


class WrittenLayer(LayerBody, _Repeated):
    """One layer of the stack, or one repeated with a step."""


class WrittenGroup(_Repeated):
    """A group of layers under [groups], placed in the stack and repeated with a step."""

    group: Name = Field(description="Name of a group under [groups].")


def _layer_kind(value: Any) -> str:
    return tag("group") if isinstance(value, dict) and "group" in value else tag("layer")


LayerEntry = Annotated[
    Annotated[WrittenLayer, Tag(tag("layer"))] | Annotated[WrittenGroup, Tag(tag("group"))],
    Discriminator(_layer_kind),
]
