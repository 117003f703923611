"""The lamp's picture: the assembled stack with its light, from any side, at any size."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.light.layout import LightLayout
from stackview.pictures.camera import BEARING, ELEVATION, frame
from stackview.pictures.coloured_mesh import strip_mesh
from stackview.pictures.mix import STUDIO, Mix
from stackview.pictures.studio import studio
from stackview.pictures.views import check_view
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed


def draw(
    stack: Stack,
    light: LightLayout,
    *,
    bearing: float = BEARING,
    elevation: float = ELEVATION,
    size: tuple[int, int] = (1600, 1200),
    mix: Mix = STUDIO,
) -> NDArray[np.uint8]:
    """Draw the lamp as seen from a bearing and elevation [°].

    ``size`` is (width, height) in pixels. Returns (height, width, 3). A pendant hangs free; a
    lamp that stands gets ground under it. Raises OutputError for a view that cannot be drawn.
    """
    check_view(bearing, elevation, *size)
    body = [part for part in stack.placed if part.role != "cord"]
    camera = frame(body, bearing=bearing, elevation=elevation, size=size)
    hangs = stack.lamp.hangs_at is not None
    shown = [*body, *(_shortened(part, stack.height) for part in stack.placed if part.role == "cord")]
    ribbons = [strip_mesh(ribbon) for ribbon in light.ribbons]
    return studio(shown, light.points, ribbons, camera, mix=mix, ground=not hangs)


def _shortened(cord: Placed, height: float) -> Placed:
    """The cord up to well out of the picture: metres of it would only cost time to light."""
    vertices = np.array(cord.solid.vertices)
    vertices[:, 2] = np.minimum(vertices[:, 2], 3.0 * height)
    return replace(cord, solid=replace(cord.solid, vertices=vertices), top=min(cord.top, 3.0 * height))
