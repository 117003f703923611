"""What the lamp stands on: light and shadow on it, kept as a square grid."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stackview.arrays import Singles
from stackview.stack.placed import Placed
from stackview.stills.emitters import Lights, light_on
from stackview.stills.gather import World, bounced, gather, in_the_dark
from stackview.stills.grid import faded, grid, softened, uncovered

_RAYS = 96
_KEY_RAYS = 48
GROUND_REACH = 2.1
"""Half-width of the grid, in lamp sizes: as far as its shadow runs."""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """Light on the ground over ±``reach`` [mm] about the axis at z = 0.

    ``sky`` (k, k, 3) is relative to open ground (1 where nothing stands near), ``lamp``
    (k, k, 3) the lamp's own light as irradiance over π. Rows run along y.
    """

    sky: Singles
    lamp: Singles
    reach: float


def reach_of(placed: Sequence[Placed]) -> float:
    """How far the grid has to reach for this lamp [mm]."""
    sizes = [np.abs(part.solid.vertices).max(axis=0) for part in placed if not part.is_cord]
    x, y, z = np.max(sizes, axis=0) if sizes else (50.0, 50.0, 50.0)
    return float(GROUND_REACH * max(2 * x, 2 * y, z))


class GroundBaking:
    """The ground while it is being baked: its sky first, the lamp's light when all else is known."""

    def __init__(self, world: World, reach: float) -> None:
        self.reach = reach
        self.at = grid(reach)
        self.up = np.tile(np.array([[0, 0, 1]], np.float32), (len(self.at), 1))
        self.covered = in_the_dark(self.at, self.up, world)
        self.around = gather(self.at, self.up, world, rays=_RAYS, key=_KEY_RAYS)
        far = np.array([[1e5, 0, 0.1]], np.float32)
        self.open_sky = gather(far, self.up[:1], world, rays=_RAYS, key=_KEY_RAYS).sky

    def sky(self, extra: Singles | None = None) -> Singles:
        """Give the sky's light (k, k, 3) relative to open ground."""
        total = self.around.sky if extra is None else self.around.sky + extra
        return faded(softened(uncovered(total / self.open_sky, self.covered)), 1.0)

    def ground(self, world: World, lamp: Lights, from_walls: Singles, from_panes: Singles) -> Ground:
        """Finish the ground, with what walls and panes send to it."""
        extra = bounced(self.around, from_walls, from_panes)
        own = light_on(self.at, self.up, lamp, world.walls, world.panes) + extra[:, 3:]
        return Ground(self.sky(extra[:, :3]), faded(softened(uncovered(own, self.covered)), 0.0), self.reach)
