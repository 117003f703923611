"""Kinds of field that a lamp's file is made of: lengths, numbers, names, one-or-a-list.

Each reads one TOML value, raises ``ValueError`` in the maker's words, and tells the JSON Schema
what an editor may offer. The unit of bare numbers travels in pydantic's validation context.
"""

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    PlainValidator,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import CoreSchema

from stackview.description.material import Length
from stackview.description.price import Price, PriceUnit
from stackview.description.units import shown
from stackview.description.written_length import read_length
from stackview.description.written_price import price_schema, read_price
from stackview.in_figures import with_unit

LEAST_SIZE, GREATEST_SIZE = 0.01, 5000.0
"""Sizes of parts [mm]: a hundredth of a millimetre to five metres."""
LAST_BIT = 1e-7
"""What a length that was typed in may be past a limit of the lamp's own [mm]: 170.6/2 − 2.8/2 is a bit less than 83.9."""
GREATEST_HEIGHT, GREATEST_DISTANCE, NEAREST_EYE = 20000.0, 50000.0, 50.0
"""Heights in a room, and how far or near an eye may be [mm]."""
LONGEST_NAME = 60

LENGTH_PATTERN = (
    r"^\s*[+-]?\s*([0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+\.?|[0-9]*\s*[½¼¾⅛⅜⅝⅞])"
    r"\s*([a-zA-Z]+\.?|[\"'″′”’])?(\s*-?\s*[0-9][0-9 /.-]*\s*([a-zA-Z]+\.?|[\"″”])?)?\s*$"
)
"""A loose picture of a written length for editors; :func:`read_length` decides."""

LENGTH_SCHEMA: dict[str, Any] = {
    "anyOf": [{"type": "number"}, {"type": "string", "pattern": LENGTH_PATTERN, "maxLength": 40}],
    "examples": [5.6, "5.6 mm", "5-1/2 in", "1 1/8 in", ".220 in", "3/16 in", "5 ft 6 in"],
}


