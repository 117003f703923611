"""A still by evening: the lamp's own light as it truly is, in a dim room, shown as photographs of the glow show it."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow.room import SWEEP
from stackview.light.beam import beam_power
from stackview.light.colour import LUMINANCE, Colour, light_colour
from stackview.light.evening import PICTURED_LUMINANCE, ROOM_KELVIN, WHITE_KELVIN
from stackview.light.points import LightPoints
from stackview.sight.camera import Camera
from stackview.stills.dome import GROUND
from stackview.stills.evening_tone import DIM, by_evening
from stackview.stills.exchange import CornerLight
from stackview.stills.kept_light import baked
from stackview.stills.laid_light import truly_lit
from stackview.stills.lens import glared
from stackview.stills.mix import Mix
from stackview.stills.setting import Setting
from stackview.stills.studio import radiance, with_cover
from stackview.stills.trace import mixed
from stackview.study import Study

_UNIT = DIM * PICTURED_LUMINANCE
"""Luminance that counts as 1 while the picture is traced [cd/m²]: about that of the lamp's dimmer lit parts."""
_BEHIND = 0.5
"""Luminance of what stands behind the lamp, above, by the room's own light, over that of what it stands on."""
_ASIDE = 0.7
"""What the lamp's parts get of the room's light over what the studio's dome would give them, which has more of it above:
the room of the glow's photographs has its light from a window aside."""


def evening_picture(
    study: Study, setting: Setting, camera: Camera, *, cut_out: bool = False
) -> NDArray[np.uint8]:
    """The lamp lit in a dim room: (h, w, 3), or (h, w, 4) cut out."""
    found = truly_lit(study, baked(setting), setting.points)
    lit = found.lamp
    tint = light_colour(ROOM_KELVIN) / (light_colour(ROOM_KELVIN) @ LUMINANCE)
    white = light_colour(WHITE_KELVIN)
    tint = np.asarray(tint * (white @ LUMINANCE) / white, np.float32)
    room = PICTURED_LUMINANCE / _UNIT
    sweep = np.asarray(SWEEP, np.float32)
    hue = sweep / np.float32(sweep @ LUMINANCE)
    balance = np.asarray((white @ LUMINANCE) / np.maximum(white, 0.03), np.float32)
    low = _colour(room * tint * hue)
    high = _colour(_BEHIND * room * tint * hue + sweep * found.behind * balance / np.float32(_UNIT))
    # The baked sky is 1 where it lights open ground, which is to have the room's luminance.
    sky = np.asarray(_ASIDE * room / float(GROUND @ LUMINANCE) * tint, np.float32)
    dim = replace(
        lit,
        wall_light=CornerLight(lit.wall_light.sky * sky, lit.wall_light.lamp / np.float32(_UNIT)),
        sheet_light=CornerLight(lit.sheet_light.sky * sky, lit.sheet_light.lamp / np.float32(_UNIT)),
        # The studio's ground is paler than what the glow's lamps stand on.
        ground=None
        if lit.ground is None
        else replace(lit.ground, lamp=lit.ground.lamp * sweep / GROUND / np.float32(_UNIT)),
    )
    view = mixed(dim, Mix(1.0, 1.0, WHITE_KELVIN, high, low, 0.0), cut_out=cut_out)
    shining = lit.emitter_colours * view.balance * (luminances(setting.points) / _UNIT)[:, None]
    # Acrylic may be brighter than what counts at an edge for light points.
    glow = dim.sheet_light.lamp @ LUMINANCE
    most = max(3.0, 1.5 * float(glow.max(initial=0.0)))
    image, cover = radiance(replace(view, points=np.asarray(shining, np.float32)), camera, most)
    image = np.asarray(image * np.float32(_UNIT), np.float32)
    if not cut_out:
        return by_evening(glared(image))
    return with_cover(by_evening(glared(np.asarray(image / np.maximum(cover, 1e-3), np.float32))), cover)


def _colour(values: NDArray[np.floating]) -> Colour:
    red, green, blue = (float(channel) for channel in values)
    return red, green, blue


def luminances(points: LightPoints) -> Singles:
    """Luminance (n,) of each light point seen along its axis [cd/m²]: I₀/A, with I₀ = Φ(m + 1)/2π."""
    sides = [np.linalg.norm(points.corners[:, k] - points.corners[:, 0], axis=1) for k in (1, 3)]
    area = np.maximum(sides[0] * sides[1], 1e-6) * 1e-6
    axial = points.lumens * (beam_power(points.beams) + 1.0) / (2.0 * np.pi)
    return np.asarray(axial / area, np.float32)
