"""What a named eye sees: each light point judged along its own line to the eye.

The eye walks once round the lamp at its own distance and height. From every bearing each
light point is bare, veiled or hidden along the straight line from it to the eye, or glazed
where its traced light reaches the eye through clear acrylic; the surface the lamp stands on
is in the way where it is in the way.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Eye, Surface
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.bands import HIDDEN, Kind, each_run, even_bearings, faces_of
from stackview.sight.beams import Beams, traced
from stackview.sight.edges import Edges, edges_for
from stackview.sight.glazed_eyes import glazed_round, true_kinds
from stackview.sight.scene import Scene, scene_of
from stackview.sight.towards import kinds_towards
from stackview.stack.assembly import Stack

_MIDDLES, _FACES = 8, 3
"""Light points worked out together: their middles, or all corners of their faces. The quickest of what was tried."""


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
    def from_middle(self) -> float:
        """Distance of the eye from the lamp's middle, on the axis at mid-height [mm]."""
        return self.eye.distance / float(np.cos(np.radians(self.elevation)))

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


def look_from_eyes(
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
    """What each eye sees of the middles of all light points' faces from each bearing (b,) [°].

    ``beams`` are those of the scene and the points, if they have been traced already.
    """
    seen = _looked_straight(scene, points, eyes, standpoint, lamp_height, bearings, progress)
    if eyes and beams is None:
        beams = traced(scene, points)
    found = []
    for one in seen:
        assert beams is not None
        glazed = glazed_round(beams, eye_places(one.eye, standpoint, bearings), standpoint.surface)
        found.append(replace(one, kind=true_kinds(one.kind, glazed)))
    return tuple(found)


def with_corners(
    scene: Scene,
    points: LightPoints,
    seen: tuple[Seen, ...],
    standpoint: Standpoint,
    *,
    progress: Callable[[int], None] | None = None,
) -> tuple[Seen, ...]:
    """What eyes see of the middles (:func:`look_from_eyes`), and of the faces' corners where a middle is not bare."""
    count = points.corners.shape[1]
    if not (seen and count and len(points)):
        if progress is not None:
            progress(len(points))
        return seen
    targets = np.stack([eye_places(one.eye, standpoint, one.bearings) for one in seen])
    wanted = np.stack([one.kind != Kind.BARE for one in seen])
    bare, veiled = np.zeros_like(wanted), np.zeros_like(wanted)

    def kinds(run: range, edges: Edges) -> NDArray[np.int8]:
        return kinds_towards(
            scene,
            edges,
            points.corners[run].transpose(1, 0, 2).reshape(-1, 3),
            np.tile(points.directions[run], (count, 1)),
            targets,
            standpoint.surface,
            np.tile(wanted[:, run], (1, count, 1)),
        ).reshape(len(targets), count, len(run), -1)

    for run, found in _by_runs(scene, points, targets, kinds, _FACES, progress):
        bare[:, run], veiled[:, run] = (found == Kind.BARE).any(axis=1), (found == Kind.VEILED).any(axis=1)
    bare &= wanted
    return tuple(
        replace(one, part_bare=own, part_shown=(own | other) & (one.kind == HIDDEN))
        for one, own, other in zip(seen, bare, veiled, strict=True)
    )


def look_straight(
    stack: Stack,
    points: LightPoints,
    *,
    bearings: int | NDArray[np.float64] = 720,
    eyes: tuple[Eye, ...] | None = None,
    whole_faces: bool = False,
    scene: Scene | None = None,
) -> tuple[Seen, ...]:
    """What eyes see of light points, bare and veiled, from bearings all round.

    This is the part of :attr:`stackview.sight.summary.Sightlines.eyes` that costs little, for whoever
    tries many variants of a lamp: exact for bare points, and for veiled ones but where light comes
    through clear acrylic too. Nothing is traced, so that nothing is glazed.

    ``bearings`` is a number of even ones, or themselves (b,) [°]; ``eyes`` are the lamp's named ones
    where none are given; corners of faces are asked for with ``whole_faces`` alone; ``scene`` is the
    stack's, where it is known.
    """
    scene = scene or scene_of(stack.placed)
    standpoint = Standpoint(stack.floor, stack.lamp.surface)
    around = even_bearings(bearings) if isinstance(bearings, int) else bearings
    seen = _looked_straight(
        scene, points, stack.lamp.eyes if eyes is None else eyes, standpoint, stack.height, around
    )
    nothing = np.zeros((len(points), len(around)), dtype=bool)
    straight = tuple(replace(one, kind=true_kinds(one.kind, nothing)) for one in seen)
    return with_corners(scene, points, straight, standpoint) if whole_faces else straight


def _looked_straight(
    scene: Scene,
    points: LightPoints,
    eyes: tuple[Eye, ...],
    standpoint: Standpoint,
    lamp_height: float,
    bearings: NDArray[np.float64],
    progress: Callable[[int], None] | None = None,
) -> tuple[Seen, ...]:
    """What each eye sees along straight lines, with those that cross nothing but clear acrylic as glazed."""
    places = [eye_places(eye, standpoint, bearings) for eye in eyes]
    targets = np.stack(places) if places else np.zeros((0, len(bearings), 3))
    shape = (len(eyes), len(points), len(bearings))
    kind = np.full(shape, HIDDEN, dtype=np.int8)
    nothing = np.zeros(shape[1:], dtype=bool)

    def kinds(run: range, edges: Edges) -> NDArray[np.int8]:
        everywhere = np.ones((len(targets), len(run), len(bearings)), dtype=bool)
        own = points.centres[run], points.directions[run]
        return kinds_towards(scene, edges, *own, targets, standpoint.surface, everywhere)

    if eyes and len(points):
        for run, found in _by_runs(scene, points.middles(), targets, kinds, _MIDDLES, progress):
            kind[:, run] = found
    elif progress is not None:
        progress(len(points))
    return tuple(
        Seen(eye, elevation_of(eye, standpoint, lamp_height), bearings.copy(), own, nothing, nothing)
        for eye, own in zip(eyes, kind, strict=True)
    )


def _by_runs(
    scene: Scene,
    points: LightPoints,
    targets: NDArray[np.float64],
    kinds: Callable[[range, Edges], NDArray[np.int8]],
    together: int,
    progress: Callable[[int], None] | None,
) -> Iterator[tuple[range, NDArray[np.int8]]]:
    """``kinds(run, edges)`` of runs of light points, with the edges that can bound the view from their faces."""
    faces = faces_of(points, range(len(points)))
    everywhere = edges_for(scene, faces, None, *_tangents(faces, targets))

    def one(run: range) -> NDArray[np.int8]:
        own = faces_of(points, run)
        edges = everywhere.narrowed(scene, own, points.directions[run], *_tangents(own, targets))
        return kinds(run, edges)

    for run, found in each_run(one, len(points), together):
        yield run, found
        if progress is not None:
            progress(len(run))


def _tangents(faces: NDArray[np.float64], targets: NDArray[np.float64]) -> tuple[float, float]:
    """Bounds for the tangent of every line from faces' places to the targets: least and greatest."""
    low, high = faces.min(axis=0), faces.max(axis=0)
    x, y, z = (targets[..., axis] for axis in range(3))
    away = np.hypot(x - (low[0] + high[0]) / 2.0, y - (low[1] + high[1]) / 2.0)
    spread = float(np.hypot(high[0] - low[0], high[1] - low[1])) / 2.0 + 1e-3
    near, far = np.maximum(away - spread, 1e-9), away + spread
    least, most = z - high[2] - 1e-3, z - low[2] + 1e-3
    lowest, highest = least / np.where(least > 0, far, near), most / np.where(most > 0, near, far)
    return float(lowest.min()), float(highest.max())
