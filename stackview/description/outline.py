"""Outlines as described: the closed curve a layer, opening or recess is cut to.

Lengths in millimetres, angles in degrees, counter-clockwise seen from above.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle about the outline's own centre."""

    diameter: float


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle about its own centre: ``width`` left to right (x), ``depth`` front to back (y)."""

    width: float
    depth: float
    corner_radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Regular:
    """A regular polygon with one flat side square to the front (bearing 0°, −y)."""

    sides: int
    across_flats: float
    """Twice the inscribed circle's radius, also where the number of sides is odd [mm]."""
    corner_radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Curve:
    """A closed curve of lines and arcs, counter-clockwise.

    Each vertex is (x, y, bulge); its bulge is tan(sweep / 4) of the arc to the next vertex,
    positive where that arc turns counter-clockwise, 0 for a straight line (the convention of
    DXF polylines, group code 42).
    """

    vertices: tuple[tuple[float, float, float], ...]
    source: str
    """The file it was read from, for messages."""


Shape = Circle | Rectangle | Regular | Curve


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

    def grown(self, by: float) -> "Outline":
        """The same outline, ``by`` [mm] larger on every side."""
        return replace(self, grow=self.grow + by)

    def turned(self, by: float) -> "Outline":
        """The same outline turned ``by`` [°] about its own centre, counter-clockwise."""
        return replace(self, turn=self.turn + by)


@dataclass(frozen=True, slots=True)
class Around:
    """``count`` copies evenly spaced on a circle about the lamp's axis, the first at ``first`` [°].

    ``first`` is a bearing: 0° front (−y), 90° right (+x).
    """

    count: int
    circle: float
    """Diameter of the circle that the copies' centres stand on [mm]."""
    first: float = 0.0
