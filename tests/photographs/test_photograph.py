import numpy as np
import pytest

from stackview.glow.parts_seen import LIGHT_FACE, PartsSeen
from stackview.glow.room import DARK, Room, backdrop
from stackview.glow.scene import GlowScene, part_bodies
from stackview.light.colour import LUMINANCE, light_colour
from stackview.photographs.out_of_focus import RoomSeen
from stackview.photographs.photograph import Taken, balance, on_film, taken_from
from stackview.sight.camera import Camera
from tests.lamps import box

CAMERA = Camera(0.0, 0.0, 1000.0, (0.0, 0.0, 0.0), 12.0, (80, 60))


def lamp_alone(wood: np.ndarray | None = None, believed: np.ndarray | None = None) -> Taken:
    nothing = np.zeros((60, 80), np.float32)
    room = RoomSeen(np.full((60, 80), np.inf, np.float32), nothing)
    figure = np.ones((60, 80, 3), np.float32) if wood is None else wood
    return Taken(CAMERA, room, figure, nothing > 0.0 if believed is None else believed, nothing)


@pytest.mark.parametrize("white", [2700.0, 3400.0, 6300.0])
def test_light_of_the_white_comes_out_neutral_and_as_bright(white: float) -> None:
    light = light_colour(white)
    shown = light * balance(white)
    assert shown == pytest.approx(np.full(3, light @ LUMINANCE), rel=1e-5)


def test_warmer_light_than_the_white_stays_warm() -> None:
    shown = light_colour(2700.0) * balance(3400.0)
    assert shown[0] > 1.1 * shown[1] > 1.1 * shown[2]


def test_wood_gets_its_figure_and_fireflies_go() -> None:
    wood = np.ones((60, 80, 3), np.float32)
    wood[:, :40] = 0.5
    light = np.full((60, 80, 3), 10.0, np.float32)
    light[30, 60] = 1e5
    shown = on_film(light, lamp_alone(wood), 6500.0) @ LUMINANCE
    assert shown[20:40, 15].mean() / shown[20:40, 70].mean() == pytest.approx(0.5, abs=0.04)
    assert shown.max() < 12.0


def test_a_true_point_of_light_stays_and_glares() -> None:
    light = np.full((60, 80, 3), 10.0, np.float32)
    light[30, 60] = 1e5
    true = np.zeros((60, 80), bool)
    true[30, 60] = True
    shown = on_film(light, lamp_alone(believed=true), 6500.0)[:, :, 1]
    # A spot a pixel across.
    assert shown[28:33, 58:63].sum() > 0.95e5
    assert shown[30, 60] == shown.max()
    assert shown[30, 60] > 5.0 * shown[31, 61]
    assert shown[30, 63] > shown[30, 70] > shown[0, 0]


def test_acrylic_and_bare_points_are_believed() -> None:
    placed = (box("ring", (-30, -30, 0), (30, 30, 10)), box("plate", (-30, -30, 12), (30, 30, 16), "clear"))
    part = np.full((60, 80), 0, np.int32)
    part[:10], part[10:20], part[50:] = 1, LIGHT_FACE, -2
    flat = np.ones((60, 80, 3), np.float32)
    seen = PartsSeen(part, np.ones((60, 80), bool), flat, flat.copy())
    bodies = tuple(body for number, own in enumerate(placed) for body in part_bodies(own, number, ()))
    taken = taken_from(GlowScene(bodies, (), placed), DARK, seen, CAMERA)
    assert taken.believed is not None
    assert taken.acrylic is not None
    # Shares are looked for where what is believed ends.
    assert (taken.acrylic[1:18] == 1.0).all()
    assert (taken.acrylic[22:] == 0.0).all()
    assert taken.believed[:20].all()
    assert not taken.believed[20:].any()
    with pytest.raises(ValueError, match="read-only"):
        taken.wood[0] = 0.0


def test_what_the_table_hides_of_the_lamp_leaves_no_figure_on_it() -> None:
    placed = (box("ring", (-60, -60, 0), (60, 60, 60)),)
    below = Camera(0.0, -12.0, 800.0, (0.0, 0.0, 20.0), 12.0, (80, 60))
    room = Room((backdrop(placed, below, stands=True),))
    seen = PartsSeen(*(np.zeros((60, 80, *rest), kind) for rest, kind in SEEN))
    scene = GlowScene(tuple(part_bodies(placed[0], 0, ())), (), placed)
    taken, free = (taken_from(scene, around, seen, below) for around in (room, DARK))
    hidden = (free.wood != 1.0).any(axis=2) & (taken.room.depth < 720.0)
    assert hidden.sum() > 100
    assert (taken.wood[hidden] == 1.0).all()


SEEN = (((), np.int32), ((), bool), ((3,), np.float32), ((3,), np.float32))
"""Shape and kind of what :class:`PartsSeen` holds."""
