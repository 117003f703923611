"""Upright walls over a polygon whose top or underside edge may be bevelled, as explicit meshes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import manifold3d
import numpy as np

from stackview.arrays import Floats, Whole
from stackview.errors import SolidError
from stackview.solids.solid import Face
from stackview.solids.wavefront import Closed, Swept, swept

LABELS = 16
"""A face's number is its running number times this plus its label, so that each flat face has its own."""


@dataclass(frozen=True, slots=True)
class Bevel:
    """``width`` along the face and ``height`` along the wall [mm]; ``name`` for messages."""

    width: float
    height: float
    name: str


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """A closed mesh on its way to the booleans: vertices (n, 3), triangles (m, 3), face numbers (m,)."""

    vertices: Floats
    triangles: Whole
    numbers: Whole

    def manifold(self) -> manifold3d.Manifold:
        """Hand the block over in double precision, its face numbers kept."""
        made = manifold3d.Manifold(
            manifold3d.Mesh64(
                self.vertices,
                self.triangles.astype(np.uint64),
                face_id=self.numbers.astype(np.uint64),
            )
        )
        if made.status() != manifold3d.Error.NoError:
            raise SolidError("outline", f"the shape does not close to a solid ({made.status().name})")
        return made


@dataclass(frozen=True, slots=True, eq=False)
class Wall:
    """One wall all the way round, open above and below, with the rings (k,) of its lower and upper end."""

    vertices: Floats
    triangles: Whole
    numbers: Whole
    low: Whole
    high: Whole

    def flipped(self) -> "Wall":
        """Turn the wall inside out."""
        return replace(self, triangles=self.triangles[:, ::-1], low=self.low[::-1], high=self.high[::-1])


def wall(
    polygon: Floats,
    z: tuple[float, float],
    face: Face,
    lower: Bevel | None = None,
    upper: Bevel | None = None,
    first: int = 2,
) -> Wall:
    """Raise the wall over ``polygon`` (n, 2) from z[0] to z[1] [mm], the solid to the left of its edges.

    A bevel sets the wall back along its end's face, into the solid. Face numbers run from
    ``first``. Raises SolidError where a bevel is too large, with the largest that fits.
    """
    n = len(polygon)
    _check_heights(z, lower, upper)
    z_low = z[0] + lower.height if lower else z[0]
    z_high = z[1] - upper.height if upper else z[1]
    edge = z_high <= z_low + 1e-9  # the two bevels meet: no upright wall is left
    ring = np.arange(n)
    low, high = ring, ring if edge else ring + n
    vertices = [
        np.column_stack((polygon, np.full(n, level))) for level in ((z_low,) if edge else (z_low, z_high))
    ]
    triangles: list[Whole] = []
    numbers: list[Whole] = []
    if not edge:
        ahead = np.append(ring[1:], 0)
        triangles += [np.column_stack((ring, ahead, ahead + n)), np.column_stack((ring, ahead + n, ring + n))]
        numbers += [(first + ring) * LABELS + face] * 2
    count = n if edge else 2 * n
    for bevel, base, z_from, way in ((lower, low, z_low, -1), (upper, high, z_high, 1)):
        if bevel is None:
            continue
        first += n
        strip = _strip(polygon, bevel)
        index = np.concatenate((base, count + np.arange(len(strip.points) - n)))
        rise = z_from + way * strip.way[n:] * (bevel.height / bevel.width)
        rise[strip.last - n] = z[0] if way < 0 else z[1]
        vertices.append(np.column_stack((strip.points[n:], rise)))
        triangles.append(index[strip.triangles][:, ::way])
        numbers.append((first + strip.edge) * LABELS + Face.CHAMFER)
        count += len(strip.points) - n
        low, high = (index[strip.last], high) if way < 0 else (low, index[strip.last])
    return Wall(np.concatenate(vertices), np.concatenate(triangles), np.concatenate(numbers), low, high)


def _strip(polygon: Floats, bevel: Bevel) -> Swept:
    try:
        return swept(polygon, bevel.width)
    except Closed as closed:
        raise SolidError(
            "chamfer",
            f"{bevel.name} chamfer of width {{width0}} is too large for its outline: "
            "the largest that fits is just under {most0:most}",
            width0=bevel.width,
            most0=closed.limit,
        ) from None


def _check_heights(z: tuple[float, float], lower: Bevel | None, upper: Bevel | None) -> None:
    """Bevels of one edge may use up the thickness but not more."""
    thick = z[1] - z[0]
    bevels = [b for b in (lower, upper) if b is not None]
    total = sum(b.height for b in bevels)
    if total <= thick + 1e-9:
        return
    bevel = max(bevels, key=lambda b: b.height)
    spare = thick - (total - bevel.height)
    largest = max(spare, 0.0) * bevel.width / bevel.height
    both = ", and {total} together with the other edge's" if len(bevels) > 1 else ""
    raise SolidError(
        "chamfer",
        f"{bevel.name} chamfer of width {{width0}} is {{height}} high{both}: "
        "more than the thickness of {thick}. The largest width that fits is {most0:most}",
        width0=bevel.width,
        height=bevel.height,
        total=total,
        thick=thick,
        most0=largest,
    )


def block(walls: Sequence[Wall], caps: tuple[Face, Face] = (Face.UNDERSIDE, Face.TOP)) -> Block:
    """Walls closed below and above into one solid; the first is the outer one, the others are holes."""
    start = np.cumsum([0] + [len(w.vertices) for w in walls])
    vertices = np.concatenate([w.vertices for w in walls])
    lows = [w.low + s for w, s in zip(walls, start[:-1], strict=True)]
    highs = [w.high + s for w, s in zip(walls, start[:-1], strict=True)]
    below = triangles_over(vertices, lows)
    same = all(np.array_equal(w.vertices[w.low, :2], w.vertices[w.high, :2]) for w in walls)
    above = np.concatenate(highs)[below[1]] if same else triangles_over(vertices, highs)[0]
    triangles = [w.triangles + s for w, s in zip(walls, start[:-1], strict=True)]
    return Block(
        vertices,
        np.concatenate([below[0][:, ::-1], above, *triangles]),
        np.concatenate(
            [
                np.full(len(below[0]), int(caps[0])),
                np.full(len(above), LABELS + int(caps[1])),
                *numbers_apart([w.numbers for w in walls]),
            ]
        ),
    )


def numbers_apart(numbers: list[Whole]) -> list[Whole]:
    """Face numbers of several walls made different from each other."""
    out, base = [], 0
    for own in numbers:
        out.append(own + base)
        base += int(own.max()) // LABELS * LABELS + LABELS
    return out


def triangles_over(vertices: Floats, rings: list[Whole]) -> tuple[Whole, Whole]:
    """Triangles over rings, as vertex numbers and as places in the rings joined end to end."""
    places = np.asarray(manifold3d.triangulate([vertices[r, :2] for r in rings])).astype(np.int64)
    return np.concatenate(rings)[places], places
