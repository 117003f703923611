"""Joints: where the level faces of two parts touch, straight from the meshes as they stand."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.by_value import by_value, mark
from stackview.description.lamp import Lamp
from stackview.description.service import Glue
from stackview.solids.solid import Solid
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed

_LEVEL = 1e-6
"""Faces within this height of each other touch [mm]."""
_LEAST = 1.0
"""Parts of a joint smaller than this are slivers between facets [mm²]."""
_KEPT = 16_000_000
"""Level faces, and what pairs of parts share of them, kept for further variants of a lamp, each [bytes]."""


@dataclass(frozen=True, slots=True, repr=False)
class JointPiece:
    """One connected piece of a joint: its shape [mm] and its narrowest width [mm].

    A piece without a hole has no narrowest width. ``open_edges`` are the inner edges that look into an opening, (k, 2)
    each, clockwise; ``to_groove`` says whether any edge looks at a groove.
    """

    shape: shapely.Polygon
    narrowest: float | None
    open_edges: tuple[Floats, ...]
    to_groove: bool

    def __post_init__(self) -> None:
        for edge in self.open_edges:
            edge.setflags(write=False)

    @property
    def area(self) -> float:
        """What it covers [mm²]."""
        return float(self.shape.area)

    @property
    def length(self) -> float:
        """Its midline [mm]: half of all edges together, exact for a band between two parallel curves."""
        return float(self.shape.length) / 2.0

    @property
    def width(self) -> float:
        """Mean width [mm]."""
        return self.area / self.length

    def within(self, band: float) -> tuple[float, float] | None:
        """Area [mm²] and midline [mm] of a band so wide along its outer edge; None where that is all of the piece.

        The midline is half of the band's own edges: of a disc's, 2π·(R − band/2).

        >>> (disc,) = strips_of(shapely.Point(0, 0).buffer(50, 256))
        >>> tuple(round(float(value / np.pi)) for value in disc.within(20))
        (1600, 80)
        """
        inside = shapely.buffer(shapely.Polygon(self.shape.exterior), -band)
        glued = shapely.difference(self.shape, inside)
        if self.area - glued.area < _LEAST:
            return None
        return float(glued.area), float(glued.length) / 2.0

    def __repr__(self) -> str:
        """One line, without the edges."""
        return f"JointPiece({self.area:.0f} mm², {self.length:.1f} mm long, {self.width:.2f} mm wide)"


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Joint:
    """Two parts that touch at one height [mm].

    ``carries`` and ``rests`` are the whole faces that meet there, ``area`` what they share.
    """

    lower: Placed
    upper: Placed
    height: float
    carries: shapely.Geometry
    rests: shapely.Geometry
    area: shapely.Geometry
    strips: tuple[JointPiece, ...]

    @property
    def name(self) -> str:
        """The joint as a maker would call it."""
        return f"{self.upper.name} on {self.lower.name}"

    def __repr__(self) -> str:
        """One line, without the areas."""
        area = sum(strip.area for strip in self.strips)
        return f'Joint("{self.name}", {area:.0f} mm², strips: {len(self.strips)}, at {self.height:g} mm)'


@lru_cache(maxsize=4)
def joints(stack: Stack) -> tuple[Joint, ...]:
    """Every joint between layers and core, from the bottom up."""
    parts = [part for part in stack.placed if part.is_jointed]
    found: list[Joint] = []
    for lower in parts:
        for upper in parts:
            if upper is lower or upper.underside >= lower.top + _LEVEL or upper.top <= lower.underside:
                continue
            low, high = lower.solid, upper.solid
            found.extend(
                Joint(lower, upper, one.height + low.lift, one.carries, one.rests, one.area, one.strips)
                for one in _touching(low.ground, high.ground, high.lift - low.lift)
            )
    return tuple(sorted(found, key=lambda joint: (joint.height, joint.name)))


def glued_joints(stack: Stack) -> tuple[Joint, ...]:
    """The joints that are glued: all but those of layers that the lamp's file names loose."""
    holds = stack.lamp.gluing.holds
    return tuple(joint for joint in joints(stack) if holds(joint.lower.name, joint.upper.name))


