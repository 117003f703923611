"""Walls and floors: the thinnest of what is left between cuts, faces and edges, and where it is.

Widths are exact distances between the curves. A wall that is lower than the limit need not be
thicker than it is high: a lip 1.5 mm high does not break off at 2 mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.checks.against import against
from stackview.checks.alike import alike, said_once
from stackview.checks.edges import edges_left
from stackview.checks.grain import short_grain
from stackview.checks.held import under
from stackview.checks.ledges import ledges
from stackview.checks.proposals import drawn_in, larger, narrower_chamfers, resized, shallower, thicker
from stackview.checks.subject import Check, Subject
from stackview.checks.voids import Void, voids_of
from stackview.curves.arcs import Path, bounds, pieces_of
from stackview.curves.fit import Gap, gap, overlapping, reach_outside
from stackview.description.lamp import Layer
from stackview.description.limits_table import Limit
from stackview.description.outline import path_of
from stackview.findings import Finding, Level, Place, Way

_ROUNDING = 1e-6
_FAR = 25.0
"""Cuts farther apart than this leave no wall worth measuring [mm]."""


@dataclass(frozen=True, slots=True)
class _Wall:
    """What is left between two cuts, or a cut and the outer edge, of one layer [mm]."""

    between: tuple[str, str]
    width: float
    height: float
    at: tuple[float, float]
    cuts: tuple[Void, ...]
    """The one or two cuts beside it."""


@dataclass(frozen=True, slots=True)
class _Floor:
    """What is left above or below a cut of one layer [mm]."""

    under: str
    over: str
    thickness: float
    cuts: tuple[Void, ...]
    """The one or two cuts that it lies between."""


def walls(subject: Subject) -> tuple[Finding, ...]:
    """Cautions for walls, floors, ledges and bevelled lips that are thinner than their limits.

    The thinnest wall of the lamp is noted where none is too thin.
    """
    found: list[tuple[Finding, tuple[str, ...]]] = []
    thinnest: list[tuple[float, Finding, tuple[str, ...]]] = []
    for layer, names in alike(subject.lamp.layers):
        voids, limit = voids_of(layer), _wall_limit(subject, layer)
        every = walls_of(layer, voids)
        grain = short_grain(subject, layer)
        thin = [wall for wall in every if under(wall.width, needed(wall, limit)) and not _told(wall, grain)]
        found += [(_thin(subject, layer, wall, limit), names) for wall in _worst(thin)]
        found += [(finding, names) for finding in _floors(subject, layer, voids)]
        found += [(finding, names) for finding in _bevels(subject, layer, voids)]
        found += [(finding, names) for finding in edges_left(subject, layer, voids, limit)]
        found += [(finding, names) for finding in grain]
        if limit.name != "wall_metal":  # tubes and spacers are bought, and thin by nature
            thinnest += [(wall.width, _noted(subject, layer.name, wall, limit), names) for wall in every]
    found += ledges(subject)
    if thinnest and not any(finding.level >= Level.CAUTION for finding, _ in found):
        _, finding, names = min(thinnest, key=lambda entry: entry[0])
        found.append((finding, names))
    return said_once(found, subject.lamp.layers)


def _told(wall: _Wall, grain: list[Finding]) -> bool:
    """Whether short grain tells of the same place already, and asks for more."""
    cause = f"short grain at the {wall.between[0]}"
    return any(one.cause == cause and (one.value or 0.0) <= wall.width + _ROUNDING for one in grain)


def _wall_limit(subject: Subject, layer: Layer) -> Limit:
    """The thinnest wall for a layer's material."""
    kind = layer.material.kind
    name = {"acrylic": "wall_acrylic", "metal": "wall_metal", "plastic": "wall_metal"}.get(kind, "wall_wood")
    return subject.limits[name]


def needed(wall: _Wall, limit: Limit) -> float:
    """How thick a wall has to be [mm]: as the limit says, or as thick as it is high."""
    return min(limit.value, wall.height)


