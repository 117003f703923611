"""Strip: how tightly it is bent, how it lies on its core, whether it passes the openings, where it is cut."""

from collections.abc import Iterator
from math import atan2, degrees, pi, radians, sin, sqrt
from typing import assert_never

from stackview.checks.against import against
from stackview.checks.bending import edge_lift, helix_bend, lead_angle, radius_for_bend
from stackview.checks.held import over, under
from stackview.checks.proposals import larger
from stackview.checks.side_by_side import side_by_side
from stackview.checks.strip_end import strip_end
from stackview.checks.strip_openings import strip_passes
from stackview.checks.subject import Check, Subject
from stackview.curves.facing import Facing
from stackview.description.lamp import Core
from stackview.description.light_source import Helix, Runs
from stackview.findings import Bound, Finding, Level, Way
from stackview.in_figures import percent
from stackview.light.layout import Lit
from stackview.light.on_core import side_of


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
        found.extend(strip_passes(subject, ribbons, layout, core))
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
        advice="Take a thicker core, or straight runs.",
        ways=(
            larger("core", needed / 2.0 - radius),
            *_climbing(lit, layout, _pitch_for(middle, middle / least)),
        ),
    )


def _pitch_for(radius: float, level: float) -> float:
    """Pitch [mm] of a helix of that radius whose lead angle α has cos²α = ``level``: 2πR·tan α; 0 where none has."""
    return 2.0 * pi * radius * sqrt(1.0 / level - 1.0) if 0.0 < level < 1.0 else 0.0


def _climbing(lit: Lit, layout: Helix, pitch: float) -> tuple[Way, ...]:
    return (Way(f"light.{lit.light.name}", "helix.pitch", layout.pitch, pitch),) if pitch else ()


# --- contact ---


def _wound(subject: Subject, lit: Lit, layout: Helix, core: Core) -> Iterator[Finding]:
    radius, width = core.outline.radius, layout.strip.width
    assert radius is not None, "a helix is wound on a round core"
    lead = lead_angle(radius, layout.pitch)
    yield from _lifts(subject, lit, edge_lift(radius, width, lead), lead, radius, width)


def _upright(subject: Subject, lit: Lit, layout: Runs, core: Core) -> Iterator[Finding]:
    """Of straight runs the one that lies worst: on what is round by its edges, on a flat by its share."""
    width = layout.strip.width
    sides = [(bearing, side) for bearing in layout.bearings() if (side := side_of(core, bearing)) is not None]
    bent = [abs(side.radius) for _, side in sides if side.radius is not None]
    if bent:
        radius = min(bent)
        yield from _lifts(subject, lit, edge_lift(radius, width, 90.0), 90.0, radius, width)
    flat = [(bearing, side) for bearing, side in sides if side.radius is None]
    if flat:
        worst = min(flat, key=lambda pair: _lies_on(pair[1], width))
        yield from _narrow(subject, lit, layout, core, *worst)


def _lies_on(side: Facing, width: float) -> float:
    """Share of a strip of ``width`` [mm] that lies on a flat, the strip's middle where the side is met."""
    return (min(side.before, width / 2.0) + min(side.after, width / 2.0)) / width


def _narrow(
    subject: Subject, lit: Lit, layout: Runs, core: Core, bearing: float, side: Facing
) -> Iterator[Finding]:
    width, limit, units = layout.strip.width, subject.limits["tape_contact"], subject.lamp.units
    share = _lies_on(side, width)
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
            f"only {percent(share)} of its width lies on the core, whose flat is {units.show(wide)} wide{off}; "
            f"the tape wants {percent(limit.value)}"
        ),
        short=f"only {percent(share)} of the strip's width lies on the core",
        value=share,
        limit=limit.value,
        bound=limit.bound,
        source=f"flat of the core over the strip's width; {limit.source}",
        advice=(
            f"Make the core's flats wider{', and turn core or strip so that it lies in the middle of one' if off else ''}."
        ),
        ways=_onto_a_flat(lit, layout, core, bearing, side, limit.value * width - wide),
    )


def _onto_a_flat(
    lit: Lit, layout: Runs, core: Core, bearing: float, side: Facing, wider: float
) -> tuple[Way, ...]:
    """The core so much larger that its flats are ``wider`` [mm]; or the strips turned to the middle of them."""
    ways = []
    if wider > 0.0:
        # the sides of a rectangle grow by twice as much as each face moves out, those of a polygon in proportion
        by = wider * core.outline.inner_reach / (side.before + side.after)
        ways.append(larger("core", max(by, wider / 2.0), rough=True))
    off = (degrees(atan2(side.out[0], -side.out[1])) - bearing + 180.0) % 360.0 - 180.0
    if abs(off) > 0.05:
        first = round((layout.first + off) % 360.0, 1)
        ways.append(Way(f"light.{lit.light.name}", "runs.first", layout.first, first, is_length=False))
    return tuple(ways)


def _lifts(
    subject: Subject, lit: Lit, lift: float, lead: float, radius: float, width: float
) -> Iterator[Finding]:
    limit, units = subject.limits["tape_lift"], subject.lamp.units
    if not over(lift, limit.value):
        return
    ways: tuple[Way, ...] = ()
    if limit.value > 0.0:  # no round core is flat enough for a tape that bridges nothing
        # The sagitta's own formula, solved for the radius: R = (w²/4 + s²)/2s, by Euler's theorem times sin²α.
        flat = (width**2 / 4.0 + limit.value**2) / (2.0 * limit.value)
        ways = (larger("core", flat * sin(radians(lead)) ** 2 - radius),)
        layout = lit.light.on_core
        if isinstance(layout, Helix):
            ways += _climbing(lit, layout, _pitch_for(radius, 1.0 - radius / flat))
    yield against(
        limit,
        lift,
        "strip",
        f"on a core of {units.show(2.0 * radius)} its edges stand {units.show(lift)} off, for it climbs at "
        f"{lead:.0f}°; its tape bridges {units.show(limit.value)}",
        where=_where(lit),
        short=f"the strip's edges stand {units.show(lift)} off the core",
        by="sagitta over the strip's width, normal curvature sin²α/R (Euler)",
        advice="Take a thicker core, one with flats, or a narrower strip.",
        ways=ways,
    )


CHECK = Check(
    name="strip",
    question="Is the strip bent too tightly, does it hold, does it pass the openings, where does it end?",
    formula="bend R/cos²α; lift of the edges (w/2)²·sin²α/2R; length = whole segments ≤ √((2πR)² + p²)·turns",
    source="differential geometry of the helix; exact fits of curves",
    limits=("bend_radius", "bend_radius_continuous", "tape_lift", "tape_contact"),
    run=strip,
)
