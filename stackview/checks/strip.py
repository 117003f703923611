"""Strip: how tightly it is bent, how it lies on its core, whether it passes the openings, where it is cut."""

from collections.abc import Iterator, Sequence
from math import atan2, degrees, radians, sin
from typing import assert_never

from stackview.checks.alike import together
from stackview.checks.bending import edge_lift, helix_bend, lead_angle, radius_for_bend
from stackview.checks.held import over, under
from stackview.checks.side_by_side import side_by_side
from stackview.checks.strip_end import strip_end
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import Path, moved, turned
from stackview.curves.facing import Facing
from stackview.curves.fit import inside
from stackview.description.lamp import Core, Layer
from stackview.description.light_source import Helix, Runs, StripLayout
from stackview.description.outline import Outline, around, path_of
from stackview.description.shapes import Rectangle
from stackview.findings import Bound, Finding, Level
from stackview.light.layout import Lit
from stackview.light.on_core import side_of
from stackview.light.ribbon import Ribbon

_TOUCH = 1e-6


def strip(subject: Subject) -> tuple[Finding, ...]:
    """Cautions for tight bends, poor contact and strips that do not pass; notes of where they end."""
    core = subject.lamp.core
    found: list[Finding] = []
    first = 0
    for lit in subject.light.lit:
        layout = lit.light.on_core
        ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        if core is None or layout is None:
            continue
        match layout:
            case Helix():
                found.extend(_bend(subject, lit, layout, core))
                found.extend(_wound(subject, lit, layout, core))
            case Runs():
                found.extend(side_by_side(subject, lit, layout, ribbons, core))
                found.extend(_upright(subject, lit, layout, core))
            case _:
                assert_never(layout)
        found.extend(_passes(subject, ribbons, layout, core))
        found.append(strip_end(subject, lit, ribbons[0], layout, core))
    return tuple(found)


def _where(lit: Lit) -> str:
    return f'light "{lit.light.name}"'


def _bend(subject: Subject, lit: Lit, layout: Helix, core: Core) -> Iterator[Finding]:
    radius = core.outline.radius
    assert radius is not None, "a helix is wound on a round core"
    limit = subject.limits["bend_radius_continuous" if layout.strip.continuous else "bend_radius"]
    own = layout.strip.bend_radius
    least, source = (limit.value, limit.source) if own is None else (own, "as written for this strip")
    middle = radius + layout.strip.thickness / 2.0
    lead = lead_angle(middle, layout.pitch)
    bend = helix_bend(middle, lead)
    if not under(bend, least):
        return
    units = subject.lamp.units
    needed = 2.0 * radius_for_bend(least, layout.pitch) - layout.strip.thickness
    yield Finding(
        check="strip",
        level=Level.CAUTION,
        where=_where(lit),
        what=(
            f"wound at {lead:.1f}° on {units.show(2.0 * radius)}, it is bent to a radius of {units.show(bend)}; "
            f"such a strip stands {units.show(least)}"
        ),
        short=f"the strip is bent to a radius of {units.show(bend)}; it stands {units.show(least)}",
        value=bend,
        unit="mm",
        limit=least,
        bound=Bound.LEAST,
        source=f"curvature of a helix, R/cos²α; limit: {source}",
        advice=f"Take a core of at least {units.least(needed)}, or straight runs.",
    )


# --- contact ---


def _wound(subject: Subject, lit: Lit, layout: Helix, core: Core) -> Iterator[Finding]:
    radius, width = core.outline.radius, layout.strip.width
    assert radius is not None, "a helix is wound on a round core"
    lead = lead_angle(radius, layout.pitch)
    yield from _lifts(subject, lit, edge_lift(radius, width, lead), lead, radius, width)


