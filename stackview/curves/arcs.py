"""Exact closed curves of lines and arcs, and what can be measured on them without facets.

Lengths in millimetres. A curve runs counter-clockwise, so that its inside lies to the left.
"""

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, read_only

_STRAIGHT = 1e-12
"""A bulge smaller than this is a straight line: its sagitta is under 1e-12 of half its chord."""


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """A closed curve of lines and arcs, counter-clockwise; read-only.

    vertices : (n, 3) of x, y [mm] and the bulge of the piece to the next vertex. The bulge is
    tan(sweep / 4), positive where the arc turns counter-clockwise, 0 for a line (the
    convention of DXF polylines, group code 42).

    Two curves of the same numbers, to the bit, are one value: what is kept of a curve serves its copies, and those
    of a lamp's variants.
    """

    vertices: Floats
    _hash: int = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self.vertices.setflags(write=False)
        object.__setattr__(self, "_hash", hash(self.vertices.tobytes()))

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        if not isinstance(other, Path):
            return NotImplemented
        return self._hash == other._hash and self.vertices.tobytes() == other.vertices.tobytes()

    def __len__(self) -> int:
        return len(self.vertices)


@dataclass(frozen=True, slots=True, eq=False)
class Pieces:
    """The lines and arcs of a path, one row a piece.

    start, end, centre : (n, 2) [mm]; radius : (n,) [mm]; first : (n,) angle of the start seen
    from the centre [rad]; sweep : (n,) [rad], positive counter-clockwise; arc : (n,) bool.
    Centre, radius, first and sweep are 0 for lines.
    """

    start: Floats
    end: Floats
    centre: Floats
    radius: Floats
    first: Floats
    sweep: Floats
    arc: NDArray[np.bool_]

    def __post_init__(self) -> None:
        read_only(getattr(self, name) for name in self.__slots__)

    def __len__(self) -> int:
        return len(self.radius)

    def at(self, piece: NDArray[np.int64], share: Floats) -> Floats:
        """Points (k, 2) on the given pieces, at the given shares (0 to 1) of their length."""
        start, centre = self.start[piece], self.centre[piece]
        straight = start + share[:, None] * (self.end[piece] - start)
        angle = self.first[piece] + share * self.sweep[piece]
        round_ = centre + self.radius[piece][:, None] * np.column_stack((np.cos(angle), np.sin(angle)))
        return np.where(self.arc[piece][:, None], round_, straight)


GONE = 1e-9
"""A piece shorter than this [mm] is a point."""


def without_points(rows: Floats, shortest: float = GONE) -> Path:
    """Make a path of rows (n, 3) of x, y and bulge, leaving out pieces no longer than ``shortest`` [mm]."""
    step = np.concatenate((rows[1:], rows[:1]))[:, :2] - rows[:, :2]
    return Path(rows[np.hypot(step[:, 0], step[:, 1]) > shortest])


@lru_cache(maxsize=512)
def pieces_of(path: Path) -> Pieces:
    """Split a path into its lines and arcs."""
    x = path.vertices[:, :2]
    return pieces_between(x, np.concatenate((x[1:], x[:1])), path.vertices[:, 2])


def pieces_between(x: Floats, end: Floats, bulge: Floats) -> Pieces:
    """Lines and arcs from points (n, 2) to others (n, 2) [mm], with their bulges (n,).

    The centre stands (1 − b²)/(4b) chords to the left of the chord's middle and the radius is
    (1 + b²)/(4|b|) chords, from tan(sweep/4) = b and the double-angle relations.

    >>> half = pieces_between(np.array([[1.0, 0.0]]), np.array([[-1.0, 0.0]]), np.array([1.0]))
    >>> half.centre.tolist(), half.radius.tolist()
    ([[0.0, 0.0]], [1.0])
    """
    arc = np.abs(bulge) > _STRAIGHT
    if not arc.any():
        zero = np.zeros(len(x))
        return Pieces(x, end, np.zeros_like(x), zero, zero, zero, arc)
    safe = np.where(arc, bulge, 1.0)
    chord = end - x
    left = np.column_stack((-chord[:, 1], chord[:, 0]))
    centre = 0.5 * (x + end) + left * ((1.0 - safe * safe) / (4.0 * safe))[:, None]
    centre = np.where(arc[:, None], centre, 0.0)
    radius = np.where(
        arc, np.hypot(chord[:, 0], chord[:, 1]) * (1.0 + safe * safe) / (4.0 * np.abs(safe)), 0.0
    )
    spoke = x - centre
    first = np.where(arc, np.arctan2(spoke[:, 1], spoke[:, 0]), 0.0)
    return Pieces(x, end, centre, radius, first, np.where(arc, 4.0 * np.arctan(bulge), 0.0), arc)


