"""Outlines as described: the closed curve a layer, opening or recess is cut to.

Lengths in millimetres, angles in degrees, counter-clockwise seen from above.
"""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from stackview.curves.arcs import Path, moved, turned
from stackview.description.shapes import Shape
from stackview.description.units import Units
from stackview.one_line import one_line


@dataclass(frozen=True, slots=True)
class Outline:
    """A shape, grown by ``grow`` per side, turned by ``turn``, then moved to ``at``.

    Growing keeps sharp corners sharp and changes a corner radius q to q + grow, as a size
    step does; a negative ``grow`` insets, as a wall does. ``cutter_radius`` is the smallest
    radius that the cutter leaves in an inside corner of a pocket cut to this outline
    (0 for the outside of a part).
    """

    shape: Shape
    grow: float = 0.0
    turn: float = 0.0
    at: tuple[float, float] = (0.0, 0.0)
    cutter_radius: float = 0.0

    __repr__ = one_line

    def grown(self, by: float) -> "Outline":
        """The same outline, ``by`` [mm] larger on every side."""
        return replace(self, grow=self.grow + by)

    def turned(self, by: float) -> "Outline":
        """The same outline turned ``by`` [°] about its own centre, counter-clockwise."""
        return replace(self, turn=self.turn + by)

    @property
    def radius(self) -> float | None:
        """Radius of a round outline [mm]; None for any other."""
        return self.shape.inner + self.grow if self.shape.is_round() else None

    @property
    def inner_reach(self) -> float:
        """Radius of the largest circle about the outline's own centre that lies inside it [mm].

        Exact for circles, rectangles and polygons at any growth, and for curves not grown; 0 or
        less where nothing is left. A curve's circle is 0 if its centre lies outside it.

        >>> from stackview.description.shapes import Rectangle
        >>> Outline(Rectangle(150, 90), grow=-14).inner_reach
        31.0
        """
        return self.shape.inner + self.grow

    @property
    def narrowest(self) -> float:
        """How wide it is across its own centre at its narrowest [mm]; ∞ for a curve, which may lie beside its centre.

        What is left of a curve is only known once it is cut.
        """
        return 2.0 * self.inner_reach if self.shape.is_centred() else math.inf

    @property
    def outer_reach(self) -> float:
        """Radius of the smallest circle about the outline's own centre that holds it [mm].

        >>> from stackview.description.shapes import Rectangle
        >>> Outline(Rectangle(6, 8)).outer_reach
        5.0
        """
        return self.shape.outer(self.grow)

    def size(self, units: Units) -> str:
        """How large it is, in words.

        >>> from stackview.description.shapes import Regular
        >>> Outline(Regular(6, 100), grow=-2).size(Units("mm"))
        'hexagon, 96 mm across flats'
        """
        return self.shape.size(self.grow, units)


@dataclass(frozen=True, slots=True)
class Around:
    """``count`` copies evenly spaced on a circle about the lamp's axis, the first at ``first`` [°].

    ``first`` is a bearing: 0° front (−y), 90° right (+x).
    """

    count: int
    circle: float
    """Diameter of the circle that the copies' centres stand on [mm]."""
    first: float = 0.0


@lru_cache(maxsize=512)
def path_of(outline: Outline, field: str = "outline") -> Path:
    """Make the exact curve of an outline: grown, its corners as the cutter leaves them, turned and moved.

    Sharp corners stay sharp and a corner radius q becomes q + grow (sharp if that is not
    positive); a curve is offset exactly, line by line and arc by arc. Raises SolidError naming
    ``field`` where nothing is left, the curve crosses itself or the cutter does not fit.
    """
    path = outline.shape.path(outline.grow, outline.cutter_radius, field)
    turn = 0.0 if outline.shape.is_round() else outline.turn
    return moved(turned(path, turn), *outline.at)


def around(path: Path, copies: Around | None) -> tuple[Path, ...]:
    """Copy a path around the axis: each moved to the front of the circle, then turned with its bearing."""
    if copies is None:
        return (path,)
    front = moved(path, 0.0, -0.5 * copies.circle)
    return tuple(turned(front, copies.first + 360.0 * k / copies.count) for k in range(copies.count))