class Written(BaseModel):
    """Base of all tables of a lamp's file: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=False, strict=True)


def _unit(info: ValidationInfo) -> str:
    return str((info.context or {}).get("unit", "mm"))


def _length(low: float | None, high: float | None, of: str) -> Any:
    def read(value: object, info: ValidationInfo) -> Length:
        return read_length(value, _unit(info), low=low, high=high, of=of)

    return Annotated[Length, PlainValidator(read), WithJsonSchema(LENGTH_SCHEMA)]


def _lengths(count: int, low: float | None, high: float | None, of: str, what: str) -> Any:
    def read(value: object, info: ValidationInfo) -> tuple[Length, ...]:
        if not isinstance(value, list) or len(value) != count:
            raise ValueError(f"{shown(value)} should be {count} lengths in brackets, {what}")
        return tuple(read_length(item, _unit(info), low=low, high=high, of=of) for item in value)

    schema = {"type": "array", "items": LENGTH_SCHEMA, "minItems": count, "maxItems": count}
    return Annotated[tuple[Length, Length], PlainValidator(read), WithJsonSchema(schema)]


def _number(
    low: float, high: float, counted_in: str, *, whole: bool = False, examples: tuple[float, ...] = ()
) -> Any:
    kind = "a whole number" if whole else "a number"
    most = with_unit(f"{high:g}", counted_in)

    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise ValueError(f"{shown(value)} is not {kind}: write {kind} from {low:g} to {most}")
        if not low <= value <= high:  # not a number is not between them either
            raise ValueError(
                f"{shown(value)} is outside its limits, {low:g} to {most}: write one between them"
            )
        if whole and value != int(value):
            raise ValueError(f"{shown(value)} is not {kind}: write {kind} from {low:g} to {most}")
        return int(value) if whole else float(value)

    schema: dict[str, Any] = {"type": "integer" if whole else "number", "minimum": low, "maximum": high}
    if examples:
        schema["examples"] = list(examples)
    return Annotated[int if whole else float, PlainValidator(read), WithJsonSchema(schema)]


def _price(*units: PriceUnit) -> Any:
    def read(value: object) -> Price:
        return read_price(value, units)

    return Annotated[Price, PlainValidator(read), WithJsonSchema(price_schema(units))]


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError(f"{shown(value)} is not a text: put it in quotes")
    if not value.strip() or len(value) > LONGEST_NAME or not value.isprintable():
        raise ValueError(
            f"{shown(value)} cannot be a name: use 1 to {LONGEST_NAME} letters, figures, spaces or dashes"
        )
    return value


def _file(value: object) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > 500 or not value.isprintable():
        raise ValueError(f'{shown(value)} is not a file name: write one such as "kelp.svg"')
    return value


def _colour(value: object) -> str:
    figures = value[1:].lower() if isinstance(value, str) and value.startswith("#") else ""
    if not isinstance(value, str) or len(figures) != 6 or set(figures) - set("0123456789abcdef"):
        raise ValueError(f'{shown(value)} is not a colour: write "#" and six figures, e.g. "#a0713f"')
    return value


_TEXT_SCHEMA = {"type": "string", "minLength": 1, "maxLength": LONGEST_NAME}
_COLOUR_SCHEMA = {"type": "string", "pattern": "^#[0-9a-fA-F]{6}$", "examples": ["#a0713f"]}

Size = _length(LEAST_SIZE, GREATEST_SIZE, "a size of a part")
InnerGap = _length(0.0, GREATEST_SIZE, "a distance inside a part")
Shift = _length(-GREATEST_SIZE, GREATEST_SIZE, "a change or a place")
Height = _length(0.0, GREATEST_HEIGHT, "a height in a room")
Distance = _length(NEAREST_EYE, GREATEST_DISTANCE, "an eye's distance")
CordLength = _length(50.0, GREATEST_HEIGHT, "a cord's or cable's length")
SurfaceSize = _lengths(2, 10.0, GREATEST_HEIGHT, "a surface's size", "width and depth: [1200, 700]")
SurfaceDiameter = _length(10.0, GREATEST_HEIGHT, "a surface's size")
ChordError = _length(0.001, 1.0, "the chord error")
Sizes = _lengths(
    2, LEAST_SIZE, GREATEST_SIZE, "a size of a part", "left to right, then front to back: [150, 90]"
)
FlatPlace = _lengths(2, -GREATEST_SIZE, GREATEST_SIZE, "a place", "to the right, then to the back: [10, 0]")
Gaps = _lengths(
    2, 0.0, GREATEST_SIZE, "a distance inside a part", "at the lower, then at the upper end: [2, 2]"
)
Angle = _number(-3600, 3600, "°", examples=(0, 5, 90))
Slope = _number(1, 89, "°", examples=(45,))
Tilt = _number(0, 90, "°", examples=(0, 30))
Beam = _number(1, 180, "°", examples=(120,))
Turns = _number(0.01, 10000, "turns", examples=(5,))
SideCount = _number(3, 100, "", whole=True, examples=(6, 8))
Copies = _number(1, 1000, "", whole=True, examples=(3, 6))
PointCount = _number(1, 100000, "", whole=True, examples=(12,))
PerMetre = _number(1, 1000, "per metre", examples=(60, 120))
Kelvin = _number(1000, 20000, "K", examples=(2700,))
Lumens = _number(0, 100000, "lm")
Watts = _number(0, 1000, "W")
Milliamps = _number(0.1, 100000, "mA", examples=(20, 350))
Volts = _number(1, 60, "V", examples=(5, 12))
Density = _number(1, 25000, "kg/m³", examples=(680,))
Celsius = _number(-40, 200, "°C", examples=(21,))
Minutes = _number(0, 10000, "min", examples=(30,))
Hours = _number(0, 1000, "h", examples=(24,))
Coats = _number(0, 20, "coats", whole=True, examples=(2,))
Flutes = _number(1, 8, "flutes", whole=True, examples=(2,))
Revolutions = _number(500, 60000, "revolutions a minute", examples=(18000,))
Grit = _number(16, 5000, "", whole=True, examples=(180,))
Humidity = _number(0, 100, "%", examples=(35, 60))
Amperes = _number(0.01, 100, "A", examples=(0.5, 3))
Stretch = _number(0, 10, "", examples=(0, 0.75))
RefractiveIndex = _number(1, 2, "", examples=(1.49,))
Coefficient = _number(0, 0.02, "per % of moisture", examples=(0.0027,))
Roughness = _number(0.02, 0.6, "", examples=(0.3,))
Share = _number(0.0, 1.0, "", examples=(0.5,))
PassingShare = _number(0.02, 0.95, "", examples=(0.5,))
Reflectance = _number(0.01, 0.98, "", examples=(0.8,))
Track = _number(0, 100, "Ω per metre", examples=(0.5,))
StuffPrice = _price("m2", "ft2", "m", "ft", "kg")
LengthPrice = _price("m", "ft", "piece")
PiecePrice = _price("piece")
GluePrice = _price("ml", "l")
Name = Annotated[str, PlainValidator(_text), WithJsonSchema(_TEXT_SCHEMA)]
FileName = Annotated[str, PlainValidator(_file), WithJsonSchema({"type": "string", "examples": ["kelp.svg"]})]
WrittenColour = Annotated[str, PlainValidator(_colour), WithJsonSchema(_COLOUR_SCHEMA)]


class OneOrMany:
    """Marks a list field that may also be written as a single item without brackets."""

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        listed = handler(core)
        return {"anyOf": [listed["items"], listed]}


def _wrapped(value: object) -> object:
    return value if isinstance(value, list) else [value]


one_or_many: Callable[..., Any] = BeforeValidator(_wrapped)  # type: ignore[assignment]


def tag(kind: str) -> str:
    """A union tag that :mod:`stackview.description.wording` leaves out of a fault's place."""
    return f"‹{kind}›"


def by_text(value: object) -> str:
    """Tag of a field that is either a text (a name or a word) or a table."""
    return tag("text") if isinstance(value, str) else tag("table")
