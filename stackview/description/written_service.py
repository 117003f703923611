"""Glue, climates, ports, supply and cable as the lamp's file writes them; all of it optional."""

from typing import Literal

from pydantic import Field

from stackview.description.material import MaterialKind
from stackview.description.written_fields import (
    Amperes,
    Celsius,
    CordLength,
    GluePrice,
    Hours,
    Humidity,
    InnerGap,
    LengthPrice,
    Minutes,
    Name,
    PiecePrice,
    RefractiveIndex,
    Size,
    Stretch,
    Volts,
    Written,
)


class WrittenGlue(Written):
    """A glue of your own."""

    film: InnerGap = Field(description="Thickness of the glue line when clamped.")
    grips: list[MaterialKind] = Field(description="Kinds of material that it holds.")
    on_acrylic: Literal["clean", "crazes", "fogs"] = Field("clean", description="What it does to acrylic.")
    stretch: Stretch = Field(
        0.0, description="How far it may shear over its own thickness; 0 for a glue that sets hard."
    )
    index: RefractiveIndex = Field(1.49, description="Refractive index once set; default that of acrylic.")
    hottest: Celsius | None = Field(None, description="Up to where it holds in use [°C].")
    clear: bool = Field(True, description="Whether light passes it unscattered; false for foam and tape.")
    price: GluePrice | None = Field(None, description="What it costs, for the parts list: per ml or per l.")
    open_minutes: Minutes | None = Field(
        None, description="From the bead to the closed joint at most [min], for the order of work."
    )
    clamp_minutes: Minutes | None = Field(None, description="Under clamps or weights at least [min].")
    cure_hours: Hours | None = Field(None, description="Until it takes its load [h].")


class WrittenGluing(Written):
    """The glues of this lamp, by name; those left out are the usual ones."""

    wood: Name | None = Field(None, description="Glue of wood to wood; default wood glue.")
    acrylic: Name | None = Field(None, description="Glue of anything to acrylic; default neutral silicone.")
    other: Name | None = Field(None, description="Glue of everything else; default epoxy.")
    loose: list[Name] | None = Field(
        None, description="Layers that stay unglued, so that the lamp can be opened."
    )


class WrittenClimate(Written):
    """A climate of your own, or the workshop's."""

    temperature: Celsius = Field(description="Temperature [°C].")
    humidity: Humidity = Field(description="Relative humidity [%].")


class WrittenPort(Written):
    """A port of your own."""

    amps: Amperes = Field(description="Current that it gives [A].")
    volts: Volts = Field(5.0, description="Its voltage [V].")


class WrittenSupply(Written):
    """What feeds the lamp, where a port's name does not say it all."""

    adapter: Amperes | None = Field(None, description="Current that the adapter is rated for [A].")
    fuse: Amperes | None = Field(None, description="Rating of the fuse in the cable [A].")
    price: PiecePrice | None = Field(None, description="What the supply costs, for the parts list.")


class WrittenCable(Written):
    """The cable of a lamp that stands."""

    length: CordLength | None = Field(None, description="From the supply to the lamp; default 1.5 m.")
    diameter: Size | None = Field(None, description="Outside diameter of the cable; default 4 mm.")
    wire: Name | None = Field(None, description='Size of each of its two wires: "0.5 mm2" or "AWG 22".')
    plug: Size | None = Field(
        None, description="Widest measure of a plug that has to go through the bore; left out, bare ends do."
    )
    strain_relief: bool | None = Field(None, description="Whether a clamp or a knot takes its pull.")
    price: LengthPrice | None = Field(
        None, description="What it costs, for the parts list: per m, ft or piece."
    )