def length(path: Path) -> float:
    """Length of the curve [mm]."""
    p = pieces_of(path)
    chord = p.end - p.start
    return float(np.sum(np.where(p.arc, p.radius * np.abs(p.sweep), np.hypot(chord[:, 0], chord[:, 1]))))


def area(path: Path) -> float:
    """Area enclosed [mm²], positive for a counter-clockwise curve.

    Shoelace formula for the chords plus r²(θ − sin θ)/2 for the segment of circle beside each
    arc's chord (Bronshtein, Handbook of Mathematics, plane geometry: circular segment).
    """
    p = pieces_of(path)
    cross = p.start[:, 0] * p.end[:, 1] - p.end[:, 0] * p.start[:, 1]
    return float(0.5 * np.sum(cross) + np.sum(_segment_areas(p)))


def _segment_areas(p: Pieces) -> Floats:
    return 0.5 * p.radius**2 * (p.sweep - np.sin(p.sweep))


@lru_cache(maxsize=512)
def bounds(path: Path) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of the curve [mm]."""
    low, high = piece_bounds(pieces_of(path))
    (x0, y0), (x1, y1) = low.min(axis=0), high.max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)


@lru_cache(maxsize=512)
def piece_bounds(p: Pieces) -> tuple[Floats, Floats]:
    """Lowest and highest corner (n, 2) of the box about each piece [mm]."""
    low, high = np.minimum(p.start, p.end), np.maximum(p.start, p.end)
    if not p.arc.any():
        read_only((low, high))
        return low, high
    for quarter, axis in ((0.0, 0), (0.5 * np.pi, 1), (np.pi, 0), (1.5 * np.pi, 1)):
        passed = p.arc & (share_of_angle(p, np.full(len(p), quarter)) < 1.0)
        side = 1.0 if quarter < np.pi else -1.0
        extreme = p.centre[:, axis] + side * p.radius
        target = high if side > 0 else low
        pick = np.maximum if side > 0 else np.minimum
        target[:, axis] = np.where(passed, pick(target[:, axis], extreme), target[:, axis])
    read_only((low, high))
    return low, high


def share_of_angle(p: Pieces, angle: Floats) -> Floats:
    """Share of each arc's sweep at which it points in ``angle`` [rad]; over 1 where it never does.

    ``angle`` broadcasts against the pieces' first axis, e.g. (n,) or (k, n).
    """
    way = np.where(p.sweep < 0.0, -1.0, 1.0)
    turned = np.mod((angle - p.first) * way, 2.0 * np.pi)
    share: Floats = turned / np.where(p.arc, np.abs(p.sweep), 1.0)
    return share


def disc_about(path: Path) -> tuple[Floats, float]:
    """Centre (2,) and radius of a circle about the curve: that about its bounding box [mm]."""
    x0, y0, x1, y1 = bounds(path)
    return np.array((0.5 * (x0 + x1), 0.5 * (y0 + y1))), 0.5 * float(np.hypot(x1 - x0, y1 - y0))


def farthest(path: Path) -> float:
    """Greatest distance of the curve from the origin [mm]: at a joint, or where an arc's centre lies."""
    p = pieces_of(path)
    away = np.hypot(p.start[:, 0], p.start[:, 1])
    beyond = p.arc & (share_of_angle(p, np.arctan2(p.centre[:, 1], p.centre[:, 0])) <= 1.0)
    round_ = np.hypot(p.centre[:, 0], p.centre[:, 1]) + p.radius
    return float(np.where(beyond, np.maximum(away, round_), away).max())


