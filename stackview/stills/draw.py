"""The lamp's picture: the assembled stack with its light, from any side, at any size."""

import numpy as np
from numpy.typing import NDArray

from stackview.light.layout import LightLayout
from stackview.sight.camera import BEARING, ELEVATION, frame
from stackview.stack.assembly import Stack
from stackview.stills.kept_light import baked
from stackview.stills.mix import STUDIO, Mix
from stackview.stills.setting import assembled
from stackview.stills.studio import shoot
from stackview.stills.views import check_view


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
    setting = assembled(stack, light)
    camera = frame(setting.body, bearing=bearing, elevation=elevation, size=size)
    return shoot(baked(setting), camera, mix=mix)
