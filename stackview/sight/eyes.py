"""What a named eye sees: each light point judged along its own line to the eye.

The eye walks once round the lamp at its own distance and height. From every bearing each
light point is bare, veiled or hidden along the straight line from it to the eye, or glazed
where its traced light reaches the eye through clear acrylic; the surface the lamp stands on
is in the way where it is in the way.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Eye, Surface
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.bands import HIDDEN, Kind, each_run, edges_of_run, kinds_of
from stackview.sight.beams import Beams, traced
from stackview.sight.crossings import (
    ASIDE,
    IN_FRONT,
    Lines,
    Silhouettes,
    Spans,
    bearings_of,
    crossings,
    lines_at,
    silhouettes,
    spans,
)
from stackview.sight.glazed_eyes import glazed_round, true_kinds
from stackview.sight.scene import Edges, Scene
from stackview.sight.surface import behind_surface


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What one eye sees from every bearing.

    bearings : (b,) of the eye [°]; elevation : of the eye as seen from the lamp's mid-height [°];
    kind : (n, b) of :class:`Kind` or :data:`HIDDEN`, from the middle of each light point's face;
    part_bare, part_shown : (n, b) whether a corner of the face is bare (or shows at all) where
    its middle is not bare (or does not show); light through clear acrylic is traced from the
    middle only, so that a corner is never glazed. Read-only.
    """

    eye: Eye
    elevation: float
    bearings: NDArray[np.float64]
    kind: NDArray[np.int8]
    part_bare: NDArray[np.bool_]
    part_shown: NDArray[np.bool_]

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.bearings, self.kind, self.part_bare, self.part_shown):
            array.setflags(write=False)

    def counts(self, *kinds: Kind) -> NDArray[np.int64]:
        """Number of light points of these kinds from each bearing (b,)."""
        return np.asarray(np.isin(self.kind, kinds).sum(axis=0))

    @property
    def worst(self) -> int:
        """Index of the worst bearing: most bare points, then most that show, then the lowest bearing."""
        bare = self.counts(Kind.BARE)
        shown = self.counts(*Kind)
        return int(np.lexsort((-shown, -bare))[0])

    @property
    def front(self) -> int:
        """Index of the bearing nearest the front."""
        return int(np.argmin(np.minimum(self.bearings, 360.0 - self.bearings)))


@dataclass(frozen=True, slots=True)
class Standpoint:
    """Where the lamp is in the room: floor height of its lowest point, and the surface, if any."""

    floor: float
    """Height of z = 0 above the floor [mm]."""
    surface: Surface | None


def eye_places(eye: Eye, standpoint: Standpoint, bearings: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where the eye is, in the lamp's frame, at each bearing [°] : (b, 3) [mm]."""
    radians = np.radians(bearings)
    height = np.full_like(radians, eye.height - standpoint.floor)
    return np.stack([eye.distance * np.sin(radians), -eye.distance * np.cos(radians), height], axis=1)


def elevation_of(eye: Eye, standpoint: Standpoint, lamp_height: float) -> float:
    """Elevation of the eye as seen from the axis at the lamp's mid-height [°]."""
    rise = eye.height - standpoint.floor - lamp_height / 2.0
    return float(np.degrees(np.arctan2(rise, eye.distance)))


def look(
    scene: Scene,
    points: LightPoints,
    eyes: tuple[Eye, ...],
    standpoint: Standpoint,
    lamp_height: float,
    bearings: NDArray[np.float64],
    *,
    beams: Beams | None = None,
    progress: Callable[[int], None] | None = None,
) -> tuple[Seen, ...]:
    """What each eye sees of all light points from each bearing (b,) [°].

    ``beams`` are those of the scene and the points, if they have been traced already.
    """
    places = [eye_places(eye, standpoint, bearings) for eye in eyes]
    targets = np.stack(places) if places else np.zeros((0, len(bearings), 3))

    shape = (len(eyes), len(points), len(bearings))
    kind = np.full(shape, HIDDEN, dtype=np.int8)
    part_bare, part_shown = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)

    def one(run: range) -> tuple[NDArray[np.generic], ...]:
        return _seen_of_run(scene, points, run, targets, standpoint.surface)

    for run, (middle, bare, shown) in each_run(one, len(points)) if eyes else ():
        kind[:, run], part_bare[:, run], part_shown[:, run] = middle, bare, shown
        if progress is not None:
            progress(len(run))
    if eyes and beams is None:
        beams = traced(scene, points)
    for number in range(len(eyes)):
        assert beams is not None
        kind[number] = true_kinds(kind[number], glazed_round(beams, targets[number], standpoint.surface))
        part_shown[number] &= kind[number] == HIDDEN
    return tuple(
        Seen(eye, elevation_of(eye, standpoint, lamp_height), bearings.copy(), *per_eye)
        for eye, *per_eye in zip(eyes, kind, part_bare, part_shown, strict=True)
    )


def _seen_of_run(
    scene: Scene, points: LightPoints, run: range, targets: NDArray[np.float64], surface: Surface | None
) -> tuple[NDArray[np.generic], ...]:
    """Straight kind at the middles, and whether a corner is bare or shown, bare or veiled, where the middle is not.

    (eyes, run, b) each.
    """
    edges = edges_of_run(scene, points, run, _highest(points, run, targets))
    directions = points.directions[run]
    everywhere = np.ones((len(targets), len(run), targets.shape[1]), dtype=bool)
    middle = kinds_towards(scene, edges, points.centres[run], directions, targets, surface, everywhere)
    wanted = middle != Kind.BARE
    count = points.corners.shape[1]
    corners = points.corners[run].transpose(1, 0, 2).reshape(-1, 3)
    found = kinds_towards(
        scene,
        edges,
        corners,
        np.tile(directions, (count, 1)),
        targets,
        surface,
        np.tile(wanted, (1, count, 1)),
    ).reshape(len(targets), count, len(run), targets.shape[1])
    bare_corner, veiled_corner = (found == Kind.BARE).any(axis=1), (found == Kind.VEILED).any(axis=1)
    exact = (middle == Kind.BARE) | (middle == Kind.VEILED)
    return middle, bare_corner & wanted, (bare_corner | veiled_corner) & ~exact


