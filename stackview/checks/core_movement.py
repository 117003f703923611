"""A stack of flat sheets on a core: the stack shrinks in height, the core does not, or less.

Flat-sawn boards move through their thickness as their radial direction does, quarter-sawn ones as
their tangential (Wood Handbook FPL-GTR-190, ch. 13); a core of wood hardly moves along its grain,
one of metal not with moisture at all, and acrylic plates with temperature and moisture as much
through their thickness as along it (the table of movement). A core that reaches from one layer to another then lifts
what lies on it, once the stack has shrunk by more than the room above the core.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely

from stackview.checks.facets import AT_LARGE
from stackview.checks.subject import Subject
from stackview.checks.wood_movement import equilibrium_moisture, wood_moved
from stackview.curves.arcs import polygon
from stackview.description.lamp import FaceSide
from stackview.description.material import Material
from stackview.description.outline import path_of
from stackview.description.service import Climate
from stackview.findings import Bound, Finding, Level, Way
from stackview.stack.footprint import levels

_TOUCH = 1.0
"""Areas that share less than this do not meet [mm²]."""
_ROUNDING = 1e-6
_FACES: tuple[FaceSide, FaceSide] = ("top", "underside")


@dataclass(frozen=True, slots=True)
class Braced:
    """A core between two layers: the heights between which it stands, and the room left at its free end [mm]."""

    low: float
    high: float
    room: float
    against: str
    """The layer that it would lift or be lifted by."""


def braced(subject: Subject) -> Braced | None:
    """Where the core reaches from layer to layer; None where one end is free, or there is no core."""
    core = subject.lamp.core
    parts = {part.name: part for part in subject.stack.placed}
    if core is None or "core" not in parts:
        return None
    foot, head = parts["core"].underside, parts["core"].top
    section = shapely.Polygon(polygon(path_of(core.outline), AT_LARGE))
    meets = []
    for layer in subject.lamp.layers:
        foot_of = parts[layer.name].underside
        for face in _FACES:
            for level in levels(layer, face):
                at = foot_of + level.height
                room = at - head if face == "underside" else foot - at
                if room >= -_ROUNDING and level.area.intersection(section).area > _TOUCH:
                    meets.append((face, max(room, 0.0), layer.name))
    above = min((one for one in meets if one[0] == "underside"), key=lambda one: one[1], default=None)
    below = min((one for one in meets if one[0] == "top"), key=lambda one: one[1], default=None)
    if above is None or below is None:
        return None
    return Braced(foot, head, above[1] + below[1], above[2] if core.hangs_from is None else below[2])


def shrinkage(subject: Subject, low: float, high: float, before: Climate, after: Climate) -> float:
    """By how much the stack between two heights shrinks more than the core [mm].

    Of parts beside one another the one that shrinks most counts. Heights at which plywood or board
    lies in the stack are left out, for how those move through their thickness is not known.
    """
    parts = [part for part in subject.stack.placed if part.is_layer]
    marks = sorted({low, high, *(z for part in parts for z in (part.underside, part.top) if low < z < high)})
    core, by = subject.lamp.core, 0.0
    if core is None:
        return 0.0
    for under, over in pairwise(marks):
        here = [part for part in parts if part.underside < over - _ROUNDING and part.top > under + _ROUNDING]
        apart = [_apart(core.material, part.material, before, after) for part in here]
        known = [one for one in apart if one is not None]
        if known and len(known) == len(apart):
            by += (over - under) * max(known)
    return by


def _apart(core: Material, sheet: Material, before: Climate, after: Climate) -> float | None:
    """Strain of a core along its length less that of a sheet through its thickness; None for plywood and board.

    Solid wood by Eq. 13-2, flat-sawn radially, quarter-sawn tangentially; its expansion with
    temperature is small beside that and left out, and so is that of a core beside it. What is alike
    in all directions moves with temperature and humidity.
    """
    moves = core.movement
    along = wood_moved(1.0, moves.along, *_moist(before, after)) if core.is_wooden else 0.0
    if sheet.is_solid_wood:
        through = sheet.movement.tangential if sheet.movement.quarter else sheet.movement.radial
        return along - wood_moved(1.0, through, *_moist(before, after))
    if sheet.is_wooden:
        return None
    return (along if core.is_wooden else _alike(core, before, after)) - _alike(sheet, before, after)


def _moist(before: Climate, after: Climate) -> tuple[float, float]:
    first, last = (equilibrium_moisture(one.celsius, one.humidity) for one in (before, after))
    return first, last


def _alike(material: Material, before: Climate, after: Climate) -> float:
    """Strain with temperature, and with humidity, of what moves alike in all directions."""
    moves = material.movement
    warmer, damper = after.celsius - before.celsius, after.humidity - before.humidity
    return moves.per_kelvin * warmer + moves.per_humidity * damper


def against_the_core(subject: Subject) -> Iterator[Finding]:
    """A caution where the stack shrinks by more than the room that its core leaves."""
    found, rooms, units = braced(subject), subject.lamp.rooms, subject.lamp.units
    if found is None:
        return
    worst = max(
        ((shrinkage(subject, found.low, found.high, rooms.workshop, one), one) for one in rooms.lives_in),
        key=lambda pair: pair[0],
        default=None,
    )
    flush = subject.limits["flush"]
    if worst is None or worst[0] <= found.room + flush.value + _ROUNDING:
        return
    by, climate = worst
    yield Finding(
        check="movement",
        level=Level.CAUTION,
        where=f"core and {found.against}",
        what=(
            f'in climate "{climate.name}" the stack shrinks by {units.show(by)} in height against its core, which has '
            f"{units.show(found.room)} of room: the core presses {found.against} off the stack"
        ),
        short=f"the stack shrinks by {units.show(by)} in dry air; the core leaves {units.show(found.room)}",
        value=by,
        unit="mm",
        limit=found.room + flush.value,
        bound=Bound.MOST,
        source="Wood Handbook FPL-GTR-190, Eq. 4-5 and 13-2, through the thickness of the boards; plates and core by "
        "temperature and humidity; " + flush.source,
        advice="Make the core shorter and hold it at one end only.",
        ways=(
            Way(
                "core",
                "height",
                found.high - found.low,
                found.high - found.low - by + found.room + flush.value,
            ),
        ),
        parts=("core", found.against),
        cause="stack on its core",
    )