def glue_of(lamp: Lamp, joint: Joint) -> Glue:
    """The glue of a joint that is glued, by what its two parts are made of."""
    both = (joint.lower.material, joint.upper.material)
    if any(material.is_acrylic for material in both):
        return lamp.gluing.acrylic
    return lamp.gluing.wood if all(material.is_wooden for material in both) else lamp.gluing.other


@dataclass(frozen=True, slots=True, eq=False)
class _Touching:
    """What a joint is without its parts' names and places; its height is above where the lower one was made."""

    height: float
    carries: shapely.Geometry
    rests: shapely.Geometry
    area: shapely.Geometry
    strips: tuple[JointPiece, ...]


def _points(areas: list[shapely.Geometry]) -> int:
    return int(24 * shapely.get_num_coordinates(areas).sum())


@by_value(
    _KEPT,
    # The pieces hold the shared area once more.
    size=lambda found: (
        2 * _points([area for one in found for area in (one.carries, one.rests, one.area, one.area)])
    ),
    key=lambda lower, upper, rise: (mark(lower), mark(upper), rise),
)
def _touching(lower: Solid, upper: Solid, rise: float) -> tuple[_Touching, ...]:
    """Where two solids touch when the upper one is lifted by ``rise`` [mm]: the same at any height of the pair."""
    found = []
    for height, carries in level_areas(lower, upwards=True):
        for level, rests in level_areas(upper, upwards=False):
            if abs(height - level - rise) > _LEVEL:
                continue
            area = shapely.intersection(carries, rests)
            strips = strips_of(area)
            if strips:
                found.append(_Touching(height, carries, rests, area, strips))
    return tuple(found)


def strips_of(area: shapely.Geometry) -> tuple[JointPiece, ...]:
    """The connected pieces of a contact area, slivers left out.

    An edge round another piece, or a piece's edge within another's, looks at a groove.

    >>> ring = shapely.Point(0, 0).buffer(20, 64).difference(shapely.Point(0, 0).buffer(15, 64))
    >>> (strip,) = strips_of(ring)
    >>> round(strip.narrowest, 2), round(strip.width, 2), len(strip.open_edges)
    (5.0, 5.0, 1)
    """
    pieces = [
        piece
        for piece in shapely.get_parts(shapely.get_parts(area))
        if piece.geom_type == "Polygon" and piece.area > _LEAST
    ]
    insides = [[shapely.Polygon(ring) for ring in piece.interiors] for piece in pieces]
    found = []
    for index, piece in enumerate(pieces):
        others = [other for k, other in enumerate(pieces) if k != index]
        within = any(hole.contains(piece) for k, holes in enumerate(insides) if k != index for hole in holes)
        open_edges, closed = [], within
        for ring, hole in zip(piece.interiors, insides[index], strict=True):
            if any(hole.contains(other) for other in others):
                closed = True
            else:
                open_edges.append(np.asarray(ring.coords)[:-1])
        edges = [np.asarray(edge) for edge in open_edges]
        narrow = [piece.exterior.distance(ring) for ring in piece.interiors]
        found.append(
            JointPiece(
                piece,
                float(min(narrow)) if narrow else None,
                tuple(edges),
                closed,
            )
        )
    return tuple(found)


@by_value(
    _KEPT,
    size=lambda faces: _points([area for _, area in faces]),
    key=lambda solid, *, upwards: (mark(solid), upwards),
)
def level_areas(solid: Solid, *, upwards: bool) -> tuple[tuple[float, shapely.Geometry], ...]:
    """Height and area of each level face of a solid that looks up (or down)."""
    corners = solid.vertices[solid.triangles]
    heights = corners[:, :, 2]
    level = np.ptp(heights, axis=1) < _LEVEL
    a, b, c = (corners[level, k, :2] for k in range(3))
    turn = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    chosen = turn > 0.0 if upwards else turn < 0.0
    flat, height = corners[level][chosen][:, :, :2], heights[level][chosen].mean(axis=1)
    found = []
    for value in np.unique(np.round(height, 6)):
        own = np.abs(height - value) < _LEVEL
        found.append((float(height[own][0]), shapely.coverage_union_all(shapely.polygons(flat[own]))))
    return tuple(found)
