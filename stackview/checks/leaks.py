"""Light leaks: cracks between parts through which a light point shows bare.

A bare band is a crack where its two bounding edges belong to different parts and the slit
between those is narrower than the limit: one part's underside above the other's top, or the two
edges near to each other where the line of sight passes them. A wider slit is an opening that
was meant. Where a band ends at the light point's own back, there is one edge only and no slit to
measure.
"""

from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from stackview.arrays import Floats
from stackview.checks.alike import together
from stackview.checks.elevations import elevations
from stackview.checks.seating import does_not_seat
from stackview.checks.subject import Check, Subject
from stackview.description.lamp import Layer
from stackview.description.limits_table import Limit
from stackview.findings import Finding, Level
from stackview.in_figures import bearing_words, percent
from stackview.sight.bands import Bands, Kind, taken_at
from stackview.sight.scene import Scene
from stackview.sight.surface import edge_distance
from stackview.stack.footprint import levels

_ROUNDING = 1e-6
_TOUCH = 0.05
"""Areas that share less than this do not cover one another [mm²]: facets of equal curves differ by as much."""


@dataclass(frozen=True, slots=True)
class Leak:
    """One crack: its two edges, how wide it is at its widest [mm], and from where it shows."""

    edges: tuple[str, str]
    width: float
    points: int
    bearings: int
    bearing: float
    """A bearing from which it shows, where it is widest [°]."""
    low: float
    high: float
    """Elevations between which it shows [°]."""

    @property
    def parts(self) -> tuple[str, ...]:
        """The parts that its edges belong to."""
        return tuple(dict.fromkeys(edge.split(",")[0] for edge in self.edges))


def leaks(subject: Subject) -> tuple[Finding, ...]:
    """A caution for every crack, the one that shows from most bearings first.

    What stands beside a layer that does not seat is only counted: it would not be there if that
    layer stood where it is meant to.
    """
    limit = subject.limits["leak"]
    misplaced = {
        name for finding in does_not_seat(subject) for name in finding.parts if finding.level == Level.FAULT
    }
    found = cracks(subject, limit.value)
    beside = [leak for leak in found if misplaced & set(leak.parts)]
    told = [_crack(subject, leak, limit) for leak in found if leak not in beside]
    return (*told, *_beside(beside, limit))


def _beside(some: list[Leak], limit: Limit) -> tuple[Finding, ...]:
    if not some:
        return ()
    parts = tuple(dict.fromkeys(name for leak in some for name in leak.parts))
    return (
        Finding(
            check="light leaks",
            level=Level.NOTE,
            where=together(parts),
            what=f"{len(some)} crack{'s show' if len(some) > 1 else ' shows'} light beside layers that do not seat",
            value=max(leak.width for leak in some),
            unit="mm",
            limit=limit.value,
            bound=limit.bound,
            source=f"exact sightlines; {limit.source}",
            advice="Let those layers seat first, then check again.",
            parts=parts,
        ),
    )


def _crack(subject: Subject, leak: Leak, limit: Limit) -> Finding:
    units, total = subject.lamp.units, len(subject.sightlines.straight.bearings)
    return Finding(
        check="light leaks",
        level=Level.CAUTION,
        where=" and ".join(leak.parts),
        what=(
            f"a crack {units.show(leak.width)} wide between {leak.edges[0]} and {leak.edges[1]} shows "
            f"{leak.points} bare light point{'s' if leak.points != 1 else ''} from {percent(leak.bearings / total)} of all "
            f"bearings, widest at {bearing_words(leak.bearing)}, at elevations {elevations(leak.low, leak.high, 1)}"
        ),
        short=f"a crack {units.show(leak.width)} wide shows bare light",
        value=leak.width,
        unit="mm",
        limit=limit.value,
        bound=limit.bound,
        source=f"exact sightlines; narrower than the limit it is a crack and no opening; {limit.source}",
        advice=f"Close the {units.show(leak.width)}, or let one part overlap the other.",
        parts=leak.parts,
        cause=" / ".join(edge.partition(",")[2] for edge in leak.edges),
    )


def cracks(subject: Subject, narrow: float) -> list[Leak]:
    """Every slit narrower than ``narrow`` [mm] that shows bare points, by its two edges."""
    lines = subject.sightlines
    straight = lines.straight  # what is bare is so whatever light clear acrylic passes beside it
    bare = straight.chosen(
        (straight.kind == Kind.BARE) & (straight.low_edge >= 0) & (straight.high_edge >= 0)
    )
    if not len(bare):
        return []
    bare = _above_the_table(subject, bare)
    if not len(bare):
        return []
    width = _widths(subject, bare, narrow)
    some = np.flatnonzero(np.isfinite(width) & (width > _ROUNDING) & (width < narrow - _ROUNDING))
    low, high = lines.names.numbers(bare.low_edge[some]), lines.names.numbers(bare.high_edge[some])
    pairs, inverse = np.unique(np.column_stack((low, high)), axis=0, return_inverse=True)
    found = []
    for number, (one, other) in enumerate(pairs.tolist()):
        of = some[inverse.reshape(-1) == number]
        widest = of[int(np.argmax(width[of]))]
        found.append(
            Leak(
                edges=(lines.names.texts[one], lines.names.texts[other]),
                width=float(width[widest]),
                points=len(np.unique(bare.point[of])),
                bearings=len(np.unique(bare.bearing[of])),
                bearing=float(bare.bearings[bare.bearing[widest]]),
                low=float(bare.low[of].min()),
                high=float(bare.high[of].max()),
            )
        )
    return sorted(found, key=lambda leak: (-leak.bearings, leak.edges))