_MANY_ARCS = 24
"""A curve of more arcs than this gets its facets joined across them."""


def polygon(path: Path, chord_error: float) -> Floats:
    """Facets of a path: (k, 2) points on the curve, no facet farther than ``chord_error`` from it.

    Each arc is divided evenly, a full circle into a multiple of four facets. A curve of many
    short arcs, as a drawing gives, would so get more facets than it needs: there, facets of a
    tenth of the error are joined as long as the rest of it allows (Douglas and Peucker 1973,
    by shapely; a tenth and nine tenths add up to the whole).
    """
    p = pieces_of(path)
    if not p.arc.any():
        return np.array(path.vertices[:, :2])
    if np.count_nonzero(p.arc) <= _MANY_ARCS:
        return _facets(p, chord_error)
    import shapely

    fine = shapely.linearrings(_facets(p, 0.1 * chord_error))
    return np.array(
        shapely.get_coordinates(shapely.simplify(fine, 0.9 * chord_error, preserve_topology=False))[:-1]
    )


def _facets(p: Pieces, chord_error: float) -> Floats:
    """Each arc divided evenly.

    A facet that spans the angle φ of a circle of radius r lies r(1 − cos(φ/2)) inside it at
    most (sagitta of a chord), so φ ≤ 2·acos(1 − e/r). An arc gets a facet a quarter turn at
    least.
    """
    shrink = 1.0 - chord_error / np.where(p.arc, np.maximum(p.radius, chord_error), 1.0)
    step = np.minimum(2.0 * np.arccos(np.clip(shrink, -1.0, 1.0)), 0.5 * np.pi)
    # A hair of slack keeps an arc that needs exactly k facets from getting k + 1 by rounding.
    count = np.where(p.arc, np.ceil(np.abs(p.sweep) / np.where(p.arc, step, 1.0) - 1e-9), 1).astype(np.int64)
    count = np.maximum(count, 1)
    piece = np.repeat(np.arange(len(p)), count)
    place = np.arange(len(piece)) - np.repeat(np.cumsum(count) - count, count)
    points = p.at(piece, place / count[piece])
    points[place == 0] = p.start
    return points


def backwards(path: Path) -> Path:
    """The same curve run through the other way; each bulge moves to its piece's other end."""
    x, bulge = path.vertices[::-1, :2], path.vertices[::-1, 2]
    return Path(np.column_stack((x, -np.roll(bulge, -1))))


def moved(path: Path, x: float, y: float) -> Path:
    """Shift a path by (x, y) [mm]."""
    return Path(path.vertices + np.array((x, y, 0.0))) if x or y else path


def turned(path: Path, by: float) -> Path:
    """Turn a path counter-clockwise by ``by`` [°] about the origin."""
    if by % 360.0 == 0.0:
        return path
    cos, sin = cos_sin(by)
    x, y, bulge = path.vertices.T
    return Path(np.column_stack((cos * x - sin * y, sin * x + cos * y, bulge)))


def cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine of an angle [°], exact at multiples of 90°.

    >>> cos_sin(90.0), cos_sin(-90.0), cos_sin(540.0)
    ((0.0, 1.0), (0.0, -1.0), (-1.0, 0.0))
    """
    quarters, rest = divmod(degrees, 90.0)
    angle = np.radians(rest)
    cos, sin = (float(np.cos(angle)), float(np.sin(angle))) if rest else (1.0, 0.0)
    c, s = ((cos, sin), (-sin, cos), (-cos, -sin), (sin, -cos))[int(quarters) % 4]
    return c + 0.0, s + 0.0  # adding 0 turns -0.0 into 0.0
