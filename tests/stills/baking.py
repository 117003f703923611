"""A lamp with its light, baked afresh: neither looked up in memory nor on disk."""

from collections.abc import Sequence

from stackview.light.points import LightPoints
from stackview.stack.placed import Placed
from stackview.stills.bake import Baked, light_of, put_together
from stackview.stills.coloured_mesh import ColouredMesh


def bake(
    placed: Sequence[Placed],
    points: LightPoints,
    ribbons: Sequence[ColouredMesh] = (),
    *,
    ground: bool = True,
) -> Baked:
    return put_together(placed, points, ribbons, light_of(placed, points, ribbons, ground=ground))
