"""The whole file of a lamp as written: materials, outlines, groups, layers and what goes with them."""

from typing import Annotated, Any, Literal, get_args

from pydantic import Discriminator, Field, Tag

from stackview.description.material import FINISHES, MaterialKind
from stackview.description.material import SheetSurface as Faces
from stackview.description.units import UnitName
from stackview.description.written_fields import (
    LENGTH_SCHEMA,
    Angle,
    ChordError,
    Coefficient,
    Copies,
    CordLength,
    Density,
    Distance,
    FlatPlace,
    Gaps,
    Height,
    InnerGap,
    LengthPrice,
    Name,
    OneOrMany,
    PassingShare,
    PiecePrice,
    Reflectance,
    Roughness,
    Share,
    Size,
    StuffPrice,
    SurfaceDiameter,
    SurfaceSize,
    Written,
    WrittenColour,
    by_text,
    one_or_many,
    tag,
)
from stackview.description.written_layer import LayerBody, LayerEntry, WrittenFinish
from stackview.description.written_light import WrittenLight
from stackview.description.written_outline import OutlineField, WrittenAround, WrittenOutline
from stackview.description.written_service import (
    WrittenCable,
    WrittenClimate,
    WrittenGlue,
    WrittenGluing,
    WrittenPort,
    WrittenSupply,
)
from stackview.description.written_sheet import WrittenSheet
from stackview.description.written_workshop import WrittenFinishing, WrittenRouter, WrittenWiring
from stackview.in_figures import with_unit

KIND_KEYS = get_args(MaterialKind)


class WrittenMaterial(Written):
    """A sheet or rod: exactly one of wood, plywood, board, acrylic, metal or plastic, and its thickness."""

    wood: Name | None = Field(None, description="Solid wood of this species.")
    plywood: Name | None = Field(None, description="Plywood with faces of this wood.")
    board: Name | None = Field(None, description="Board made of fibres.")
    acrylic: Name | None = Field(None, description="Acrylic sheet or rod: clear or opal.")
    metal: Name | None = Field(None, description="Metal sheet, rod or tube.")
    plastic: Name | None = Field(None, description="Plastic other than acrylic.")
    sold: Size | None = Field(None, description="Thickness it is sold as.")
    measured: Size | None = Field(None, description="True thickness by caliper; wins over the sold one.")
    finish: (
        Annotated[
            Annotated[Faces, Tag(tag("text"))] | Annotated[WrittenFinish, Tag(tag("table"))],
            Discriminator(by_text),
        ]
        | None
    ) = Field(None, description=f"Finish of acrylic: {' or '.join(FINISHES)}, or face by face.")
    density: Density | None = Field(None, description="Your own density [kg/m³], in place of the table's.")
    colour: WrittenColour | None = Field(
        None, description="Your own colour, #rrggbb, in place of the table's."
    )
    roughness: Roughness | None = Field(
        None, description="Roughness of sanded acrylic, 0.02 to 0.6; default 0.3. `stackview finish` fits it."
    )
    transmission: PassingShare | None = Field(
        None, description="Share of light that opal acrylic lets through; default 0.5."
    )
    haze: Share | None = Field(
        None,
        description="Share of that light which opal acrylic spreads; default 1: nothing goes straight on.",
    )
    coat: Literal["paint", "mirror"] | None = Field(
        None, description="Matt paint or a mirror over wood, board, metal or plastic; paint takes colour."
    )
    reflects: Reflectance | None = Field(
        None, description="Share of light that an opaque face gives back, in place of its colour's."
    )
    sheet: Literal["cast", "extruded"] | None = Field(
        None, description="How acrylic sheet is made, for its tolerance: cast or extruded; default cast."
    )
    sawn: Literal["flat", "quarter"] | None = Field(
        None, description="How solid wood is sawn: quarter-sawn moves less across its width; default flat."
    )
    radial: Coefficient | None = Field(
        None, description="Your own radial movement of wood, per % of moisture, in place of the table's."
    )
    tangential: Coefficient | None = Field(
        None, description="Your own tangential movement of wood, per % of moisture, in place of the table's."
    )
    price: StuffPrice | None = Field(
        None, description="What it costs, for the parts list: per m2 or ft2, per m or ft, or per kg."
    )


