"""Cutter reach: what the cutter cannot get into, and how deep it has to go.

What a round cutter of radius r leaves uncut inside a curve is the curve less its opening by a
disc: offset in by r and out again (Serra, Image Analysis and Mathematical Morphology, 1982).
Outside a part it is the same with in and out exchanged.
"""

from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.checks.alike import alike, said_once
from stackview.checks.facets import TO_CUT
from stackview.checks.held import over, under
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import polygon
from stackview.description.lamp import Layer
from stackview.description.outline import Outline, path_of
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level, Place, Way

_ROUND = 32
"""Facets in a quarter turn of an offset corner."""
_SPARE = 0.002
"""The disc is taken this much smaller [mm], so that the cutter goes into a slot of its own width."""
_SLOT = 3.0
"""A piece left uncut larger than this many r² is no corner: one of 30° leaves 2.42 r²."""
_GEOMETRY = "offset there and back by the cutter's radius, plane geometry"


@dataclass(frozen=True, slots=True)
class Uncut:
    """What the cutter leaves: total area, the largest piece's area and where it lies, and how many."""

    area: float
    largest: float
    at: tuple[float, float]
    pieces: int


def cutter(subject: Subject) -> tuple[Finding, ...]:
    """Notes on other tools and rounded corners; cautions on what is left uncut and on deep cuts."""
    found: list[tuple[Finding, tuple[str, ...]]] = []
    for layer, names in alike(subject.lamp.layers):
        if layer.material.is_metal:
            continue  # rods and tubes are bought and cut to length
        for one in (_too_narrow, _uncut, _deep):
            found += [(finding, names) for finding in one(subject, layer)]
    return said_once(found, subject.lamp.layers)


def uncut_inside(outline: Outline, radius: float) -> Uncut:
    """What a cutter of ``radius`` [mm] leaves of an opening or a pocket."""
    return _left(outline, -radius)


def uncut_outside(outline: Outline, radius: float) -> Uncut:
    """What a cutter of ``radius`` [mm] leaves standing in the inside corners of a part's outer edge."""
    return _left(outline, radius)


@lru_cache(maxsize=256)
def _left(outline: Outline, by: float) -> Uncut:
    sharp = Outline(outline.shape, outline.grow, outline.turn, outline.at)
    if outline.radius is not None or abs(by) <= _SPARE:
        return Uncut(0.0, 0.0, outline.at, 0)
    wanted: BaseGeometry = shapely.Polygon(polygon(path_of(sharp), TO_CUT))
    disc = by - _SPARE if by > 0.0 else by + _SPARE
    reached = wanted.buffer(disc, quad_segs=_ROUND).buffer(-disc, quad_segs=_ROUND)
    # facets of the two offsets differ from the curve's by as much as their chord error
    left = wanted.symmetric_difference(reached).buffer(-2.0 * TO_CUT).buffer(2.0 * TO_CUT)
    pieces = [piece for piece in getattr(left, "geoms", (left,)) if not piece.is_empty]
    if not pieces:
        return Uncut(0.0, 0.0, outline.at, 0)
    worst = max(pieces, key=lambda piece: piece.area)
    whole = abs(wanted.area - reached.area)
    return Uncut(whole, worst.area, (worst.centroid.x, worst.centroid.y), len(pieces))


def _too_narrow(subject: Subject, layer: Layer) -> list[Finding]:
    """Round holes to be drilled, and grooves for a second cutter."""
    wide, units = subject.lamp.cutter, subject.lamp.units
    round_: dict[tuple[str, float], int] = {}
    for name, outline, copies in _cut_out(layer):
        if outline.radius is not None:
            across = 2.0 * outline.radius
            if under(across, wide):
                key = (name, round(across, 6))
                round_[key] = round_.get(key, 0) + copies
    found = [
        Finding(
            check="cutter reach",
            level=Level.NOTE,
            where="",
            what=f"{count} round hole{'s' if count > 1 else ''} of {units.show(across)} ({name}), narrower than the "
            f"cutter, {units.show(wide)}",
            value=across,
            unit="mm",
            limit=wide,
            bound=Bound.LEAST,
            source="the cutter's diameter",
            advice=f"Drill {'them' if count > 1 else 'it'} with a drill of {units.show(across)}.",
            cause="hole to drill",
        )
        for (name, across), count in round_.items()
    ]
    own = subject.lamp.workshop.router.groove or wide
    widths = dict.fromkeys(groove.width for groove in layer.grooves if under(groove.width, own))
    return found + [_narrow_groove(width, own, units) for width in widths]


