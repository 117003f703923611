"""How the lamp is made, as its file writes it: router, finish and wiring; all of it optional."""

from typing import Literal

from pydantic import Field

from stackview.description.written_fields import (
    Coats,
    Flutes,
    Grit,
    Hours,
    InnerGap,
    Name,
    Revolutions,
    Size,
    Written,
)


class WrittenRouter(Written):
    """What parts are cut with, for the order of work."""

    flutes: Flutes | None = Field(None, description="Flutes of the cutters.")
    least_rpm: Revolutions | None = Field(None, description="The slowest that the router turns [rev/min].")
    most_rpm: Revolutions | None = Field(None, description="The fastest that the router turns [rev/min].")
    outline: Size | None = Field(
        None, description="Diameter of the cutter of outlines; default the lamp's cutter."
    )
    groove: Size | None = Field(
        None,
        description="Diameter of the cutter of grooves; default as wide as the groove, at most the lamp's cutter.",
    )


class WrittenFinishing(Written):
    """How faces are finished, for the order of work."""

    wood: Name | None = Field(
        None,
        description="Finish of wood: hard wax oil, linseed oil, danish oil, shellac, water varnish, oil varnish, "
        "paint, wax or none; any other with its coats and hours.",
    )
    coats: Coats | None = Field(None, description="How many coats; default as is usual for the finish.")
    hours: Hours | None = Field(None, description="How long each coat dries [h]; default as is usual.")
    wood_grits: list[Grit] | None = Field(
        None,
        min_length=1,
        max_length=10,
        description="Grits that wood is sanded with, coarsest first; default [120, 180, 240].",
    )
    acrylic_grits: list[Grit] | None = Field(
        None,
        min_length=1,
        max_length=10,
        description="Grits that acrylic is sanded with, coarsest first; default [240, 400].",
    )


class WrittenWiring(Written):
    """How wires are joined, for the order of work."""

    tail: InnerGap | None = Field(None, description="Wire left at each joint.")
    join: Literal["solder", "connector"] | None = Field(None, description="What joins wires and strips.")
    joined_in: Name | None = Field(
        None, description="Layer that the joint with the cable lies in; default where the cable comes in."
    )
