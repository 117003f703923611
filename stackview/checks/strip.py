"""Strip: how tightly it is bent, how it lies on its core, whether it passes the openings, where it is cut."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import cos, degrees, pi, radians, sin, tan

import numpy as np

from stackview.checks.alike import together
from stackview.checks.bending import edge_lift, helix_bend, lead_angle, radius_for_bend
from stackview.checks.side_by_side import side_by_side
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import Path, moved, turned
from stackview.curves.fit import inside
from stackview.description.lamp import Core, Layer
from stackview.description.light_source import Helix, Runs
from stackview.description.outline import Outline, around, path_of
from stackview.description.shapes import Circle, Rectangle, Regular
from stackview.description.units import show, show_least
from stackview.findings import Finding, Level
from stackview.light.layout import Lit
from stackview.light.ribbon import Ribbon
from stackview.light.strip import helix_turn

_TOUCH = 1e-6
_CUT = "whole segments between cut marks in the length there is room for"


def strip(subject: Subject) -> tuple[Finding, ...]:
    """Cautions for tight bends, poor contact and strips that do not pass; notes of where they end."""
    core = subject.lamp.core
    found: list[Finding] = []
    first = 0
    for lit in subject.light.lit:
        layout = lit.light.layout
        ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        if core is None or not isinstance(layout, Helix | Runs):
            continue
        if isinstance(layout, Helix):
            found.extend(_bend(subject, lit, layout, core))
        found.extend(side_by_side(subject, lit, ribbons, core))
        found.extend(_contact(subject, lit, layout, core))
        found.extend(_passes(subject, ribbons, layout, core))
        found.append(_end(subject, lit, ribbons[0], layout, core))
    return tuple(found)


def core_radius(core: Core) -> float | None:
    """Radius of a round core [mm]; None for any other."""
    shape = core.outline.shape
    return shape.diameter / 2.0 + core.outline.grow if isinstance(shape, Circle) else None


def _where(lit: Lit) -> str:
    return f'light "{lit.light.name}"'


def _bend(subject: Subject, lit: Lit, layout: Helix, core: Core) -> Iterator[Finding]:
    radius = core_radius(core)
    assert radius is not None, "a helix is wound on a round core"
    limit = subject.limits["bend_radius_continuous" if layout.strip.continuous else "bend_radius"]
    own = layout.strip.bend_radius
    least, source = (limit.value, limit.source) if own is None else (own, "as written for this strip")
    middle = radius + layout.strip.thickness / 2.0
    lead = lead_angle(middle, layout.pitch)
    bend = helix_bend(middle, lead)
    if bend >= least:
        return
    unit = subject.lamp.unit
    needed = 2.0 * radius_for_bend(least, layout.pitch) - layout.strip.thickness
    yield Finding(
        check="strip",
        level=Level.CAUTION,
        where=_where(lit),
        what=(
            f"wound at {lead:.1f}° on {show(2.0 * radius, unit)}, it is bent to a radius of {show(bend, unit)}; "
            f"such a strip stands {show(least, unit)}"
        ),
        value=bend,
        unit="mm",
        limit=least,
        source=f"curvature of a helix, R/cos²α; limit: {source}",
        advice=f"Take a core of at least {show(_upwards(needed), unit)}, or straight runs.",
    )


def _upwards(mm: float) -> float:
    """To the next tenth of a millimetre, on the safe side."""
    return float(np.ceil(mm * 10.0 - 1e-9) / 10.0)


# --- contact ---


def _contact(subject: Subject, lit: Lit, layout: Helix | Runs, core: Core) -> Iterator[Finding]:
    width, radius = layout.strip.width, core_radius(core)
    if radius is not None:
        lead = lead_angle(radius, layout.pitch) if isinstance(layout, Helix) else 90.0
        yield from _lifts(subject, lit, edge_lift(radius, width, lead), lead, radius, width)
    elif isinstance(layout, Runs) and isinstance(core.outline.shape, Regular | Rectangle):
        side = _narrowest_side(core.outline)
        limit = subject.limits["tape_contact"]
        if side / width < limit.value:
            yield Finding(
                check="strip",
                level=Level.CAUTION,
                where=_where(lit),
                what=(
                    f"only {side / width:.0%} of its width lies on the core, whose flat is "
                    f"{show(side, subject.lamp.unit)} wide; the tape wants {limit.value:.0%}"
                ),
                value=side / width,
                limit=limit.value,
                source=f"flat of the core over the strip's width; {limit.source}",
                advice=f"Make the core's flats {show(limit.value * width, subject.lamp.unit)} wide or more.",
            )


def _lifts(
    subject: Subject, lit: Lit, lift: float, lead: float, radius: float, width: float
) -> Iterator[Finding]:
    limit, unit = subject.limits["tape_lift"], subject.lamp.unit
    if lift <= limit.value:
        return
    # The sagitta's own formula, solved for the radius: R = (w²/4 + s²)/2s, by Euler's theorem times sin²α.
    needed = 2.0 * (width**2 / 4.0 + limit.value**2) / (2.0 * limit.value) * sin(radians(lead)) ** 2
    yield Finding(
        check="strip",
        level=Level.CAUTION,
        where=_where(lit),
        what=(
            f"on a core of {show(2.0 * radius, unit)} its edges stand {show(lift, unit)} off, for it climbs at "
            f"{lead:.0f}°; its tape bridges {show(limit.value, unit)}"
        ),
        value=lift,
        unit="mm",
        limit=limit.value,
        source=f"sagitta over the strip's width, normal curvature sin²α/R (Euler); {limit.source}",
        advice=f"Take a core of at least {show(_upwards(needed), unit)}, one with flats, or a narrower strip.",
    )


def _narrowest_side(outline: Outline) -> float:
    """The flat part of the narrowest side of a polygon [mm]."""
    shape = outline.shape
    assert isinstance(shape, Regular | Rectangle)
    corner = max(shape.corner_radius + outline.grow, 0.0) if shape.corner_radius else 0.0
    if isinstance(shape, Regular):
        half = tan(pi / shape.sides)
        return (shape.across_flats + 2.0 * outline.grow) * half - 2.0 * corner * half
    return min(shape.width, shape.depth) + 2.0 * outline.grow - 2.0 * corner


# --- openings ---


def _passes(
    subject: Subject, ribbons: Sequence[Ribbon], layout: Helix | Runs, core: Core
) -> Iterator[Finding]:
    """Openings between the strip's ends that core, tape and strip together do not pass."""
    low = min(float(ribbon.low[:, 2].min()) for ribbon in ribbons)
    high = max(float(ribbon.high[:, 2].max()) for ribbon in ribbons)
    sections = strip_sections(layout, core)
    tight: dict[float, list[str]] = {}
    for layer in subject.lamp.layers:
        part = subject.stack.part(layer.name)
        if part.top <= low or part.underside >= high or layer.name in (core.stands_on, core.hangs_from):
            continue
        by = out_of_opening(layer, sections)
        # Where the core itself does not pass, the parts clash, and that is told elsewhere.
        if (
            by is not None
            and by > _TOUCH
            and (out_of_opening(layer, (path_of(core.outline),)) or 0.0) <= _TOUCH
        ):
            tight.setdefault(round(by, 6), []).append(layer.name)
    unit = subject.lamp.unit
    for by, names in tight.items():
        yield Finding(
            check="strip",
            level=Level.FAULT,
            where=together(names),
            what=f"core, tape and strip reach {show(by, unit)} into the wall of the opening",
            value=by,
            unit="mm",
            limit=0.0,
            source="exact distance of the strip's section from the opening's edge",
            advice=f"Make the opening {show(2.0 * _upwards(by), unit)} wider, or the core that much thinner.",
        )