def walls_of(layer: Layer, voids: list[Void]) -> list[_Wall]:
    """Every wall between cuts that lie beside one another, and between cuts and the outer edge."""
    outer = path_of(layer.outline)
    found = []
    for number, one in enumerate(voids):
        edge = _to_edge(one, outer)
        if edge is not None:
            found.append(_Wall((one.name, "outer edge"), edge.by, one.high - one.low, edge.at, (one,)))
        for other in voids[:number]:
            height = min(one.high, other.high) - max(one.low, other.low)
            if height <= _ROUNDING or _apart(one.path, other.path) > _FAR:
                continue
            between = _between(one, other)
            if between is not None:
                width, at = between
                found.append(_Wall((one.name, other.name), width, height, at, (one, other)))
    return found


def _to_edge(void: Void, outer: Path) -> Gap | None:
    """What a cut leaves to the outer edge; None for a bore, or where the cut runs out through the edge."""
    least = gap(void.path, outer) if void.entered != "side" else None
    if least is None or least.by <= _ROUNDING or not _lies_within(least.at, outer):
        return None
    return least


def _lies_within(point: tuple[float, float], path: Path) -> bool:
    """Whether a point lies inside a curve."""
    return bool(reach_outside(np.array((point,)), pieces_of(path))[0] < 0.0)


def _apart(one: Path, other: Path) -> float:
    """How far the boxes about two curves are apart at least [mm]; negative where they overlap."""
    a, b = bounds(one), bounds(other)
    return max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])


def _between(one: Void, other: Void) -> tuple[float, tuple[float, float]] | None:
    """Width of what is left between two cuts [mm], and where; None where they run into each other."""
    for ring, inner in ((one, other), (other, one)):
        if ring.inner is not None:
            island = gap(inner.path, ring.inner)
            if island.by > _ROUNDING and _lies_within(island.at, ring.inner):
                return island.by, island.at
    if overlapping(one.path, other.path):
        return None
    least = gap(one.path, other.path)
    return least.by, least.at


def floors_of(layer: Layer, voids: list[Void], most: float) -> list[_Floor]:
    """What is left under every recess and groove, and above and below every bore, if under ``most`` [mm]."""
    found = []
    for one in voids:
        if one.entered in ("top", "side"):
            found.append(_Floor(one.name, "underside", one.low, (one,)))
        if one.entered in ("underside", "side"):
            found.append(_Floor(one.name, "top", layer.thickness - one.high, (one,)))
        for other in voids:
            faces = (one.entered, other.entered)
            if faces not in (("top", "underside"), ("top", "side"), ("side", "underside")):
                continue
            between = one.low - other.high
            if -_ROUNDING < between < most and overlapping(one.path, other.path):
                found.append(_Floor(one.name, other.name, between, (one, other)))
    return [floor for floor in found if floor.thickness < most]


def _worst(found: list[_Wall]) -> Iterator[_Wall]:
    """The thinnest wall between each two kinds of cut."""
    least: dict[tuple[str, str], _Wall] = {}
    for wall in found:
        known = least.get(wall.between)
        if known is None or wall.width < known.width:
            least[wall.between] = wall
    yield from least.values()


def _thin(subject: Subject, layer: Layer, wall: _Wall, limit: Limit) -> Finding:
    units, need = subject.lamp.units, needed(wall, limit)
    by = need - wall.width
    ways = [way for cut in wall.cuts for way in resized(layer, cut, -by)]
    if "outer edge" in wall.between:
        ways += [*(way for cut in wall.cuts for way in drawn_in(layer, cut, by)), larger(layer.name, by)]
    return against(
        limit,
        wall.width,
        "walls",
        f"only {units.show(wall.width)} of wall, {units.show(wall.height)} high, is left between "
        f"{wall.between[0]} and {wall.between[1]} at {units.at(*wall.at)}",
        held_to=need,
        advice="Move the two further apart, or make one smaller.",
        short=f"only {units.show(wall.width)} of wall is left beside {wall.between[0]}",
        places=(Place(layer.name, *wall.at),),
        cause=f"wall between {wall.between[0]} and {wall.between[1]}",
        ways=tuple(ways),
    )


