"""The window's view as a picture of its own: the same lamp, spread and cut alike, by the studio."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.solids.placing import placed as moved
from stackview.stack.placed import Placed
from stackview.stills.coloured_mesh import ColouredMesh
from stackview.stills.halved import cut_solid
from stackview.stills.kept_light import baked
from stackview.stills.setting import Setting, chosen_points, moved_points
from stackview.stills.studio import shoot
from stackview.window.cutting import cut_offset, kept_points
from stackview.window.paint import mix_at
from stackview.window.shown import Shown, display_camera
from stackview.window.state import ViewState

WIDTH = 1600
"""Width of a saved picture [px]; its height follows the window's shape."""


def picture_size(window: tuple[int, int]) -> tuple[int, int]:
    """Size of the picture of a window (width, height) [px].

    >>> picture_size((900, 640))
    (1600, 1138)
    """
    width, height = max(window[0], 1), max(window[1], 1)
    return WIDTH, int(np.clip(round(WIDTH * height / width), 64, 4 * WIDTH))


def view_picture(shown: Shown, state: ViewState, window: tuple[int, int]) -> NDArray[np.uint8]:
    """Take the picture (h, w, 3) of what a window of this size shows, without panels and marks."""
    lit = shown.baked if state.whole else baked(setting_of(shown, state))
    camera = display_camera(state, shown, picture_size(window))
    surface = shown.study.sightlines.standpoint.surface if state.whole else None
    return shoot(lit, camera, mix=mix_at(state.light, lit.luminance), surface=surface)


def setting_of(shown: Shown, state: ViewState) -> Setting:
    """Parts, light points and strips as the window shows them spread and cut."""
    parts: list[Placed] = []
    for part, lift in zip(shown.setting.placed, shown.lift, strict=True):
        solid = part.solid
        if state.cut and not part.stays_whole:
            rest = cut_solid(solid, state.cut_bearing, cut_offset(state, shown))
            if rest is None:
                continue
            solid = rest
        up = state.spread * float(lift)
        lifted = moved(solid, 0.0, up) if up else solid
        parts.append(replace(part, solid=lifted, underside=part.underside + up, top=part.top + up))
    kept = kept_points(state, shown)
    points = moved_points(shown.setting.points, state.spread * shown.point_lift)
    ribbons = tuple(_raised(ribbon, state.spread * shown.ribbon_lift) for ribbon in shown.setting.ribbons)
    return Setting(tuple(parts), chosen_points(points, kept), ribbons, ground=False)


def _raised(ribbon: ColouredMesh, by: float) -> ColouredMesh:
    return replace(ribbon, vertices=ribbon.vertices + np.array([0.0, 0.0, by]))
