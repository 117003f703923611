"""The three pictures of a lamp that glows: dark and bright, warm light, and luminance told with it."""

import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.description.material import Finish
from stackview.glow.look import Look, look
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import GlowScene, part_bodies
from stackview.photographs.glow_album import (
    _halved,
    daylight_of,
    drawn_glow,
    photograph_place,
    photographs_from,
)
from stackview.sight.camera import Camera, project
from tests.glow.bodies import light, quick, square
from tests.lamps import box

CAMERA = Camera(0.0, 25.0, 700.0, (0.0, 0.0, 20.0), 20.0, (120, 90))
SANDED = Finish("sanded", "sanded", "sanded")
PARTS = (
    box("plate", (-60, -30, 20), (60, 30, 24), "clear", SANDED),
    box("base", (-60, -30, -20), (60, 30, -4)),
)


@pytest.fixture(scope="module")
def seen() -> tuple[GlowScene, Room, Look]:
    bodies = [body for number, part in enumerate(PARTS) for body in part_bodies(part, number, ())]
    scene = GlowScene(tuple(bodies), (light(square((0, 0, 0), 3.0), 1e6),), PARTS)
    room = Room((backdrop(PARTS, CAMERA, stands=True),))
    return scene, room, look(scene, room, CAMERA, pitch=16.0, error=0.5, longest=20.0, variant=quick())


def test_daylight_is_that_of_a_lamp_switched_off(seen: tuple[GlowScene, Room, Look]) -> None:
    scene, room, _ = seen
    stand = photograph_place(scene, room, CAMERA)
    one = daylight_of(scene, room, stand, seed=1)
    assert one.shape == (90, 120, 3)
    assert np.isfinite(one).all()
    assert one.min() >= 0.0
    dark = GlowScene(scene.bodies, (light(square((0, 0, 0), 3.0), 1.0),), PARTS)
    # How bright the light points would be does not matter.
    assert np.array_equal(one, daylight_of(dark, room, stand, seed=1))


def test_evening_is_darker_than_day_and_the_map_says_its_name(seen: tuple[GlowScene, Room, Look]) -> None:
    scene, room, found = seen
    stand = photograph_place(scene, room, CAMERA)
    day = daylight_of(scene, room, stand, seed=1)
    drawn = drawn_glow(scene, stand, found, day, name="Test Lamp", viewpoint="From the front")
    assert set(drawn) == {"evening", "day", "luminance"}
    for picture in drawn.values():
        assert picture.dtype == np.uint8
        assert picture.shape[2] == 3
    assert drawn["evening"].shape == drawn["day"].shape == (90, 120, 3)
    # What the lamp does not reach is dark in the evening alone.
    corner = (slice(0, 12), slice(0, 12))
    assert drawn["day"][corner].mean() > 2.0 * drawn["evening"][corner].mean()
    # What glows stands out more in the evening.
    plate = np.argwhere(found.seen.part == 0)
    low, high = plate.min(axis=0), plate.max(axis=0) + 1
    place = (slice(low[0], high[0]), slice(low[1], high[1]))
    shares = {name: drawn[name][place].mean() / drawn[name].mean() for name in ("evening", "day")}
    assert shares["evening"] > 1.5 * shares["day"]
    # Another name is another picture, and only of the map.
    again = drawn_glow(scene, stand, found, day, name="Other Lamp", viewpoint="From the front")
    assert np.array_equal(drawn["evening"], again["evening"])
    assert not np.array_equal(drawn["luminance"], again["luminance"])

    # What is not finished says so under itself, and without daylight there is no picture of the day.
    less = drawn_glow(
        scene,
        stand,
        found,
        None,
        name="Test Lamp",
        viewpoint="From the front",
        unfinished="Unfinished: stopped.",
    )
    assert set(less) == {"evening", "luminance"}
    assert less["evening"].shape[0] > 90 + 10
    assert np.array_equal(less["evening"][:90, :120].shape, drawn["evening"].shape)


@pytest.mark.parametrize("size", [(800, 600), (1596, 1198), (1597, 1197)])
def test_a_large_look_is_photographed_half_as_fine_about_the_same_middle(size: tuple[int, int]) -> None:
    fine = Camera(20.0, 5.0, 900.0, (0.0, 0.0, 40.0), 17.0, size)
    camera = photographs_from(fine)
    assert camera.size[0] * camera.size[1] <= 1_000_000
    by = 1 if size == (800, 600) else 2
    # A place of the lamp lies in the pixel that is made of those in which it lay.
    places = np.array([[0.0, 0.0, 40.0], [30.0, -20.0, 10.0], [-50.0, 10.0, 80.0]])
    fine_at, at = (project(own, places) for own in (fine, camera))
    assert at == pytest.approx(fine_at / by, abs=0.02)


def test_a_picture_is_halved_by_pixels_that_share_no_noise() -> None:
    noise = np.random.default_rng(3).normal(0.0, 1.0, (201, 301, 3)).astype(np.float32)
    found = _halved(noise)
    assert found.shape == (100, 150, 3)
    assert found[7, 9] == pytest.approx(noise[14:16, 18:20].mean(axis=(0, 1)), abs=1e-6)
    assert found.std() == pytest.approx(0.5, rel=0.02)
    beside = [float((found[:, 1:] * found[:, :-1]).mean()), float((found[1:] * found[:-1]).mean())]
    assert np.abs(beside).max() < 0.01