def _narrow_groove(width: float, wide: float, units: Units) -> Finding:
    return Finding(
        check="cutter reach",
        level=Level.NOTE,
        where="",
        what=f"its groove is {units.show(width)} wide, narrower than the cutter, {units.show(wide)}",
        value=width,
        unit="mm",
        limit=wide,
        bound=Bound.LEAST,
        source="the cutter's diameter",
        advice=f"Change to a cutter of {units.show(width)} or less for the groove, or make it "
        f"{units.show(wide)} wide.",
        cause="narrow groove",
    )


def _cut_out(layer: Layer) -> list[tuple[str, Outline, int]]:
    """Openings and recesses: what they are called, their outline, how many copies."""
    openings = [
        ("opening", one.outline, one.around.count if one.around is not None else 1) for one in layer.openings
    ]
    recesses = [("recess", one.outline, 1) for one in layer.recesses]
    return [*openings, *recesses]


def _uncut(subject: Subject, layer: Layer) -> list[Finding]:
    radius = subject.lamp.cutter / 2.0
    found = []
    for name, outline, _ in _cut_out(layer):
        found += _of_curve(subject, layer.name, name, uncut_inside(outline, radius), radius)
    found += _of_curve(subject, layer.name, "outer edge", uncut_outside(layer.outline, radius), radius)
    return found


def _of_curve(subject: Subject, part: str, name: str, left: Uncut, radius: float) -> list[Finding]:
    units, least = subject.lamp.units, subject.limits["uncut_least"]
    if not over(left.area, least.value):
        return []
    slot = left.largest > _SLOT * radius * radius
    place = f"{units.at(*left.at)}"
    if slot:
        what = (
            f"the cutter does not get into its {name} at {place} and leaves {units.area(left.largest)} there"
        )
        advice = (
            f"Widen that place to {units.least(2.0 * radius)}, or cut it with a narrower cutter than "
            f"{units.show(2.0 * radius)}."
        )
    else:
        corners = "corner comes" if left.pieces == 1 else "corners come"
        what = (
            f"{left.pieces} inside {corners} out rounded to {units.show(radius)} in its {name}, which leaves "
            f"{units.area(left.area)} uncut"
        )
        advice = ""
    return [
        Finding(
            check="cutter reach",
            level=Level.CAUTION if slot else Level.NOTE,
            where="",
            what=what,
            short=f"inside corners stay round in its {name}",
            value=left.area,
            unit="mm²",
            limit=least.value,
            bound=least.bound,
            source=_GEOMETRY,
            advice=advice,
            places=(Place(part, *left.at),),
            cause=f"{name} too narrow for the cutter" if slot else "rounded inside corners",
        )
    ]


def _deep(subject: Subject, layer: Layer) -> list[Finding]:
    units, wide, limit = subject.lamp.units, subject.lamp.cutter, subject.limits["cutter_reach"]
    reach = limit.value * wide
    if not over(layer.thickness, reach):
        return []
    return [
        Finding(
            check="cutter reach",
            level=Level.CAUTION,
            where="",
            what=f"it is cut out through {units.show(layer.thick)}, and a cutter of {units.show(wide)} "
            f"reaches {units.show(reach)}",
            short=f"cut through {units.show(layer.thick)}; the cutter reaches {units.show(reach)}",
            value=layer.thickness,
            unit="mm",
            limit=reach,
            bound=Bound.MOST,
            source=limit.source,
            advice="Use a thicker cutter, one with a longer flute (and raise cutter_reach), or cut from both faces.",
            ways=(Way("", "cutter", wide, layer.thickness / limit.value),),
            cause="deep cut",
        )
    ]


CHECK = Check(
    name="cutter reach",
    question="Does the cutter get into every pocket, groove, opening and inside corner, and deep enough?",
    formula="uncut = curve − (curve offset in by r, then out by r); square corner r²(1 − π/4); depth ≤ reach × diameter",
    source="plane geometry (Serra 1982, opening by a disc)",
    limits=("cutter_reach", "uncut_least"),
    run=cutter,
)
