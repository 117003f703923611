from dataclasses import replace

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE, light_colour
from stackview.light.evening import PICTURED_LUMINANCE
from stackview.photographs.lamplit import dimmed, lamplit
from stackview.photographs.out_of_focus import RoomSeen
from stackview.photographs.photograph import Taken
from stackview.sight.camera import Camera

HIGH, WIDE = 240, 320
CAMERA = Camera(35.0, 12.0, 800.0, (0.0, 0.0, 0.0), 24.0, (WIDE, HIGH))
WARM = light_colour(2700.0) / (light_colour(2700.0) @ LUMINANCE)
LAMP = (slice(60, 200), slice(100, 220))
PLATES = [slice(top, top + 10) for top in (80, 120, 160)]


def scene() -> tuple[np.ndarray, np.ndarray, Taken]:
    """A lamp of walnut with three lit plates, one bare point between two of them, before a wall."""
    lamp = np.full((HIGH, WIDE, 3), 0.4, np.float32) * WARM.astype(np.float32)
    day = np.full((HIGH, WIDE, 3), 160.0, np.float32)
    lamp[LAMP], day[LAMP] = 0.05 * WARM, 30.0
    for rows in PLATES:
        lamp[rows, LAMP[1]] = 500.0 * WARM
    lamp[140:143, 160:163] = 2e5 * WARM
    share = np.ones((HIGH, WIDE), np.float32)
    share[LAMP] = 0.0
    depth = np.full((HIGH, WIDE), 1700.0, np.float32)
    wood = np.ones((HIGH, WIDE, 3), np.float32)
    wood[LAMP] = (1.0 + 0.3 * np.sin(np.arange(140) / 3.0))[:, None, None]
    for rows in PLATES:
        wood[rows] = 1.0
    nothing = np.zeros((HIGH, WIDE), np.float32)
    return lamp, day, Taken(CAMERA, RoomSeen(depth, share), wood, nothing > 0.0, nothing)


def luma(pixels: np.ndarray) -> np.ndarray:
    return pixels.astype(float) @ LUMINANCE.astype(float)


def test_plates_are_bright_the_room_is_dim_and_wood_is_wood() -> None:
    lamp, day, taken = scene()
    tone = luma(lamplit(lamp, day, taken))
    plates, wall, wood = tone[82:88, 110:210].mean(), tone[:40].mean(), tone[62:78, 105:215]
    assert 200 < plates <= 255
    assert 30 < wall < 90
    # Dark, but not black, and its figure shows.
    assert 18 < wood.mean() < wall
    assert wood.mean(axis=1).std() > 2.0


def test_pale_wood_is_lit_by_the_lamp_and_falls_dark_away_from_it() -> None:
    """As pale as the wall, with 1.5 cd/m² of the lamp's light beside its gap and 0.1 at the far end, as on Moor Drum.

    In a room of 2 cd/m², through a lens that spread 4 % of all light, it was a flat brown.
    """
    lamp, day, taken = scene()
    day[LAMP] = 170.0
    lamp[LAMP] = 0.1 * WARM
    lamp[PLATES[0], LAMP[1]] = 500.0 * WARM
    lamp[90:150, LAMP[1]] = np.geomspace(1.5, 0.1, 60)[:, None, None] * WARM
    tone = luma(lamplit(lamp, day, replace(taken, wood=np.ones_like(taken.wood))))
    near, far = tone[94:99, 110:210].mean(), tone[140:150, 110:210].mean()
    assert near > 1.5 * far
    assert 20 < far < 0.2 * tone[82:88, 110:210].mean()


def test_warm_light_is_warm() -> None:
    lamp, day, taken = scene()
    red, green, blue = lamplit(lamp, day, taken)[82:88, 110:210].mean(axis=(0, 1))
    assert red > green > blue


def test_no_square_stands_round_a_bright_point() -> None:
    lamp, day, taken = scene()
    plain = replace(taken, wood=np.ones_like(taken.wood))
    lamp[LAMP], day[LAMP] = 0.05 * WARM, 30.0
    lamp[140:143, 160:163] = 2e5 * WARM
    tone = luma(lamplit(lamp, day, plain))
    assert tone[141, 161] > 250
    for away, aslant in ((10, (6, 8)), (20, (12, 16)), (29, (20, 21))):
        ring = [tone[141 + away, 161], tone[141 - away, 161], tone[141, 161 + away], tone[141, 161 - away]]
        ring += [
            tone[141 + y * s, 161 + x * t]
            for x, y in (aslant, aslant[::-1])
            for s in (-1, 1)
            for t in (-1, 1)
        ]
        assert np.ptp(ring) < 8
    assert (np.diff(tone[141, 165:205]) <= 2).all()


def test_the_room_gets_an_evenings_light_whatever_the_day() -> None:
    _, day, _ = scene()
    for much in (1.0, 20.0):
        found = dimmed(day * np.float32(much)) @ LUMINANCE
        assert np.median(found) == pytest.approx(PICTURED_LUMINANCE, rel=1e-3)


def test_without_day_the_room_is_dark_but_for_the_lamp() -> None:
    lamp, day, taken = scene()
    lamp[:40] = 0.0
    assert luma(lamplit(lamp, None, taken))[:20].mean() < luma(lamplit(lamp, day, taken))[:20].mean()
