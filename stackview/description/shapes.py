"""Shapes of outlines: circle, rectangle, regular polygon, drawn curve.

Lengths in millimetres, angles in degrees, counter-clockwise seen from above. A shape knows its
own exact curve, how far it reaches, its corners, and how its size is said.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from functools import lru_cache
from math import cos, hypot, pi

import numpy as np

from stackview.curves.arcs import Path, area, bounds, farthest, pieces_of, without_points
from stackview.curves.corners import circle, rounded_polygon
from stackview.curves.crossing import crosses_itself
from stackview.curves.fit import reach_outside
from stackview.curves.offset import offset, rounded
from stackview.description.units import Units
from stackview.errors import SolidError
from stackview.one_line import one_line


class Shape(ABC):
    """A closed curve about its own centre. The type checker asks every shape for all of this."""

    __slots__ = ()

    @abstractmethod
    def path(self, grow: float, cutter: float, field: str) -> Path:
        """The exact curve, ``grow`` [mm] larger on every side.

        ``cutter`` is the least radius [mm] of a pocket's corners. Raises SolidError naming
        ``field`` where nothing is left or the cutter does not fit.
        """

    @property
    @abstractmethod
    def inner(self) -> float:
        """Radius of the largest circle about its own centre that lies inside it [mm]."""

    @abstractmethod
    def outer(self, grow: float) -> float:
        """Radius of the smallest circle about its own centre that holds it when grown [mm].

        A cheap, certain test: what does not pass this circle and the inner one cannot fit. What
        passes them is judged on the exact curves when the solids are made.
        """

    @abstractmethod
    def corners(self) -> "AlikeCorners | None":
        """Its corners where they are all alike and could be rounded, else None."""

    @abstractmethod
    def size(self, grow: float, units: Units) -> str:
        """Its size in words when grown."""

    def is_round(self) -> bool:
        """Whether it is a circle about its own centre."""
        return False

    def is_centred(self) -> bool:
        """Whether its narrowest place passes its own centre, so that ``inner`` tells how much of it is left."""
        return True

    def with_corner_radius(self, radius: float) -> "Shape":  # noqa: ARG002
        """The same shape with corners of this radius [mm], where it has corners."""
        return self


@dataclass(frozen=True, slots=True)
class AlikeCorners:
    """AlikeCorners that are all alike: their radius as described [mm], and the angle between their sides [°]."""

    radius: float
    angle: float


@dataclass(frozen=True, slots=True)
class Circle(Shape):
    """A circle about the outline's own centre."""

    diameter: float

    def path(self, grow: float, cutter: float, field: str) -> Path:
        radius = 0.5 * self.diameter + grow
        if radius <= 0.0:
            raise _too_small(field, ("circle of diameter {size}", self.diameter), grow, 0.5 * self.diameter)
        if cutter > radius + 1e-9:
            raise SolidError(
                field,
                "a circle of diameter {size} is smaller than the cutter of radius {cutter} (diameter "
                "{across}): use a cutter of radius {radius:most} at most, or a larger circle",
                size=2.0 * radius,
                cutter=cutter,
                across=2.0 * cutter,
                radius=radius,
            )
        return circle(radius)

    @property
    def inner(self) -> float:
        return self.diameter / 2

    def outer(self, grow: float) -> float:
        return self.diameter / 2 + grow

    def is_round(self) -> bool:
        return True

    def corners(self) -> None:
        return None

    def size(self, grow: float, units: Units) -> str:
        return f"⌀ {units.show(self.diameter + 2.0 * grow)}"


@dataclass(frozen=True, slots=True)
class Rectangle(Shape):
    """A rectangle about its own centre: ``width`` left to right (x), ``depth`` front to back (y)."""

    width: float
    depth: float
    corner_radius: float = 0.0

    def path(self, grow: float, cutter: float, field: str) -> Path:
        x, y = 0.5 * self.width + grow, 0.5 * self.depth + grow
        name = ("rectangle of {size} × {depth}", self.width, self.depth)
        if min(x, y) <= 0.0:
            raise _too_small(field, name, grow, self.inner)
        corner = _corner(self.corner_radius, grow, cutter, min(x, y), name, field)
        return rounded_polygon(np.array(((x, -y), (x, y), (-x, y), (-x, -y))), corner)

    @property
    def inner(self) -> float:
        return min(self.width, self.depth) / 2

    def outer(self, grow: float) -> float:
        radius = max(self.corner_radius + grow, 0.0) if self.corner_radius else 0.0
        return hypot(self.width / 2 + grow - radius, self.depth / 2 + grow - radius) + radius

    def corners(self) -> AlikeCorners:
        return AlikeCorners(self.corner_radius, 90.0)

    def with_corner_radius(self, radius: float) -> "Shape":
        return replace(self, corner_radius=radius)

    def size(self, grow: float, units: Units) -> str:
        return units.span(self.width + 2.0 * grow, self.depth + 2.0 * grow)


