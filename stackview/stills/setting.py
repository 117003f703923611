"""What stands before the camera: the lamp as built, lifted up, spread apart, or cut in half."""

from dataclasses import dataclass, replace

import numpy as np

from stackview.glow.flux import flux_of
from stackview.light.layout import LightLayout
from stackview.light.points import LightPoints
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stills.coloured_mesh import ColouredMesh, strip_mesh


@dataclass(frozen=True, slots=True, eq=False)
class Setting:
    """Parts, light points and strips where they stand, and whether there is ground under them."""

    placed: tuple[Placed, ...]
    points: LightPoints
    ribbons: tuple[ColouredMesh, ...]
    ground: bool

    @property
    def body(self) -> tuple[Placed, ...]:
        """All parts but the cord, which may run out of the picture."""
        return tuple(part for part in self.placed if not part.is_cord)


def points_lit(light: LightLayout) -> LightPoints:
    """The light points with the lumens of :func:`stackview.glow.flux.flux_of`, given or assumed."""
    return replace(light.points, lumens=flux_of(light).lumens)


def assembled(stack: Stack, light: LightLayout) -> Setting:
    """The lamp as built: one that stands has ground under it, a pendant hangs free."""
    body = tuple(part for part in stack.placed if not part.is_cord)
    widest = float(np.ptp(np.concatenate([part.solid.vertices for part in body])[:, :2], axis=0).max())
    end = stack.height + 3.0 * max(stack.height, widest)
    cords = tuple(_shortened(part, end) for part in stack.placed if part.is_cord)
    ribbons = tuple(strip_mesh(ribbon) for ribbon in light.ribbons)
    return Setting(body + cords, points_lit(light), ribbons, stack.lamp.hangs_at is None)


def without_cord(setting: Setting) -> Setting:
    """The lamp without its cord, which would stand between it and an eye above."""
    return replace(setting, placed=setting.body)


def lifted(setting: Setting) -> Setting:
    """The lamp lifted off the ground, to be looked at from beneath."""
    return replace(setting, ground=False)


def moved_points(points: LightPoints, up: np.ndarray[tuple[int], np.dtype[np.float64]]) -> LightPoints:
    """Light points each moved up by ``up`` (n,) [mm]."""
    centres, corners = points.centres.copy(), points.corners.copy()
    centres[:, 2] += up
    corners[:, :, 2] += up[:, None]
    return replace(points, centres=centres, corners=corners)


def chosen_points(points: LightPoints, kept: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> LightPoints:
    """Only the light points where ``kept`` (n,) is set."""
    return LightPoints(*(np.array(getattr(points, name)[kept]) for name in LightPoints.__slots__))


def _shortened(cord: Placed, end: float) -> Placed:
    """The cord up to well out of the picture: metres of it would only cost time to light."""
    vertices = np.array(cord.solid.vertices)
    vertices[:, 2] = np.minimum(vertices[:, 2], end)
    return replace(cord, solid=replace(cord.solid, vertices=vertices), top=min(cord.top, end))