def _above_the_table(subject: Subject, bare: Bands) -> Bands:
    """The bands less what lies below the table that the lamp stands on: no eye gets there.

    A line downwards that meets the table before the table's edge ends there; where no table is
    given it is taken as endless. A pendant is seen from below.
    """
    if subject.lamp.hangs_at is not None:
        return bare
    bearing = np.radians(bare.bearings[bare.bearing])
    place = taken_at(subject.sightlines.points)[bare.point]
    reach = edge_distance(subject.lamp.surface, place, bearing)
    lowest = -np.degrees(np.arctan2(place[:, 2], reach))
    shown = replace(bare, low=np.maximum(bare.low, lowest))
    return shown.chosen(shown.high > shown.low + _ROUNDING)


def _widths(subject: Subject, bare: Bands, narrow: float) -> Floats:
    """Width of the slit that each band passes (n,) [mm]; infinite where both edges are one part's.

    Between two layers it is the height between the lower one's top and the upper one's
    underside; else the distance between the places where the line's plane crosses the edges.
    """
    scene, parts = subject.sightlines.scene, subject.stack.placed
    below, above = (scene.solid_of_triangle[scene.left[edge]] for edge in (bare.low_edge, bare.high_edge))
    top, underside = np.array([part.top for part in parts]), np.array([part.underside for part in parts])
    # beside a spacer the tier is open: what narrows there is no crack
    pieces = np.array([one.around is not None for one in subject.lamp.layers], dtype=bool)
    spacer = np.concatenate((pieces, np.zeros(len(parts) - len(pieces), dtype=bool)))
    apart = (below != above) & ~spacer[below] & ~spacer[above]
    upright = underside[above] - top[below]
    close = apart & (upright < narrow - _ROUNDING)
    level = close & (upright > _ROUNDING) & _one_over_another(subject, below, above, close)
    width = np.where(level, upright, np.inf)
    # Where the two parts stand beside one another, the slit lies between their edges.
    near = np.flatnonzero(close & ~level)
    if len(near):
        some = bare.chosen(np.isin(np.arange(len(bare)), near))
        width[near] = _between_edges(scene, taken_at(subject.sightlines.points), some)
    return np.asarray(width)


def _one_over_another(
    subject: Subject, below: NDArray[np.int64], above: NDArray[np.int64], asked: NDArray[np.bool_]
) -> NDArray[np.bool_]:
    """Whether two layers (n,), by number, cover one another seen from above; False where not asked."""
    layers = subject.lamp.layers
    found = np.zeros(len(below), dtype=bool)
    pairs, inverse = np.unique(np.column_stack((below, above))[asked], axis=0, return_inverse=True)
    known = [
        max(one, other) < len(layers) and plan(layers[one]).intersection(plan(layers[other])).area > _TOUCH
        for one, other in pairs.tolist()
    ]
    if known:
        found[asked] = np.array(known)[inverse.reshape(-1)]
    return found


def plan(layer: Layer) -> BaseGeometry:
    """A layer as seen from above, openings cut out."""
    return shapely.union_all([level.area for level in levels(layer, "top")])


def _between_edges(scene: Scene, places: Floats, bands: Bands) -> Floats:
    """Distance (n,) between the places at which each band's plane crosses its two edges [mm]."""
    bearing = np.radians(bands.bearings[bands.bearing])
    place, along = places[bands.point], np.column_stack((np.sin(bearing), -np.cos(bearing)))
    low, high = (_crossed(scene, place, along, edge) for edge in (bands.low_edge, bands.high_edge))
    return np.asarray(np.linalg.norm(low - high, axis=1))


def _crossed(scene: Scene, place: Floats, along: Floats, edge: NDArray[np.int32]) -> Floats:
    """Where edges (n,) cross the upright planes through ``place`` (n, 3) along (n, 2): (n, 3) [mm]."""
    tail, head = scene.vertices[scene.tail[edge]], scene.vertices[scene.head[edge]]
    off = [
        (end[:, 0] - place[:, 0]) * along[:, 1] - (end[:, 1] - place[:, 1]) * along[:, 0]
        for end in (tail, head)
    ]
    span = off[0] - off[1]
    share = np.clip(np.where(span != 0.0, off[0] / np.where(span != 0.0, span, 1.0), 0.5), 0.0, 1.0)
    return np.asarray(tail + share[:, None] * (head - tail))


CHECK = Check(
    name="light leaks",
    question="Does a light point show through a crack between two parts?",
    formula="bare band between edges of two parts whose slit is narrower than the limit",
    source="exact sightlines, plane geometry",
    limits=("leak",),
    run=leaks,
    asks_sight=True,
)