def _upright(subject: Subject, lit: Lit, layout: Runs, core: Core) -> Iterator[Finding]:
    """Of straight runs the one that lies worst: on what is round by its edges, on a flat by its share."""
    width = layout.strip.width
    sides = [side for bearing in layout.bearings() if (side := side_of(core, bearing)) is not None]
    bent = [abs(side.radius) for side in sides if side.radius is not None]
    if bent:
        radius = min(bent)
        yield from _lifts(subject, lit, edge_lift(radius, width, 90.0), 90.0, radius, width)
    flat = [side for side in sides if side.radius is None]
    if flat:
        yield from _narrow(subject, lit, min(flat, key=lambda side: lies_on(side, width)), width)


def lies_on(side: Facing, width: float) -> float:
    """Share of a strip of ``width`` [mm] that lies on a flat, the strip's middle where the side is met."""
    return (min(side.before, width / 2.0) + min(side.after, width / 2.0)) / width


def _narrow(subject: Subject, lit: Lit, side: Facing, width: float) -> Iterator[Finding]:
    share, limit, units = lies_on(side, width), subject.limits["tape_contact"], subject.lamp.units
    if not under(share, limit.value):
        return
    wide = side.before + side.after
    aside = abs(side.before - side.after) / 2.0
    off = f" and whose middle is {units.show(aside)} aside" if aside > 0.05 else ""
    yield Finding(
        check="strip",
        level=Level.CAUTION,
        where=_where(lit),
        what=(
            f"only {share:.0%} of its width lies on the core, whose flat is {units.show(wide)} wide{off}; "
            f"the tape wants {limit.value:.0%}"
        ),
        short=f"only {share:.0%} of the strip's width lies on the core",
        value=share,
        limit=limit.value,
        bound=limit.bound,
        source=f"flat of the core over the strip's width; {limit.source}",
        advice=(
            f"Make the core's flats {units.least(limit.value * width)} wide or more"
            f"{', and turn core or strip so that it lies in the middle of one' if off else ''}."
        ),
    )


def _lifts(
    subject: Subject, lit: Lit, lift: float, lead: float, radius: float, width: float
) -> Iterator[Finding]:
    limit, units = subject.limits["tape_lift"], subject.lamp.units
    if not over(lift, limit.value):
        return
    # The sagitta's own formula, solved for the radius: R = (w²/4 + s²)/2s, by Euler's theorem times sin²α.
    needed = 2.0 * (width**2 / 4.0 + limit.value**2) / (2.0 * limit.value) * sin(radians(lead)) ** 2
    yield Finding(
        check="strip",
        level=Level.CAUTION,
        where=_where(lit),
        what=(
            f"on a core of {units.show(2.0 * radius)} its edges stand {units.show(lift)} off, for it climbs at "
            f"{lead:.0f}°; its tape bridges {units.show(limit.value)}"
        ),
        short=f"the strip's edges stand {units.show(lift)} off the core",
        value=lift,
        unit="mm",
        limit=limit.value,
        bound=limit.bound,
        source=f"sagitta over the strip's width, normal curvature sin²α/R (Euler); {limit.source}",
        advice=f"Take a core of at least {units.least(needed)}, one with flats, or a narrower strip.",
    )


# --- openings ---


def _passes(
    subject: Subject, ribbons: Sequence[Ribbon], layout: StripLayout, core: Core
) -> Iterator[Finding]:
    """Openings between the strip's ends that core, tape and strip together do not pass."""
    low = min(float(ribbon.low[:, 2].min()) for ribbon in ribbons)
    high = max(float(ribbon.high[:, 2].max()) for ribbon in ribbons)
    sections = strip_sections(layout, core)
    tight: dict[float, list[str]] = {}
    snug: dict[float, list[str]] = {}
    for layer in subject.lamp.layers:
        part = subject.stack.part(layer.name)
        if part.top <= low or part.underside >= high or layer.name in (core.stands_on, core.hangs_from):
            continue
        by = out_of_opening(layer, sections)
        if by is not None and by <= _TOUCH and under(-by, subject.limits.value("line_up_least")):
            snug.setdefault(round(-by, 6) + 0.0, []).append(layer.name)
        # Where the core itself does not pass, the parts clash, and that is told elsewhere.
        if (
            by is not None
            and by > _TOUCH
            and (out_of_opening(layer, (path_of(core.outline),)) or 0.0) <= _TOUCH
        ):
            tight.setdefault(round(by, 6), []).append(layer.name)
    yield from (_no_play(subject, play, names) for play, names in snug.items())
    first = [
        layer.name for layer in subject.lamp.layers if _goes_on_first(subject, layer, core, sections, low)
    ]
    if first:
        yield _before_the_core(first)
    units = subject.lamp.units
    for by, names in tight.items():
        yield Finding(
            check="strip",
            level=Level.FAULT,
            where=together(names),
            what=f"core, tape and strip reach {units.show(by)} into the wall of the opening",
            value=by,
            unit="mm",
            limit=0.0,
            bound=Bound.MOST,
            source="exact distance of the strip's section from the opening's edge",
            advice=f"Make the opening {units.least(2.0 * by)} wider, or the core that much thinner.",
            parts=tuple(names),
            cause="strip in openings",
        )