def _highest(points: LightPoints, run: range, targets: NDArray[np.float64]) -> float:
    """A bound above the tangent of every line from a run's faces to the targets."""
    faces = np.vstack([points.centres[run], points.corners[run].reshape(-1, 3)])
    low, high = faces.min(axis=0), faces.max(axis=0)
    rise = targets[..., 2] - low[2] + 1e-3
    away = np.hypot(targets[..., 0] - (low[0] + high[0]) / 2.0, targets[..., 1] - (low[1] + high[1]) / 2.0)
    spread = float(np.hypot(high[0] - low[0], high[1] - low[1])) / 2.0 + 1e-3
    return float((rise / np.where(rise > 0, np.maximum(away - spread, 1e-9), away + spread)).max())


def kinds_towards(
    scene: Scene,
    edges: Edges,
    places: NDArray[np.float64],
    directions: NDArray[np.float64],
    targets: NDArray[np.float64],
    surface: Surface | None,
    wanted: NDArray[np.bool_],
) -> NDArray[np.int8]:
    """Kind of each light point along straight lines to the targets, by the same silhouettes as the bands.

    What is glazed here only crosses clear acrylic on a straight line, which light does not:
    :func:`stackview.sight.glazed_eyes.true_kinds` puts the traced light in its place.

    Parameters
    ----------
    places, directions : (p, 3) of the faces
    targets : (e, b, 3) places of the eyes [mm]
    wanted : (e, p, b) limits the work

    Returns
    -------
    (e, p, b) of :class:`Kind` or :data:`HIDDEN`
    """
    places = places + IN_FRONT * directions + ASIDE
    offset = targets[:, None] - places[:, None]
    asked = np.einsum("epbx,px->epb", offset, directions) > 0
    asked &= wanted & ~behind_surface(places[:, None], targets[:, None], surface)
    kind = np.full(asked.shape, HIDDEN, dtype=np.int8)
    if not asked.any():
        return kind
    seen = silhouettes(scene, edges, places)
    reach = seen.reach()
    for eye in range(len(targets)):
        if asked[eye].any():
            place, _ = np.nonzero(asked[eye])
            count = counts_along(seen, reach, place, offset[eye][asked[eye]])
            kind[eye][asked[eye]] = kinds_of(count)
    return kind


def counts_along(
    seen: Silhouettes,
    reach: tuple[NDArray[np.float64], NDArray[np.float64]],
    place: NDArray[np.int64],
    offset: NDArray[np.float64],
) -> NDArray[np.int64]:
    """Packed count that lines along ``offset`` (q, 3) from places (q,) in rising order meet."""
    bearing = bearings_of(offset)
    order = np.lexsort((bearing, place))
    offset = offset[order]
    lines = lines_at(place, bearing[order], len(seen.nadir))
    tangent = offset[:, 2] / np.maximum(np.hypot(offset[:, 0], offset[:, 1]), 1e-300)
    over = spans(seen, lines)
    lowest, highest = _extremes(tangent, lines)
    low, high = reach
    # Most edges pass wholly below all of a place's lines, or wholly above them: the first count
    # in full along their span, the second not at all. Only the rest needs its crossings found.
    crossed = over.count > 0
    wholly_below = crossed & (high < lowest[seen.place])
    between = crossed & ~wholly_below & (low <= highest[seen.place])
    total = _along_spans(over, np.flatnonzero(wholly_below), len(tangent))
    which, at, crossing = crossings(seen, over, lines, np.flatnonzero(between))
    under = np.flatnonzero(crossing < tangent[at])
    total += np.bincount(at[under], weights=over.gain[which[under]].astype(float), minlength=len(tangent))
    count = np.empty(len(tangent), dtype=np.int64)
    # Sums of packed counts stay below 2^53, where floating point is exact.
    count[order] = np.rint(total).astype(np.int64) + seen.nadir[place]
    return count


def _extremes(tangent: NDArray[np.float64], lines: Lines) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Lowest and highest tangent among each place's lines; an empty range where it has none."""
    places = len(lines.first) - 1
    lowest, highest = np.full(places, np.inf), np.full(places, -np.inf)
    np.minimum.at(lowest, lines.place, tangent)
    np.maximum.at(highest, lines.place, tangent)
    return lowest, highest


def _along_spans(over: Spans, edges: NDArray[np.int64], lines: int) -> NDArray[np.float64]:
    """Sum of the edges' gains at each line of their (wrapping) spans."""
    start, begin, stop = over.start[edges], over.begin[edges], over.stop[edges]
    gain = over.gain[edges].astype(float)
    end = start + over.count[edges]
    past = np.maximum(end - stop, 0)
    steps = np.zeros(lines + 1)
    for place, weight in (
        (start, gain),
        (np.minimum(end, stop), -gain),
        (begin, gain),
        (begin + past, -gain),
    ):
        steps += np.bincount(place, weights=weight, minlength=lines + 1)
    return np.asarray(np.cumsum(steps)[:lines])
