"""The side of the core rolled out flat, and where strips lie on it, for whoever sticks them on.

Seen from outside: ``u`` runs along the cross-section's edge [mm], 0 at the front, growing with the bearing
(to the right of one who looks at the front), half of the way round to either side; ``z`` is the height
above the core's lower end [mm].
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from stackview.arrays import Floats, read_only
from stackview.curves.arcs import Path, length, pieces_of, polygon
from stackview.curves.facing import facing
from stackview.description.lamp import Core
from stackview.description.outline import path_of
from stackview.light.layout import Lit

if TYPE_CHECKING:
    from stackview.study import Study

_CHORD_ERROR = 0.001
_CORNER = 1.0
"""Less than this is no corner: it is where one piece goes smoothly on in the next [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class CoreSide:
    """The rolled-out side: how far it is once round [mm], and ``u`` of its corners, as folds."""

    round: float
    corners: tuple[float, ...]
    edge: Path
    _ring: shapely.Geometry
    _front: float

    def u_of(self, places: Floats) -> Floats:
        """``u`` of places (k, 2) on the edge or beside it, from the core's own centre."""
        along = shapely.line_locate_point(self._ring, shapely.points(places)) / self._ring.length
        u: Floats = ((along * self.round - self._front + 0.5 * self.round) % self.round) - 0.5 * self.round
        return u


@dataclass(frozen=True, slots=True, eq=False)
class LaidStrip:
    """One light's strips on the core: ``edges`` are runs of places (k, 2), u and z, of their long edges and ends."""

    lit: Lit
    edges: tuple[Floats, ...]
    begins: tuple[float, float]
    """Lowest and highest place of its first end [mm above the core's lower end]."""
    ends: tuple[float, float]
    """The same of its last end."""
    last_bearing: float
    """Bearing of the middle of its last end, from the core's own centre [°]."""

    def __post_init__(self) -> None:
        read_only(self.edges)


def own_outline(core: Core) -> Path:
    """The core's cross-section about its own centre, turned as it stands."""
    return path_of(replace(core.outline, at=(0.0, 0.0)))


def core_side(core: Core) -> CoreSide:
    """Roll out a core's side."""
    edge = own_outline(core)
    ring = shapely.LinearRing(polygon(edge, _CHORD_ERROR))
    round_ = length(edge)
    met = facing(edge, 0.0)
    at = met.at if met is not None else tuple(edge.vertices[np.argmin(edge.vertices[:, 1]), :2].tolist())
    front = shapely.line_locate_point(ring, shapely.Point(at)) / ring.length * round_
    side = CoreSide(round_, (), edge, ring, float(front))
    corners = _corners(edge)
    return replace(side, corners=tuple(side.u_of(corners).tolist())) if len(corners) else side


def _corners(path: Path) -> Floats:
    """Places (k, 2) where the curve has a corner."""
    p = pieces_of(path)
    chord = np.arctan2(*(p.end - p.start).T[::-1])
    out, into = chord + 0.5 * p.sweep, chord - 0.5 * p.sweep
    bend = np.degrees((np.roll(into, -1) - out + np.pi) % (2.0 * np.pi) - np.pi)
    found: Floats = p.end[np.abs(bend) > _CORNER]
    return found


def strips_on_core(study: "Study") -> tuple[LaidStrip, ...]:
    """Where every strip lies on the core. Raises LampError where the lights cannot be laid out."""
    core, light = study.stack.lamp.core, study.light
    if core is None:
        return ()
    side, foot = core_side(core), study.stack.part("core").underside
    centre = np.array(core.outline.at)
    found, taken = [], 0
    for lit in light.lit:
        ribbons = light.ribbons[taken : taken + len(lit.cuts)]
        taken += len(lit.cuts)
        if lit.light.on_core is None or not ribbons:
            continue
        edges: list[Floats] = []
        for ribbon in ribbons:
            first, last = (np.array((ribbon.low[k], ribbon.high[k])) for k in (0, -1))
            for line in (ribbon.low, ribbon.high, first, last):
                edges += _rolled(side, line - np.array((*centre, foot)))
        first, last = (np.array((ribbons[-1].low[k], ribbons[-1].high[k])) for k in (0, -1))
        middle = last.mean(axis=0)[:2] - centre
        found.append(
            LaidStrip(
                lit,
                tuple(edges),
                (float(first[:, 2].min() - foot), float(first[:, 2].max() - foot)),
                (float(last[:, 2].min() - foot), float(last[:, 2].max() - foot)),
                float(np.degrees(np.arctan2(middle[0], -middle[1])) % 360.0),
            )
        )
    return tuple(found)


def _rolled(side: CoreSide, line: Floats) -> list[Floats]:
    """A line in space as runs of (u, z), broken where it passes the back and drawn on as far as that."""
    u, z, half = side.u_of(line[:, :2]), line[:, 2], 0.5 * side.round
    runs, run = [], [(u[0], z[0])]
    for k in range(1, len(u)):
        step = u[k] - u[k - 1]
        if abs(step) > half:
            back = float(np.sign(-step)) * half
            onward = u[k] + 2.0 * back
            share = (back - u[k - 1]) / (onward - u[k - 1]) if onward != u[k - 1] else 0.5
            seam = z[k - 1] + share * (z[k] - z[k - 1])
            runs.append([*run, (back, seam)])
            run = [(-back, seam)]
        run.append((u[k], z[k]))
    return [np.array(each) for each in (*runs, run)]