@dataclass(frozen=True, slots=True)
class Regular(Shape):
    """A regular polygon with one flat side square to the front (bearing 0°, −y)."""

    sides: int
    across_flats: float
    """Twice the inscribed circle's radius, also where the number of sides is odd [mm]."""
    corner_radius: float = 0.0

    def path(self, grow: float, cutter: float, field: str) -> Path:
        flat = self.inner + grow
        name = (f"{self.sides}-sided shape, {{size}} across flats", self.across_flats)
        if flat <= 0.0:
            raise _too_small(field, name, grow, self.inner)
        corner = _corner(self.corner_radius, grow, cutter, flat, name, field)
        half = np.pi / self.sides
        angle = -0.5 * np.pi + half * (1.0 + 2.0 * np.arange(self.sides))
        corners = flat / np.cos(half) * np.column_stack((np.cos(angle), np.sin(angle)))
        return rounded_polygon(corners, corner)

    @property
    def inner(self) -> float:
        return self.across_flats / 2

    def outer(self, grow: float) -> float:
        # a rounded corner's centre lies on the ray to the corner, `radius` inside both flats
        radius = max(self.corner_radius + grow, 0.0) if self.corner_radius else 0.0
        return (self.across_flats / 2 + grow - radius) / cos(pi / self.sides) + radius

    def corners(self) -> AlikeCorners:
        return AlikeCorners(self.corner_radius, 180.0 - 360.0 / self.sides)

    def with_corner_radius(self, radius: float) -> "Shape":
        return replace(self, corner_radius=radius)

    def size(self, grow: float, units: Units) -> str:
        name = _NAMES.get(self.sides, f"{self.sides} sides")
        return f"{name}, {units.show(self.across_flats + 2.0 * grow)} across flats"


_Name = tuple[str, float] | tuple[str, float, float]
"""A shape in a message that cannot be made: words, and the lengths that stand in them [mm]."""

_NAMES = {3: "triangle", 4: "square", 5: "pentagon", 6: "hexagon", 8: "octagon"}


@dataclass(frozen=True, slots=True)
class Curve(Shape):
    """A closed curve of lines and arcs, counter-clockwise.

    Each vertex is (x, y, bulge); its bulge is tan(sweep / 4) of the arc to the next vertex,
    positive where that arc turns counter-clockwise, 0 for a straight line (the convention of
    DXF polylines, group code 42).
    """

    vertices: tuple[tuple[float, float, float], ...]
    source: str
    """The file it was read from, for messages."""

    __repr__ = one_line

    def path(self, grow: float, cutter: float, field: str) -> Path:
        path = _drawn(self)
        where = crosses_itself(path) if len(path) > 1 else None
        if where is None and (len(path) < 2 or area(path) <= 0.0):
            raise SolidError(
                field,
                f"the curve from {self.source} encloses nothing: draw it as one closed loop, "
                "counter-clockwise",
            )
        if where is not None:
            raise SolidError(
                field,
                "the curve from {source} crosses itself near {where}: draw it as one simple loop",
                source=self.source,
                where=where,
            )
        path = offset(path, grow, field=field)
        return rounded(path, cutter, field) if cutter > 0.0 else path

    def is_centred(self) -> bool:
        return False

    @property
    def inner(self) -> float:
        return max(-_drawn_reach(self), 0.0)

    def outer(self, grow: float) -> float:
        """Exact where not grown, and not too small where inset.

        A point p of the inset has a disc of the inset's width around it inside the curve, so
        |p| + width ≤ the curve's own reach.
        """
        return farthest(_drawn(self)) + grow

    def corners(self) -> None:
        return None

    def size(self, grow: float, units: Units) -> str:
        x0, y0, x1, y1 = bounds(offset(_drawn(self), grow))
        return f"{units.span(units.settled(x1 - x0), units.settled(y1 - y0))} over all"


@lru_cache(maxsize=64)
def _drawn(curve: Curve) -> Path:
    return without_points(np.array(curve.vertices, dtype=np.float64).reshape(-1, 3))


@lru_cache(maxsize=64)
def _drawn_reach(curve: Curve) -> float:
    """Distance of the curve from its own centre [mm], negative where the centre lies inside."""
    return float(reach_outside(np.zeros((1, 2)), pieces_of(_drawn(curve)))[0])


def _corner(radius: float, grow: float, cutter: float, most: float, name: _Name, field: str) -> float:
    """Grow a corner radius, not under the cutter's; ``most`` is the inscribed circle's radius."""
    corner = max(radius + grow, 0.0) if radius > 0.0 else 0.0
    if corner > most + 1e-9:
        raise SolidError(
            field,
            f"a corner radius of {{radius}} is too large for a {name[0]}: {{most:most}} is the most",
            **_sizes(name),
            radius=radius,
            most=most - grow,
        )
    if cutter > most + 1e-9:
        raise SolidError(
            field,
            f"a {name[0]} is too small for a cutter of radius {{cutter}} "
            "(diameter {across}): use one of radius {most:most} at most, or a larger outline",
            **_sizes(name),
            cutter=cutter,
            across=2.0 * cutter,
            most=most,
        )
    return min(max(corner, cutter), most)


def _too_small(field: str, name: _Name, grow: float, most: float) -> SolidError:
    return SolidError(
        field,
        f"an inset of {{inset}} per side leaves nothing of a {name[0]}: it must stay under {{most}}",
        **_sizes(name),
        inset=-grow,
        most=most,
    )


def _sizes(name: _Name) -> dict[str, float]:
    """The lengths in a shape's name: its size, and its depth where it has one."""
    return dict(zip(("size", "depth"), name[1:], strict=False))