class WrittenPost(Written):
    """A rod or pin upright through openings."""

    name: Name = Field(description="What you call it.")
    material: Name = Field(description="Name of a material under [materials].")
    outline: OutlineField = Field(description="Its cross-section.")
    start: Name = Field(alias="from", description="Layer at whose underside it begins.")
    end: Name = Field(alias="to", description="Layer at whose top it ends.")
    inset: Gaps | None = Field(None, description="How much shorter it is at the lower and the upper end.")
    around: WrittenAround | None = Field(None, description="Several alike, on a circle about the axis.")


class WrittenCoreHole(Written):
    """A hole through the wall of a tube, for wires from inside it to the strip."""

    diameter: Size = Field(description="Diameter of the hole.")
    height: Size = Field(description="Its centre above the core's lower end.")
    bearing: Angle = Field(0.0, description="Side it is drilled from: 0 front, 90 right, 180 back.")


class WrittenCore(Written):
    """The post or tube in the middle that carries the light strip."""

    material: Name = Field(description="Name of a material under [materials].")
    outline: OutlineField = Field(description="Its cross-section.")
    wall: Size | None = Field(None, description="Wall of a tube; left out, the core is solid.")
    height: Size | None = Field(
        None, description="Its length; left out, as far as the layer that closes the lamp."
    )
    stands_on: Name | None = Field(None, description="Layer that it stands on; left out, the lowest.")
    hangs_from: Name | None = Field(None, description="Layer that it hangs from, in place of stands_on.")
    sunk: InnerGap | None = Field(
        None, description="How deep its end is let into that layer, from its face; a recess there counts."
    )
    hole: Annotated[list[WrittenCoreHole], one_or_many, OneOrMany()] = Field(
        default=[], max_length=100, description="Holes through the wall of a tube, for wires."
    )


class WrittenFeet(Written):
    """Round feet under the lowest layer."""

    count: Copies | None = Field(None, description="How many feet.")
    diameter: Size | None = Field(None, description="Diameter of one foot.")
    height: Size | None = Field(None, description="Height of the feet.")
    circle: Size | None = Field(None, description="Diameter of the circle on which they stand.")
    material: Name | None = Field(None, description="Name of a material under [materials]; left out, rubber.")
    first: Angle = Field(0.0, description="Bearing of the first foot [°].")
    price: PiecePrice | None = Field(None, description="What one foot costs, for the parts list.")


class WrittenScrew(Written):
    """Screws that hold two layers together; their holes are openings and recesses of the layers."""

    name: Name = Field(description="What you call them.")
    through: Name = Field(description="Layer that they go through, head outwards.")
    into: Name = Field(description="Layer that their thread holds in.")
    count: Copies | None = Field(None, description="How many screws.")
    diameter: Size | None = Field(None, description="Diameter of one over its thread.")
    length: Size | None = Field(
        None,
        description="Length of one, its head let in flush; left out, the longest sold one that stays in the wood and is "
        "no longer than three times the layer under its head.",
    )
    price: PiecePrice | None = Field(None, description="What one screw costs, for the parts list.")


class WrittenCord(Written):
    """The cord that a pendant hangs from."""

    diameter: Size | None = Field(None, description="Diameter of the cord.")
    length: CordLength | None = Field(None, description="Length of the cord.")
    at: FlatPlace | None = Field(None, description="Where it leaves the top layer; default [0, 0].")
    wire: Name | None = Field(None, description='Size of each of its two wires: "0.5 mm2" or "AWG 20".')
    strain_relief: bool | None = Field(None, description="Whether a clamp or a knot takes its pull.")
    price: LengthPrice | None = Field(
        None, description="What it costs, for the parts list: per m, ft or piece."
    )


class WrittenSurface(Written):
    """What the lamp stands on."""

    height: Height | None = Field(None, description="Height of the surface above the floor.")
    size: SurfaceSize | None = Field(None, description="Width and depth of the surface.")
    diameter: SurfaceDiameter | None = Field(None, description="Diameter of a round surface.")
    at: FlatPlace | None = Field(None, description="Where the lamp stands, from the surface's middle.")


class WrittenPendant(Written):
    """A lamp that hangs."""

    underside: Height = Field(description="Height of the lamp's underside above the floor.")


class WrittenEye(Written):
    """Somebody who looks at the lamp."""

    name: Name = Field(description="Who, or from where.")
    distance: Distance = Field(description="Horizontal distance from the lamp's axis.")
    height: Height = Field(description="Height of the eye above the floor.")


