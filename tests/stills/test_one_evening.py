"""A still by evening and a photograph of the glow from the same place show one room and one lamp."""

from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.arrays import Singles
from stackview.glow.flux import flux_of
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import look
from stackview.glow.parts_seen import OTHER
from stackview.glow.proving import best_variant
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import glow_scene
from stackview.photographs.glow_album import daylight_of, drawn_glow, photograph_place
from stackview.sight.camera import frame
from stackview.stills.evening_picture import evening_picture
from tests.stills.opal_tube import opal_tube

_FACTOR = 1.6
"""Luminance of a region in one picture over that in the other, at most: the studio's dome is not the glow's room with
its window, and the table's light is spread widely in photographs of few ways."""
_HUE = 1.25


def shown(picture: np.ndarray) -> Singles:
    """Light (h, w, 3) that a picture's values stand for (sRGB, IEC 61966-2-1)."""
    value = np.asarray(picture, np.float32) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)


@pytest.mark.slow
def test_ledge_lid_shade_table_and_wall_are_as_bright_and_as_warm_in_both(tmp_path: Path) -> None:
    """The ledge of a base once got the light of what lies within the lamp, and the wall was grey."""
    study, setting = opal_tube(tmp_path)
    camera = frame(setting.body, bearing=30.0, elevation=14.0, size=(240, 180))
    still = shown(evening_picture(study, setting, camera))
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    room = Room((backdrop(study.stack.placed, camera, stands=True),))
    variant, pitch = best_variant().name, pitch_of(study.light.points)
    place = photograph_place(scene, room, camera)
    day = daylight_of(scene, room, place, seed=1, variant=variant)
    seen = look(
        scene,
        room,
        camera,
        pitch=pitch,
        error=0.1,
        longest=120.0,
        variant=variant,
        only_picture=True,
        shown=place.seen,
    )
    glow = shown(drawn_glow(scene, place, seen, day, name="tube", viewpoint="")["evening"])
    names = [part.name for part in scene.placed]
    part, up = place.seen.part, place.seen.normals[..., 2]
    row = np.arange(180)[:, None] + np.zeros((1, 240))
    regions = {
        "ledge": (part == names.index("base")) & (up > 0.9),
        "side of the base": (part == names.index("base")) & (np.abs(up) < 0.3),
        "lid": (part == names.index("lid")) & (up > 0.9),
        "shade": part == names.index("shade 3"),
        "wall": (part == OTHER) & (row < 40),
        "table": (part == OTHER) & (row > 150),
    }
    weight = np.array([0.2126, 0.7152, 0.0722])
    for region, own in regions.items():
        assert own.sum() > 60, region
        one, other = (picture[own].mean(axis=0) for picture in (still, glow))
        assert 1.0 / _FACTOR < (one @ weight) / (other @ weight) < _FACTOR, (region, one, other)
        warmth = (one[0] / (one @ weight)) / (other[0] / (other @ weight))
        assert 1.0 / _HUE < warmth < _HUE, (region, one, other)
