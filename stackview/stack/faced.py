"""Parts with the level faces of each of their pieces: what may stand on what."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from stackview.by_value import by_value, mark
from stackview.description.lamp import FaceSide, Lamp, Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.solids.level_faces import LevelFace, level_faces
from stackview.solids.measure import volume
from stackview.solids.solid import Solid
from stackview.stack.placed import Placed
from stackview.stack.uprights import cross_section


@dataclass(frozen=True, slots=True, eq=False)
class FacedPart:
    """A part, its pieces, and the faces of each."""

    part: Placed
    shape: Layer
    undersides: tuple[tuple[LevelFace, ...], ...]
    tops: tuple[tuple[LevelFace, ...], ...]
    pieces: tuple[Solid, ...]

    def sharp(self, side: FaceSide) -> tuple[tuple[LevelFace, ...], ...]:
        """The faces of each piece as they were before bevels and grooves."""
        return level_faces(replace(self.shape, grooves=(), chamfers=()), side)

    @property
    def grams(self) -> float:
        """Mass [g]."""
        return volume(self.part.solid) * self.part.material.density * 1e-6


def shaped(lamp: Lamp, placed: Sequence[Placed]) -> Iterable[tuple[Placed, Layer]]:
    """Every part but the cord, with the layer that has its faces."""
    known = {layer.name: layer for layer in lamp.layers}
    posts = {post.name: post for post in lamp.posts}
    for number, part in enumerate(placed):
        high = part.top - part.underside
        if number < len(lamp.layers):
            yield part, known[part.name]
        elif part.is_core and lamp.core is not None:
            yield part, cross_section(lamp.core, high)
        elif part.is_post:
            post = posts[part.name]
            yield part, Layer(part.name, part.material, high, post.outline, post.around)
        elif part.is_foot and lamp.feet is not None:
            outline = Outline(Circle(lamp.feet.diameter))
            yield part, Layer(part.name, part.material, high, outline, lamp.feet.around)


def faced(part: Placed, shape: Layer) -> FacedPart:
    """A part with the faces of its pieces, by the layer that has them."""
    count = shape.around.count if shape.around else 1
    return FacedPart(
        part,
        shape,
        level_faces(shape, "underside"),
        level_faces(shape, "top"),
        _pieces(part.solid.ground, count),
    )


@by_value(1_000_000, size=lambda solids: sum(solid.bytes for solid in solids), key=lambda s, n: (mark(s), n))
def _pieces(solid: Solid, count: int) -> tuple[Solid, ...]:
    """The pieces of a solid that was copied around the axis: equal runs of its vertices, in order."""
    if count == 1:
        return (solid,)
    n, m = len(solid.vertices) // count, len(solid.triangles) // count
    return tuple(
        Solid(
            solid.vertices[k * n : (k + 1) * n].copy(),
            solid.triangles[k * m : (k + 1) * m] - k * n,
            solid.faces[k * m : (k + 1) * m].copy(),
        )
        for k in range(count)
    )
