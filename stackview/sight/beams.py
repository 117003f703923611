"""The beams that reach the outside through clear acrylic, as thin tubes of light that any eye can be held against.

Followed from each light point with refraction and total reflection (:mod:`stackview.sight.paths`)
and cut into tubes with three sides (:mod:`stackview.sight.fan`). What they answer is good to:

===================  ============================================================================
:data:`TOLERANCE`    where an image of a light point begins and ends [°]; its corners are cut by up to 0.3°
:data:`BY_RIMS`      the same by round rims of :data:`WIDE_RIM` radius; by larger ones better, by smaller ones worse
``fan.LEAST_IMAGE``  images smaller than that, as their light leaves the point, are left out
``FAN_STEP``         images narrower than about that may be missed, and shadows of things narrower
``paths.MOST_FACES`` faces that a path may meet
===================  ============================================================================
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import ceil

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import read_only
from stackview.at_once import AtOnce, one_by_one
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.bands import taken_at
from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.fan import LEAST_IMAGE, Triangles, fan
from stackview.sight.scene import Scene

TOLERANCE = 0.1
"""Directions at which glazed begins and ends are good to this [°]."""
WIDE_RIM, BY_RIMS = 8.0, 0.9
"""By round rims down to this radius [mm] 95 of 100 rays are good to that [°], found with an exact tracer."""
WORDED = (
    f"light traced through clear acrylic (n 1.49, Snell's law and total reflection), good to {TOLERANCE:g}°, "
    f"by round rims down to {WIDE_RIM:g} mm radius to {BY_RIMS:g}°; images under {LEAST_IMAGE:g} square degree are left out"
)
"""The tolerance in words, as every record and finding gives it."""

_TOGETHER = 36
"""Light points traced together: the last few rays of a run take as many steps as the first many, so that runs are long.

Two runs on two threads are no quicker: Embree's binding does not let go of the interpreter's lock. Where processes
may share them, runs are even in number and alike.
"""
_FEW = 12
"""So few are not shared."""
WIDE_TUBE = 8.0
"""Tubes that spread over more bearings than this [°], or leave nearly upright, are looked at from every eye."""
UPRIGHT = 75.0


@dataclass(frozen=True, slots=True, eq=False)
class Beams:
    """Tubes of light outside the lamp, ordered by the bearing they leave at; arrays are read-only.

    count : number of light points; middle : (3,) of the lamp [mm]; reach : greatest distance of an exit
    from the axis, and of one from the middle [mm]
    point : (k,) that the light comes from; places, directions : (k, 3, 3) of each tube's corner rays
    sent : (k, 3) direction at the light point; angle : (k,) solid angle there [sr]
    bearing : (k,) mean one at the exit [°, 0 to 360); the first ``wide`` tubes stand apart from that order
    """

    count: int
    middle: NDArray[np.float64]
    reach: tuple[float, float]
    point: NDArray[np.int32]
    places: NDArray[np.float32]
    directions: NDArray[np.float32]
    sent: NDArray[np.float32]
    angle: NDArray[np.float32]
    bearing: NDArray[np.float64]
    wide: int

    __repr__ = one_line

    def __post_init__(self) -> None:
        read_only(getattr(self, name) for name in self.__slots__)

    def __len__(self) -> int:
        return len(self.point)


def traced(
    scene: Scene,
    points: LightPoints,
    *,
    progress: Callable[[int], None] | None = None,
    at_once: AtOnce = one_by_one,
) -> Beams:
    """Follow every light point's light through the scene's clear acrylic, from the middle of its face.

    ``progress`` is called with the number of light points done since the last call; ``at_once`` may follow several
    of them together. A scene without a clear face costs nothing.
    """
    bodies = clear_bodies(scene) if len(points) else None
    watch, here, left = progress or (lambda _: None), os.getpid(), len(points)
    if bodies is None:
        watch(left)
        return _ordered([], scene, len(points))
    places, fronts = taken_at(points), np.asarray(points.directions)

    def one(run: range) -> Triangles:
        nonlocal left
        triangles = fan(bodies, places[run], fronts[run])
        if os.getpid() == here:
            watch(len(run))
            left -= len(run)
        return triangles

    runs = _runs(len(points), shared=at_once is not one_by_one)
    triangles = at_once([partial(one, run) for run in runs])
    if left:
        watch(left)
    return _ordered(list(zip(triangles, [run.start for run in runs], strict=True)), scene, len(points))


def _runs(count: int, *, shared: bool) -> list[range]:
    """Light points that are traced together.

    >>> _runs(33, shared=False), _runs(33, shared=True)
    ([range(0, 33)], [range(0, 17), range(17, 33)])
    """
    size = _TOGETHER
    if shared and count > _FEW:
        size = ceil(count / (2 * ceil(count / (2 * _TOGETHER))))
    return [range(start, min(start + size, count)) for start in range(0, count, size)]


def untraced(scene: Scene, points: LightPoints) -> Beams:
    """No beams at all, for whoever asks only for what is bare: light through clear acrylic changes nothing there."""
    return _ordered([], scene, len(points))


def _ordered(found: list[tuple[Triangles, int]], scene: Scene, count: int) -> Beams:
    point = np.concatenate([np.zeros(0, np.int64)] + [part.point + start for part, start in found])
    places, directions, sent = (
        np.concatenate([np.zeros((0, 3, 3))] + [getattr(part, name) for part, _ in found])
        for name in ("places", "directions", "sent")
    )
    angle = np.concatenate([np.zeros(0)] + [part.angles() for part, _ in found])
    middle = np.zeros(3)
    if len(scene.vertices):
        middle[2] = (scene.vertices[:, 2].min() + scene.vertices[:, 2].max()) / 2.0
    mean = directions.sum(axis=1)
    bearing = np.degrees(np.arctan2(mean[:, 0], -mean[:, 1])) % 360.0
    corners = np.degrees(np.arctan2(directions[..., 0], -directions[..., 1]))
    spread = np.abs((corners - bearing[:, None] + 180.0) % 360.0 - 180.0).max(axis=1)
    upright = np.abs(directions[..., 2]).max(axis=1) > np.sin(np.radians(UPRIGHT))
    wide = upright | (spread > WIDE_TUBE)
    # Light points in order where bearings are the same, however they were shared out.
    order = np.lexsort((point, bearing, ~wide))
    return Beams(
        count=count,
        middle=middle,
        reach=(
            float(np.hypot(places[..., 0], places[..., 1]).max(initial=0.0)),
            float(np.linalg.norm(places - middle, axis=-1).max(initial=0.0)),
        ),
        point=point[order].astype(np.int32),
        places=places.astype(np.float32).take(order, axis=0),
        directions=directions.astype(np.float32).take(order, axis=0),
        sent=sent.mean(axis=1).astype(np.float32).take(order, axis=0),
        angle=angle.astype(np.float32).take(order, axis=0),
        bearing=bearing[order],
        wide=int(wide.sum()),
    )
