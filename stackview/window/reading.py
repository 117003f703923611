"""What is read off from exactly where the eye is: counts, bare points, edges that would have to grow."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Eye
from stackview.sight.at_eye import kinds_at
from stackview.sight.bands import HIDDEN, Kind
from stackview.sight.causes import Cause, causes
from stackview.sight.eyes import Seen, elevation_of
from stackview.sight.surface import behind_surface
from stackview.window.shown import Shown
from stackview.window.state import ViewState, eye_of, looking


@dataclass(frozen=True, slots=True, eq=False)
class Readout:
    """Where the eye is and how each light point shows from there; ``kinds`` (n,) is read-only."""

    bearing: float
    elevation: float
    distance: float
    height: float
    """Of the eye above the floor [mm]."""
    kinds: NDArray[np.int8]
    eye: str | None
    whole: bool
    under: bool
    """Whether what the lamp stands on hides the lamp's middle from the eye."""

    def count(self, kind: int) -> int:
        """Number of light points of a :class:`Kind`, or HIDDEN."""
        return int((self.kinds == kind).sum())

    @property
    def bare(self) -> NDArray[np.int64]:
        """Which light points are bare."""
        return np.flatnonzero(self.kinds == Kind.BARE)


def reading(state: ViewState, shown: Shown) -> Readout:
    """Judge every light point of the assembled lamp from where the eye is."""
    place = eye_of(state, shown.ball)
    kinds = kinds_at(shown.index, place, shown.study.sightlines.standpoint.surface)
    kinds.setflags(write=False)
    return Readout(
        bearing=state.bearing,
        elevation=state.elevation,
        distance=state.distance,
        height=float(place[2]) + shown.study.sightlines.standpoint.floor,
        kinds=kinds,
        eye=state.eye,
        whole=state.whole,
        under=bool(
            behind_surface(
                np.array([0.0, 0.0, shown.ball.middle]), place, shown.study.sightlines.standpoint.surface
            )
        ),
    )


def seen_here(state: ViewState, shown: Shown, found: Readout) -> Seen:
    """What is seen from here, as a named eye's view from its one bearing."""
    lines = shown.study.sightlines
    place = eye_of(state, shown.ball)
    across = float(np.hypot(place[0], place[1]))
    eye = Eye("here", across, found.height)
    kind = found.kinds[:, None].copy()
    none = np.zeros(kind.shape, bool)
    return Seen(
        eye,
        elevation_of(eye, lines.standpoint, shown.study.stack.height),
        np.array([state.bearing if abs(state.elevation) < 90.0 else 0.0]),
        kind,
        none,
        none.copy(),
    )


def causes_here(state: ViewState, shown: Shown, found: Readout) -> tuple[Cause, ...]:
    """Which edges would hide the points that are bare from here, and how far they would have to grow."""
    lines, here = shown.study.sightlines, seen_here(state, shown, found)
    return causes(lines.scene, lines.names, lines.points, here, lines.standpoint, 0)


def edge_lines(shown: Shown, names: tuple[str, ...]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Both ends (k, 2, 3) [mm] of all edges that bear these names, and the part (k,) each belongs to."""
    scene, known = shown.study.sightlines.scene, shown.study.sightlines.names
    wanted = np.array([number for number, text in enumerate(known.texts) if text in names], np.int64)
    chosen = np.flatnonzero(np.isin(known.numbers(np.arange(len(scene.tail), dtype=np.int32)), wanted))
    ends = np.stack([scene.vertices[scene.tail[chosen]], scene.vertices[scene.head[chosen]]], axis=1)
    # Joints between the facets of a curve bear its side's name too; only a turn of the surface shows.
    normals = scene.normals / np.maximum(np.linalg.norm(scene.normals, axis=1, keepdims=True), 1e-12)
    turn = (normals[scene.left[chosen]] * normals[scene.right[chosen]]).sum(axis=1)
    sharp = turn < np.cos(np.radians(20.0))
    return ends[sharp], scene.solid_of_triangle[scene.left[chosen]][sharp]


@dataclass(frozen=True, slots=True)
class BareBand:
    """A band of elevations in which bare points show from far away, and where in it they do from the eye's distance."""

    bearing: float
    low: float
    high: float
    elevation: float
    """Of the eye, as near as it is, where ``count`` bare points show [°]."""
    count: int
    below: str
    above: str


_TRIES = 400
"""Bands that are tried for one that shows bare points from where the eye would be."""


def next_band(state: ViewState, shown: Shown) -> BareBand | None:
    """The next place upwards at the eye's bearing and distance that shows bare points.

    Past the last of a bearing, the first of the next that has one. Bands are those seen from far away; a near eye
    sees each from another elevation, which the heights of the light points tell, and only
    where a point really is bare it is a stop. None where none was found.
    """
    bare, bearings = shown.study.sightlines.bare, shown.study.sightlines.bands.bearings
    if not len(bare.low):
        return None
    step = 360.0 / len(bearings)
    here = round(state.bearing / step) % len(bearings)
    middle = (bare.low + bare.high) / 2.0
    ahead = (bare.bearing.astype(np.int64) - here) % len(bearings)
    # On past this bearing in steps wide enough to be seen.
    wide = max(round(10.0 / step), 1)
    beyond = np.where((ahead >= wide) | (ahead == 0), ahead, ahead + len(bearings))
    order = np.lexsort((middle, beyond))
    heights = shown.study.sightlines.points.centres[:, 2]
    rises = np.quantile(heights, (0.0, 0.25, 0.5, 0.75, 1.0)) - shown.ball.middle
    for number in order[:_TRIES].tolist():
        bearing = float(bearings[bare.bearing[number]])
        # A line at this elevation from a point that is higher than the middle reaches an eye that stands higher.
        aside = np.degrees(
            np.arcsin(np.clip(rises * np.cos(np.radians(middle[number])) / state.distance, -1, 1))
        )
        tried = np.unique(np.clip(middle[number] + aside, -90.0, 90.0)).tolist()
        counts = [
            reading(looking(state, shown.ball, bearing=bearing, elevation=elevation), shown).count(Kind.BARE)
            for elevation in tried
        ]
        most = int(np.argmax(counts))
        if counts[most] and (ahead[number] or tried[most] > state.elevation + 1e-6):
            return _band(shown, number, tried[most], counts[most])
    return None


def _band(shown: Shown, number: int, elevation: float, count: int) -> BareBand:
    bare, names = shown.study.sightlines.bare, shown.study.sightlines.names
    return BareBand(
        bearing=float(shown.study.sightlines.bands.bearings[bare.bearing[number]]),
        low=float(bare.low[number]),
        high=float(bare.high[number]),
        elevation=elevation,
        count=count,
        below=names.text(int(bare.low_edge[number])),
        above=names.text(int(bare.high_edge[number])),
    )


KIND_NAMES = (*((kind.value, kind.word) for kind in Kind), (HIDDEN, "hidden"))
"""Every class with its word, in the order of the readout."""
