"""Which edges bound the gaps through which an eye sees bare points, and by how much they miss its lines.

In the half-plane through a light point and the eye, the line of sight rises at tangent t. An
edge that bounds the gap crosses it at horizontal distance ρ and height ζ from the point: it
would have to go up by t·ρ − ζ, or down, to meet the line. Plane geometry.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.bands import POLE, Kind, bands_from, sorted_bearings, taken_at
from stackview.sight.crossings import bearings_of
from stackview.sight.edge_names import EdgeNames
from stackview.sight.edges import Edges, edges_for
from stackview.sight.eyes import Seen, Standpoint, eye_places
from stackview.sight.scene import Scene


@dataclass(frozen=True, slots=True)
class Cause:
    """One edge next to the lines along which an eye sees bare points."""

    edge: str
    points: int
    """Number of the bare points to whose line this edge is the nearer of the two around it."""
    between: tuple[str, ...] = ()
    """The parts whose edges bound the gaps that these lines pass, this edge's own among them."""

    __repr__ = one_line


def causes(
    scene: Scene,
    names: EdgeNames,
    points: LightPoints,
    seen: Seen,
    standpoint: Standpoint,
    at: int,
) -> tuple[Cause, ...]:
    """The edges past which ``seen.eye`` sees bare points from its bearing number ``at``, the one of most points first."""
    bare = np.flatnonzero(seen.kind[:, at] == Kind.BARE)
    if not len(bare):
        return ()
    eye = eye_places(seen.eye, standpoint, seen.bearings[at : at + 1])[0]
    edges = edges_for(scene, taken_at(points)[bare])
    nearest: dict[str, int] = {}
    between: dict[str, dict[str, None]] = {}
    for index in bare.tolist():
        gap = gap_at(scene, points, index, eye, edges)
        if gap:
            name = names.text(min(gap, key=lambda bound: abs(bound[1]))[0])
            nearest[name] = nearest.get(name, 0) + 1
            parts = (scene.names[scene.solid_of_triangle[scene.left[edge]]] for edge, _ in gap)
            between.setdefault(name, {}).update(dict.fromkeys(parts))
    found = [Cause(name, points, tuple(between[name])) for name, points in nearest.items()]
    return tuple(sorted(found, key=lambda cause: (-cause.points, cause.edge)))


def gap_at(
    scene: Scene, points: LightPoints, index: int, eye: NDArray[np.float64], edges: Edges | None = None
) -> tuple[tuple[int, float], ...]:
    """The edges below and above the line from a light point's middle to an eye (3,), in the gap that it passes.

    For each its number, and how far up it would have to go to touch the line, negative: down [mm].
    None where the line passes no gap at all.
    """
    places = taken_at(points)[index : index + 1]
    offset = eye - places[0]
    bearing, tangent = float(bearings_of(offset)), offset[2] / np.hypot(offset[0], offset[1])
    _, _, low, high, _, low_edge, high_edge = bands_from(
        scene,
        edges_for(scene, places) if edges is None else edges,
        places,
        points.directions[index : index + 1],
        sorted_bearings(np.array([bearing])),
    )
    elevation = np.degrees(np.arctan(tangent))
    passed = np.flatnonzero((low < elevation) & (elevation < high))
    return tuple(
        (int(edge[band]), _short_by(scene, places[0], bearing, int(edge[band]), tangent))
        for band in passed[:1]
        for edge in (low_edge, high_edge)
        if edge[band] >= 0
    )


def _short_by(scene: Scene, place: NDArray[np.float64], bearing: float, edge: int, tangent: float) -> float:
    """How far up an edge must go to touch the line: t·ρ − ζ [mm]."""
    assert edge > POLE
    tail = scene.vertices[scene.tail[edge]] - place
    head = scene.vertices[scene.head[edge]] - place
    sine, cosine = np.sin(bearing), np.cos(bearing)
    off_tail, off_head = tail[0] * cosine + tail[1] * sine, head[0] * cosine + head[1] * sine
    share = off_tail / (off_tail - off_head) if off_tail != off_head else 0.5
    meet = tail + np.clip(share, 0.0, 1.0) * (head - tail)
    across, height = float(meet[0] * sine - meet[1] * cosine), float(meet[2])
    return float(tangent * across - height)