def strip_sections(layout: Helix | Runs, core: Core) -> tuple[Path, ...]:
    """Level sections of what the strip adds to the core, as it stands: a circle, or one box a run."""
    thick, width = layout.strip.thickness, layout.strip.width
    radius = core_radius(core)
    if isinstance(layout, Helix):
        assert radius is not None
        return (path_of(core.outline.grown(thick)),)
    boxes = []
    for index in range(layout.count):
        bearing = layout.first + 360.0 * index / layout.count
        reach = radius if radius is not None else _reach_at(core.outline, bearing)
        box = path_of(Outline(Rectangle(width, thick)))
        boxes.append(moved(turned(moved(box, 0.0, -reach - thick / 2.0), bearing), *core.outline.at))
    return tuple(boxes)


def _reach_at(outline: Outline, bearing: float) -> float:
    """Farthest that an outline reaches towards a bearing [mm]."""
    angle = radians(bearing)
    points = path_of(replace(outline, at=(0.0, 0.0))).vertices[:, :2]
    return float((points[:, 0] * sin(angle) - points[:, 1] * cos(angle)).max())


def out_of_opening(layer: Layer, sections: tuple[Path, ...]) -> float | None:
    """How far the strip reaches out of the opening that it passes [mm]; None where there is none."""
    holes = [
        turned(hole, layer.turn)
        for opening in layer.openings
        for hole in around(path_of(opening.outline), opening.around)
    ]
    if not holes:
        return None
    return min(max(inside(section, hole).by for section in sections) for hole in holes)