class WrittenLamp(Written):
    """A tiered lamp, written from the bottom up like a cut list."""

    name: Name = Field(description="What the lamp is called.")
    unit: UnitName = Field("mm", description="Unit of every length written without one.")
    currency: Name | None = Field(None, description="Currency of every price, as you call it.")
    cutter: Size | None = Field(None, description="Diameter of the cutter.")
    clearance: InnerGap | None = Field(None, description="Play per side of every fitted recess.")
    chord_error: ChordError | None = Field(
        None, description="Greatest distance between a curve and its facets in the model."
    )
    materials: dict[Name, WrittenMaterial] = Field(
        default={}, description="Sheets and rods, each named once."
    )
    outlines: dict[Name, WrittenOutline] = Field(default={}, description="Outlines used more than once.")
    groups: dict[Name, list[LayerBody]] = Field(
        default={}, description="Groups of layers, bottom up, to be repeated."
    )
    layer: list[LayerEntry] = Field(default=[], max_length=2000, description="The stack, from the bottom up.")
    post: list[WrittenPost] = Field(default=[], max_length=500, description="Rods and pins.")
    screw: list[WrittenScrew] = Field(default=[], max_length=200, description="Screws, for the parts list.")
    core: WrittenCore | None = Field(None, description="Post or tube in the middle.")
    feet: WrittenFeet | None = Field(None, description="Feet under the lamp.")
    cord: WrittenCord | None = Field(None, description="Cord of a pendant.")
    light: list[WrittenLight] = Field(default=[], max_length=200, description="Light sources.")
    surface: WrittenSurface | None = Field(None, description="What the lamp stands on.")
    pendant: WrittenPendant | None = Field(None, description="For a lamp that hangs.")
    climate: list[Name] = Field(
        default=[],
        max_length=20,
        description="Climates that it lives in, by name; default a dry winter room and a humid summer room.",
    )
    climates: dict[Name, WrittenClimate] = Field(
        default={}, description="Climates of your own; workshop is the one that the lamp is built in."
    )
    glue: WrittenGluing | None = Field(None, description="Glues of this lamp.")
    glues: dict[Name, WrittenGlue] = Field(default={}, description="Glues of your own.")
    ports: dict[Name, WrittenPort] = Field(default={}, description="Ports of your own.")
    supply: WrittenSupply | None = Field(None, description="Ratings of adapter and fuse.")
    cable: WrittenCable | None = Field(None, description="Cable of a lamp that stands.")
    sheet: list[WrittenSheet] = Field(
        default=[], max_length=100, description="Sheets and offcuts at hand, to lay parts out on."
    )
    router: WrittenRouter | None = Field(None, description="What parts are cut with, for the order of work.")
    finishing: WrittenFinishing | None = Field(
        None, description="How faces are finished, for the order of work."
    )
    wiring: WrittenWiring | None = Field(None, description="How wires are joined, for the order of work.")
    limits: dict[str, Any] = Field(
        default={}, max_length=500, description="Your own limits for the checks, in place of the table's."
    )
    eye: list[WrittenEye] = Field(
        default=[], max_length=100, description="Who looks at it; left out, three usual eyes."
    )


def _limits_schema() -> dict[str, Any]:
    """JSON Schema of ``[limits]``: every known limit, what it is for, and what it may be."""
    from stackview.description.limits_table import known_limits

    shown = {}
    for limit in known_limits().values():
        number = {"type": "number", "minimum": limit.low, "maximum": limit.high}
        about = f"{limit.purpose[:1].upper()}{limit.purpose[1:]}; {with_unit(f'{limit.value:g}', limit.unit)}"
        kind = {"anyOf": LENGTH_SCHEMA["anyOf"]} if limit.unit == "mm" else number
        shown[limit.name] = {**kind, "description": f"{about} ({limit.source})."}
    return {"type": "object", "properties": shown, "additionalProperties": False}


def schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a lamp's file, for editors to complete and check it.

    The sorts that the package's tables know are offered, others are allowed.
    """
    from stackview.description.materials_table import sorts

    made = WrittenLamp.model_json_schema(by_alias=True)
    material = made["$defs"]["WrittenMaterial"]
    material["oneOf"] = [{"required": [kind]} for kind in KIND_KEYS]
    for kind in KIND_KEYS:
        known = {"enum": list(sorts(kind))}
        description = material["properties"][kind]["description"]
        offered = known if kind == "acrylic" else {"anyOf": [known, {"type": "string"}]}
        material["properties"][kind] = {**offered, "description": description}
    made["properties"]["limits"] |= _limits_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": "stackview lamp"}
