"""Where a strip is cut, what of its room is left over, and what would use it."""

from math import degrees
from typing import assert_never

import numpy as np

from stackview.checks.subject import Subject
from stackview.description.lamp import Core
from stackview.description.light_source import Helix, Runs, StripLayout
from stackview.description.units import Units
from stackview.findings import Finding, Level
from stackview.light.layout import Lit
from stackview.light.ribbon import Ribbon
from stackview.light.strip import helix_turn

_CUT = "whole segments between cut marks in the length there is room for"
_ROUNDING = 1e-6
_IF_ROOM = "if the core is tall enough"


def strip_end(subject: Subject, lit: Lit, ribbon: Ribbon, layout: StripLayout, core: Core) -> Finding:
    """Where the strip is cut, how much room is left over, and what pitch would use it."""
    cut, units = lit.cuts[0], subject.lamp.units
    rest = cut.room - cut.length
    each = f"each of {len(lit.cuts)} lengths" if len(lit.cuts) > 1 else "it"
    place = _end_place(layout, core, ribbon, cut.length, units)
    at_mark = (
        "a cut mark, with nothing over"
        if rest < 0.05
        else f"the last cut mark, {units.show(rest)} short of its room"
    )
    return Finding(
        check="strip",
        level=Level.FACT,
        where=f'light "{lit.light.name}"',
        what=(
            f"{each} is {units.show(cut.length)} long, {cut.segments} segment{'s' if cut.segments != 1 else ''} of "
            f"{units.show(layout.strip.cut_every)}, and ends at {at_mark}{place}"
        ),
        value=rest,
        unit="mm",
        source=_CUT,
        advice=""
        if rest < 0.05
        else _use_up(layout, core, cut.room, cut.length + layout.strip.cut_every, units),
    )


def _end_place(layout: StripLayout, core: Core, ribbon: Ribbon, length: float, units: Units) -> str:
    """Where a wound strip of ``length`` [mm] ends; upright ones end above where they begin."""
    match layout:
        case Runs():
            return ""
        case Helix():
            end = (ribbon.low[-1] + ribbon.high[-1]) / 2.0
            bearing = degrees(np.arctan2(end[0], -end[1])) % 360.0
            turns = length / helix_turn(_middle(layout, core), layout.pitch)
            at = f"at bearing {round(bearing) % 360}°, {units.show(float(end[2]))} up"
            return f", after {turns:.2f} turns, {at}"
        case _:
            assert_never(layout)


def _middle(layout: Helix, core: Core) -> float:
    """Radius of the middle of a wound strip's thickness [mm]."""
    radius = core.outline.radius
    assert radius is not None, "a helix is wound on a round core"
    return radius + layout.strip.thickness / 2.0


def _use_up(layout: StripLayout, core: Core, room: float, wanted: float, units: Units) -> str:
    """What would make room for one segment more, ``wanted`` [mm] of strip in all."""
    if layout.length is not None and room >= layout.length - _ROUNDING:
        return f"A length of {units.least(wanted)} would take one more segment, {_IF_ROOM}."
    match layout:
        case Runs():
            return f"A core {units.least(wanted - room)} taller would take one more segment."
        case Helix():
            return _turns_more(layout, core, room, wanted, units)
        case _:
            assert_never(layout)


def _turns_more(layout: Helix, core: Core, room: float, wanted: float, units: Units) -> str:
    middle = _middle(layout, core)
    if layout.turns is not None and room >= layout.turns * helix_turn(middle, layout.pitch) - _ROUNDING:
        turns = wanted / helix_turn(middle, layout.pitch)
        return f"{np.ceil(turns * 100.0) / 100.0:.2f} turns would take one more segment, {_IF_ROOM}."
    taller = (wanted - room) * layout.pitch / helix_turn(middle, layout.pitch)
    return f"A core {units.least(taller)} taller would take one more segment."