# --- the end of the run ---


def _end(subject: Subject, lit: Lit, ribbon: Ribbon, layout: Helix | Runs, core: Core) -> Finding:
    """Where the strip is cut, how much room is left over, and what pitch would use it."""
    cut, unit = lit.cuts[0], subject.lamp.unit
    rest = cut.room - cut.length
    each = f"each of {len(lit.cuts)} lengths" if len(lit.cuts) > 1 else "it"
    place = ""
    if isinstance(layout, Helix):
        end = (ribbon.low[-1] + ribbon.high[-1]) / 2.0
        bearing = degrees(np.arctan2(end[0], -end[1])) % 360.0
        radius = core_radius(core)
        assert radius is not None
        turns = cut.length / helix_turn(radius + layout.strip.thickness / 2.0, layout.pitch)
        place = (
            f", after {turns:.2f} turns, at bearing {round(bearing) % 360}°, {show(float(end[2]), unit)} up"
        )
    at_mark = (
        "a cut mark, with nothing over"
        if rest < 0.05
        else f"the last cut mark, {show(rest, unit)} short of its room"
    )
    return Finding(
        check="strip",
        level=Level.NOTE,
        where=_where(lit),
        what=(
            f"{each} is {show(cut.length, unit)} long, {cut.segments} segments of "
            f"{show(layout.strip.cut_every, unit)}, and ends at {at_mark}{place}"
        ),
        value=rest,
        unit="mm",
        source=_CUT,
        advice=""
        if rest < 0.05
        else _use_up(layout, core, cut.room, cut.length + layout.strip.cut_every, unit),
    )


def _use_up(layout: Helix | Runs, core: Core, room: float, wanted: float, unit: str) -> str:
    """What would make room for one segment more, ``wanted`` [mm] of strip in all."""
    if layout.length is not None:
        return f"A length of {show_least(wanted, unit)} would take one more segment."
    radius = core_radius(core)
    if isinstance(layout, Runs) or radius is None:
        return f"A core {show_least(wanted - room, unit)} taller would take one more segment."
    middle = radius + layout.strip.thickness / 2.0
    if layout.turns is not None:
        turns = wanted / helix_turn(middle, layout.pitch)
        return f"{np.ceil(turns * 100.0) / 100.0:.2f} turns would take one more segment."
    taller = (wanted - room) * layout.pitch / helix_turn(middle, layout.pitch)
    return f"A core {show_least(taller, unit)} taller would take one more segment."


CHECK = Check(
    name="strip",
    question="Is the strip bent too tightly, does it hold, does it pass the openings, where does it end?",
    formula="bend R/cos²α; lift of the edges (w/2)²·sin²α/2R; length = whole segments ≤ √((2πR)² + p²)·turns",
    source="differential geometry of the helix; exact fits of curves",
    limits=("bend_radius", "bend_radius_continuous", "tape_lift", "tape_contact"),
    run=strip,
)