def _goes_on_first(
    subject: Subject, layer: Layer, core: Core, sections: tuple[Path, ...], low: float
) -> bool:
    """Whether a layer round the core's foot, below the strip, is one that the strip does not pass."""
    part, standing = subject.stack.part(layer.name), subject.stack.part("core")
    if part.top > low or part.top <= standing.underside + _TOUCH or layer.name == core.stands_on:
        return False
    if core.stands_on is None:
        return False
    by = out_of_opening(layer, sections)
    return (
        by is not None and by > _TOUCH and (out_of_opening(layer, (path_of(core.outline),)) or 0.0) <= _TOUCH
    )


def _before_the_core(names: list[str]) -> Finding:
    return Finding(
        check="strip",
        level=Level.NOTE,
        where=together(names),
        what="the strip does not pass the opening there: once the core stands with its strip, the layer does not go on",
        short="the core with its strip does not pass the opening",
        source="exact distance of the strip's section from the opening's edge",
        advice="Lay it before the core is put in, or stick the strip on afterwards.",
        parts=tuple(names),
        cause="order of core and layers",
    )


def _no_play(subject: Subject, play: float, names: list[str]) -> Finding:
    units, limit = subject.lamp.units, subject.limits["line_up_least"]
    return Finding(
        check="strip",
        level=Level.CAUTION,
        where=together(names),
        what=(
            f"core, tape and strip have {units.show(play)} of play in the opening: the strip is scraped off as the "
            "layer goes on"
        ),
        short=f"only {units.show(play)} of play for core and strip: it is scraped off",
        value=play,
        unit="mm",
        limit=limit.value,
        bound=limit.bound,
        source=f"exact distance of the strip's section from the opening's edge; {limit.source}",
        advice=f"Make the opening {units.least(2.0 * (limit.value - play))} wider.",
        parts=tuple(names),
        cause="strip in openings",
    )


def strip_sections(layout: StripLayout, core: Core) -> tuple[Path, ...]:
    """Level sections of what the strip adds to the core, as it stands: a circle, or one box a run."""
    thick, width = layout.strip.thickness, layout.strip.width
    match layout:
        case Helix():
            return (path_of(core.outline.grown(thick)),)
        case Runs():
            box = moved(path_of(Outline(Rectangle(width, thick))), 0.0, -thick / 2.0)
            sides = [side for bearing in layout.bearings() if (side := side_of(core, bearing)) is not None]
            return tuple(
                moved(turned(box, degrees(atan2(side.out[0], -side.out[1]))), *side.at) for side in sides
            )
        case _:
            assert_never(layout)


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


CHECK = Check(
    name="strip",
    question="Is the strip bent too tightly, does it hold, does it pass the openings, where does it end?",
    formula="bend R/cos²α; lift of the edges (w/2)²·sin²α/2R; length = whole segments ≤ √((2πR)² + p²)·turns",
    source="differential geometry of the helix; exact fits of curves",
    limits=("bend_radius", "bend_radius_continuous", "tape_lift", "tape_contact"),
    run=strip,
)