def _noted(subject: Subject, part: str, wall: _Wall, limit: Limit) -> Finding:
    units = subject.lamp.units
    return against(
        limit,
        wall.width,
        "walls",
        f"the lamp's thinnest wall is here: {units.show(wall.width)} between {wall.between[0]} and "
        f"{wall.between[1]} at {units.at(*wall.at)}",
        held_to=needed(wall, limit),
        level=Level.FACT,
        places=(Place(part, *wall.at),),
    )


def _floors(subject: Subject, layer: Layer, voids: list[Void]) -> list[Finding]:
    units, limit = subject.lamp.units, subject.limits["floor"]
    worst: dict[tuple[str, str], _Floor] = {}
    for floor in floors_of(layer, voids, limit.value):
        if not under(floor.thickness, limit.value):
            continue
        known = worst.get((floor.under, floor.over))
        if known is None or floor.thickness < known.thickness:
            worst[floor.under, floor.over] = floor
    return [
        against(
            limit,
            floor.thickness,
            "walls",
            f"only {units.show(floor.thickness)} of floor is left between {floor.under} and {floor.over}",
            advice="Cut less deep, or use a thicker sheet.",
            cause=f"floor between {floor.under} and {floor.over}",
            ways=_less_deep(layer, floor, limit.value - floor.thickness),
        )
        for floor in worst.values()
    ]


def _less_deep(layer: Layer, floor: _Floor, by: float) -> tuple[Way, ...]:
    return (*(way for cut in floor.cuts for way in shallower(layer, cut, by)), *thicker(layer, by))


def _bevels(subject: Subject, layer: Layer, voids: list[Void]) -> list[Finding]:
    """Outer chamfers that leave too little of the face beside a cut, or eat into it."""
    units, limit, outer = subject.lamp.units, subject.limits["bevelled_lip"], path_of(layer.outline)
    found: dict[tuple[str, str], Finding] = {}
    for chamfer in layer.chamfers:
        face, _, loop = chamfer.edge.partition(" ")
        for void in voids if loop == "outer" else ():
            edge = _to_edge(void, outer) if void.entered == face else None
            if edge is None:
                continue
            left = edge.by - chamfer.width
            key = (chamfer.edge, void.name)
            if not under(left, limit.value) or (key in found and (found[key].value or 0.0) <= left):
                continue
            eaten = left <= _ROUNDING
            what = (
                f"the {chamfer.edge} chamfer, {units.show(chamfer.width)} wide, cuts {units.show(-left)} into the "
                if eaten
                else f"the {chamfer.edge} chamfer, {units.show(chamfer.width)} wide, leaves {units.show(left)} of "
                "face beside the "
            )
            found[key] = against(
                limit,
                left,
                "walls",
                f"{what}{void.name} at {units.at(*edge.at)}",
                advice="Make the chamfer narrower, or leave it off.",
                places=(Place(layer.name, *edge.at),),
                cause=f"{chamfer.edge} chamfer beside {void.name}",
                ways=(
                    *narrower_chamfers(layer, (chamfer.edge,), limit.value - left),
                    *resized(layer, void, left - limit.value),
                ),
            )
    return list(found.values())


CHECK = Check(
    name="walls",
    question="How thin are walls, floors, ledges and lips at their thinnest, and where does wood run short of grain?",
    formula="least distance between the exact curves; a wall lower than the limit need only be as thick as high; "
    "floor = thickness − depths; ledge = distance of the opening from the plate's edge, less chamfers; "
    "rim = thickness − Σ c·tan α",
    source="plane geometry; limits are common practice",
    limits=(
        "wall_wood",
        "wall_acrylic",
        "wall_metal",
        "short_grain",
        "short_grain_hole",
        "floor",
        "ledge",
        "bevelled_lip",
        "edge_least",
    ),
    run=walls,
)
