"""The rays to one eye that a section drawing shows: from each light point that the eye sees from one bearing.

The cut stands at the eye's bearing, so that the eye lies in it. Each ray is drawn square onto the
cut: a straight line stays straight, and ends at the eye where that truly is. Light through clear
acrylic is drawn as it bends, from face to face.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.drawings.section_rays import IN_PLANE, NEAR_AXIS, angles_off, edge_in_plane, flat
from stackview.sight.bands import HIDDEN, Kind, taken_at
from stackview.sight.causes import gap_at
from stackview.sight.crossings import bearings_of
from stackview.sight.edges import edges_for
from stackview.sight.eyes import Seen, eye_places
from stackview.sight.glazed_eyes import exits_towards
from stackview.sight.summary import Sightlines
from stackview.sight.way_to_eye import way_to_eye


@dataclass(frozen=True, slots=True)
class EyeRay:
    """One light point that the eye sees; places are (across, height) in the cut [mm].

    ``number`` is the light point's, from 1; ``point`` where it stands, ``start`` where its straight
    line to the eye begins: the point itself, or where its light leaves the acrylic; ``bends`` its way from
    the point to there, both with it, empty where it goes straight or its way is not known; ``aside`` how far
    the point stands from the cut [mm], ``in_cut`` whether it counts as in it; ``past`` the edge that
    the line passes nearest, and ``past_at`` where. No edge is known for glazed points.
    """

    number: int
    kind: Kind
    point: tuple[float, float]
    start: tuple[float, float]
    aside: float
    in_cut: bool
    past: str | None
    past_at: tuple[float, float] | None
    bends: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class EyeRays:
    """All rays to one eye from one bearing.

    place : of the eye, (across, height) [mm]; worst : whether it is the eye's worst bearing; hidden :
    (k, 2) light points in the cut that it does not see; corners : number of light points of which it
    sees no more than a corner; lost : of glazed ones whose last leg is not known.
    """

    seen: Seen
    bearing: float
    worst: bool
    place: tuple[float, float]
    rays: tuple[EyeRay, ...]
    hidden: NDArray[np.float64]
    corners: int
    lost: int


def rays_to_eye(sightlines: Sightlines, seen: Seen, bearing: float | None) -> EyeRays:
    """Find the rays to an eye from its worst bearing, or the computed one nearest to ``bearing`` [°]."""
    at = seen.worst
    if bearing is not None:
        at = int(np.argmin(np.abs((seen.bearings - bearing + 180.0) % 360.0 - 180.0)))
    own = float(seen.bearings[at])
    eye = eye_places(seen.eye, sightlines.standpoint, seen.bearings[at : at + 1])[0]
    points = np.arange(len(sightlines.points), dtype=np.int32)
    off, aside = angles_off(sightlines, np.full(len(points), own), points)
    in_cut = (off <= IN_PLANE) | (aside <= NEAR_AXIS)
    rays = _rays(sightlines, seen.kind[:, at], eye, own, aside, in_cut)
    hidden = in_cut & (seen.kind[:, at] == HIDDEN) & ~seen.part_shown[:, at]
    return EyeRays(
        seen,
        own,
        at == seen.worst,
        _in_cut(eye, own),
        rays,
        flat(sightlines.points.centres[hidden], own),
        int(seen.part_shown[:, at].sum()),
        int((seen.kind[:, at] != HIDDEN).sum()) - len(rays),
    )


def _rays(
    sightlines: Sightlines,
    kinds: NDArray[np.int8],
    eye: Floats,
    bearing: float,
    aside: Floats,
    in_cut: NDArray[np.bool_],
) -> tuple[EyeRay, ...]:
    shown = np.flatnonzero(kinds != HIDDEN)
    if not len(shown):
        return ()
    places = taken_at(sightlines.points)
    edges = edges_for(sightlines.scene, places[shown])
    exits = (
        exits_towards(sightlines.beams, eye, sightlines.standpoint.surface)
        if (kinds == Kind.GLAZED).any()
        else {}
    )
    found = []
    for index in shown.tolist():
        point = _in_cut(sightlines.points.centres[index], bearing)
        past, past_at, start = None, None, point
        bends: tuple[tuple[float, float], ...] = ()
        if kinds[index] == Kind.GLAZED:
            if index not in exits:
                continue
            exit_, sent = exits[index]
            way = way_to_eye(sightlines.bodies, places[index], sent, eye)
            if way is not None:
                bends = tuple(_in_cut(corner, bearing) for corner in way)
                exit_ = way[-1]
            start = _in_cut(exit_, bearing)
        else:
            gap = gap_at(sightlines.scene, sightlines.points, index, eye, edges)
            if gap:
                edge = min(gap, key=lambda bound: abs(bound[1]))[0]
                past = sightlines.names.text(edge)
                past_at = _in_cut(_passed(sightlines, edge, places[index], eye), bearing)
        found.append(
            EyeRay(
                index + 1,
                Kind(int(kinds[index])),
                point,
                start,
                float(aside[index]),
                bool(in_cut[index]),
                past,
                past_at,
                bends,
            )
        )
    return tuple(found)


def _in_cut(place: Floats, bearing: float) -> tuple[float, float]:
    across, height = flat(place[None], bearing)[0].tolist()
    return across, height


def _passed(sightlines: Sightlines, edge: int, place: Floats, eye: Floats) -> Floats:
    """Where an edge crosses the upright plane through a light point and the eye: (3,) [mm]."""
    way = float(bearings_of(eye - place))
    along, up = edge_in_plane(sightlines.scene, edge, place, float(np.degrees(way)))
    return np.asarray(place + np.array([along * np.sin(way), -along * np.cos(way), up]), np.float64)


@dataclass(frozen=True, slots=True)
class NumberedRay:
    """A ray that the key names, and how many others of its class pass the same edge."""

    ray: EyeRay
    alike: int


def numbered_rays(rays: EyeRays, most: int) -> tuple[NumberedRay, ...]:
    """One ray for each class and edge, at most ``most``, from the highest at the lamp's side to the lowest.

    Bare before glazed before veiled, then the edges that most rays pass; of each the ray nearest to the cut.
    """
    groups: dict[tuple[Kind, str | int | None], list[EyeRay]] = {}
    for ray in rays.rays:
        # Glazed light comes each its own way.
        groups.setdefault((ray.kind, ray.number if ray.kind == Kind.GLAZED else ray.past), []).append(ray)
    ordered = sorted(groups.values(), key=lambda group: (group[0].kind, -len(group)))
    chosen = [
        NumberedRay(min(group, key=lambda ray: (round(ray.aside, 3), ray.number)), len(group) - 1)
        for group in ordered[:most]
    ]
    return tuple(sorted(chosen, key=lambda one: -_outside(one.ray, rays.place)))


def _outside(ray: EyeRay, eye: tuple[float, float]) -> float:
    """Height of a ray a third of its way to the eye [mm]."""
    return ray.start[1] + (eye[1] - ray.start[1]) / 3.0
