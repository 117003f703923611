"""Light sources as the lamp's file writes them."""

from collections import Counter
from collections.abc import Sequence
from typing import Literal, get_args

from pydantic import Field

from stackview.description.light_source import Layout, StripLayout
from stackview.description.written_fields import (
    Angle,
    Beam,
    Celsius,
    FlatPlace,
    InnerGap,
    Kelvin,
    LengthPrice,
    Lumens,
    Milliamps,
    Name,
    PerMetre,
    PointCount,
    Size,
    Sizes,
    Tilt,
    Track,
    Turns,
    Volts,
    Watts,
    Written,
)

LAYOUT_KEYS = tuple(kind.key for kind in get_args(Layout))
STRIP_LAYOUTS = tuple(kind.key for kind in get_args(StripLayout))


class WrittenHelix(Written):
    """A strip wound on the round core."""

    pitch: Size = Field(description="How far it climbs in one turn.")
    turns: Turns | None = Field(None, description="How many turns; left out, to the core's top.")
    length: Size | None = Field(None, description="Length of strip, where turns are not given.")
    start: InnerGap | None = Field(None, description="Its lower edge above the core's foot.")
    first: Angle = Field(0.0, description="Bearing at which it begins [°].")
    hand: Literal["right", "left"] = Field(
        "right", description='"right" climbs counter-clockwise seen from above.'
    )


class WrittenRuns(Written):
    """Straight upright strips on the core."""

    count: PointCount = Field(description="How many strips, evenly around.")
    length: Size | None = Field(None, description="Length of each; left out, to the core's top.")
    start: InnerGap | None = Field(None, description="Their lower end above the core's foot.")
    first: Angle = Field(0.0, description="Bearing of the first [°].")


class WrittenRing(Written):
    """Light points on a circle."""

    diameter: Size = Field(description="Diameter of the circle.")
    count: PointCount = Field(description="How many light points.")
    on: Name | None = Field(None, description="Layer on whose top it stands; left out, the lowest.")
    height: InnerGap | None = Field(None, description="Above that layer's top.")
    facing: Literal["out", "in", "up", "down"] = Field("out", description="Which way the light points face.")
    first: Angle = Field(0.0, description="Bearing of the first light point [°].")


class WrittenPanel(Written):
    """A flat board of light points."""

    columns: PointCount = Field(description="Light points from left to right.")
    rows: PointCount = Field(description="Light points from front to back.")
    spacing: Size | None = Field(None, description="From one light point to the next.")
    on: Name | None = Field(None, description="Layer that it sits on; left out, the lowest.")
    facing: Literal["up", "down"] = Field(
        "up", description="Up from a layer's top, or a recess in it, down from its underside."
    )
    at: FlatPlace | None = Field(None, description="Its middle: to the right, to the back; default [0, 0].")


class WrittenDiode(Written):
    """One power diode on a base or under a lid."""

    on: Name | None = Field(None, description="Layer that it sits on; left out, the lowest.")
    facing: Literal["up", "down"] = Field(
        "up", description="Up from a layer's top, or a recess in it, down from its underside."
    )
    at: FlatPlace | None = Field(None, description="Its place: to the right, to the back; default [0, 0].")
    height: InnerGap | None = Field(
        None,
        description="Its light-giving face above (or below) the face that it lies on: in a recess, its floor.",
    )
    tilt: Tilt = Field(0.0, description="Leaning from the vertical [°].")
    bearing: Angle = Field(0.0, description="Bearing towards which it leans [°].")


class WrittenLight(Written):
    """A light source: exactly one of helix, runs, ring, panel or diode, and its data."""

    name: Name | None = Field(None, description="What you call it; left out, its kind.")
    helix: WrittenHelix | None = Field(None, description="A strip wound on the round core.")
    runs: WrittenRuns | None = Field(None, description="Straight upright strips on the core.")
    ring: WrittenRing | None = Field(None, description="Light points on a circle.")
    panel: WrittenPanel | None = Field(None, description="A flat board of light points.")
    diode: WrittenDiode | None = Field(None, description="One power diode.")
    leds_per_metre: PerMetre | None = Field(None, description="Light points on a metre of strip; default 60.")
    spacing: Size | None = Field(
        None, description="From light point to light point, in place of leds_per_metre."
    )
    cut_every: Size | None = Field(
        None, description="Distance between the strip's cut marks; left out, one light point."
    )
    width: Size | None = Field(None, description="Width of the strip.")
    thickness: Size | None = Field(None, description="Thickness of the strip with its tape.")
    continuous: bool = Field(
        False, description="A continuous (COB) strip: counts as a light point every 5 mm."
    )
    bend_radius: Size | None = Field(None, description="Tightest bend of the strip, by its data sheet.")
    hottest: Celsius | None = Field(
        None, description="Hottest that the strip may get, by its data sheet [°C]."
    )
    ohms_per_metre: Track | None = Field(
        None, description="Resistance of the strip's two tracks together [Ω per metre]; default 0.5."
    )
    fed_at_both_ends: bool = Field(False, description="The strip is wired to the supply at both of its ends.")
    beam: Beam | None = Field(None, description="Full angle at half intensity [°]; default 120.")
    face: Sizes | None = Field(
        None, description="Light-giving face of one light point: along the strip, across it."
    )
    colour_temperature: Kelvin | None = Field(None, description="Colour temperature [K]; default 2700.")
    lumens: Lumens | None = Field(None, description="Light of one light point [lm]; not guessed if left out.")
    lumens_per_metre: Lumens | None = Field(None, description="Light of a metre of strip [lm].")
    watts: Watts | None = Field(None, description="Power of one light point [W].")
    watts_per_metre: Watts | None = Field(None, description="Power of a metre of strip [W].")
    milliamps: Milliamps | None = Field(None, description="Current that one light point draws [mA].")
    volts: Volts | None = Field(None, description="Voltage that it is fed with [V]; default 5.")
    port: Name | None = Field(None, description='Port that feeds it, such as "usb 2.0".')
    price: LengthPrice | None = Field(
        None,
        description="What it costs, for the parts list: per m or ft of strip, or per piece: the whole light.",
    )


def light_names(lights: Sequence[tuple[str | None, Sequence[str]]]) -> list[str | None]:
    """What lights are called, from their own names and kinds: by their kinds where they have no names.

    >>> light_names([(None, ["helix"]), ("lid", ["diode"]), (None, ["helix"])])
    ['helix 1', 'lid', 'helix 2']
    """
    every = Counter(kind for _, kinds in lights for kind in kinds)
    reached: Counter[str] = Counter()
    names: list[str | None] = []
    for name, kinds in lights:
        kind = kinds[0] if len(kinds) == 1 else None
        if kind is not None:
            reached[kind] += 1
            name = name or (f"{kind} {reached[kind]}" if every[kind] > 1 else kind)
        names.append(name)
    return names
