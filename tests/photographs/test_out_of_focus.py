import numpy as np
import pytest

from stackview.glow.room import DARK, Room, backdrop
from stackview.glow.scene import GlowScene, SkinFaces
from stackview.glow.skins import Matt
from stackview.photographs.out_of_focus import APERTURE, RoomSeen, blurred_within, out_of_focus, room_seen
from stackview.sight.camera import Camera
from tests.lamps import box

SIZE = (120, 90)
CAMERA = Camera(0.0, 0.0, 1000.0, (0.0, 0.0, 0.0), 12.0, SIZE)


def cube() -> tuple[GlowScene, Room]:
    """A box of 80 mm a side whose near face lies 40 mm before the axis, and a wall behind it."""
    part = box("cube", (-40, -40, -40), (40, 40, 40))
    solid = part.solid
    body = SkinFaces("cube", 0, Matt((0.5,) * 3), solid.vertices, solid.vertices / 70.0, solid.triangles)
    return GlowScene((body,), (), (part,)), Room((backdrop((part,), CAMERA, stands=False),))


def room_of(depth: float, hidden: np.ndarray | None = None) -> RoomSeen:
    share = np.ones(SIZE[::-1], np.float32)
    if hidden is not None:
        share[hidden] = 0.0
    return RoomSeen(np.full(SIZE[::-1], depth, np.float32), share)


def test_the_lamp_hides_its_own_area_of_the_room() -> None:
    seen = room_seen(*cube(), CAMERA)
    # The near face, 960 mm away, covers (80/960)²/pixel² pixels.
    assert (1.0 - seen.share).sum() == pytest.approx((80 / 960 / CAMERA.pixel) ** 2, rel=0.015)
    assert ((seen.share > 0) & (seen.share < 1)).any()
    # The wall: 850 mm behind the rim of the box's corners, square to the view.
    assert seen.depth[0, 60] * np.cos(np.radians(6)) == pytest.approx(1000 + 850 + 40 * 2**0.5, rel=0.003)


def test_nothing_behind_the_lamp_is_infinitely_far() -> None:
    seen = room_seen(cube()[0], DARK, CAMERA)
    assert np.isinf(seen.depth).all()
    assert seen.share[45, 60] == 0.0
    assert seen.share[0, 0] == 1.0


def test_a_point_spreads_as_a_thin_lens_has_it() -> None:
    image = np.zeros((*SIZE[::-1], 3), np.float32)
    image[45, 60] = 1.0
    found = out_of_focus(image, room_of(1100.0), CAMERA)[:, :, 1].astype(float)
    y, x = np.mgrid[: SIZE[1], : SIZE[0]]
    width = APERTURE * CAMERA.scale * 100.0 / 1100.0
    assert found.sum() == pytest.approx(1.0, rel=0.03)
    # An even disc of that width has the variance (width/4)² in each direction.
    for away in (x - 60, y - 45):
        assert (found * away**2).sum() / found.sum() == pytest.approx((width / 4) ** 2, rel=0.1)


def test_what_lies_in_the_plane_of_focus_stays_sharp() -> None:
    image = np.random.default_rng(1).uniform(0, 1, (*SIZE[::-1], 3)).astype(np.float32)
    assert out_of_focus(image, room_of(1000.0), CAMERA) == pytest.approx(image)


def test_the_lamp_stays_and_nothing_of_it_runs_into_the_room() -> None:
    hidden = np.zeros(SIZE[::-1], bool)
    hidden[30:60, 40:80] = True
    image = np.ones((*SIZE[::-1], 3), np.float32)
    image[hidden] = 1e5
    found = out_of_focus(image, room_of(1900.0, hidden), CAMERA)
    assert (found[hidden] == 1e5).all()
    assert found[~hidden] == pytest.approx(1.0, rel=1e-3)


def test_a_pixel_on_the_outline_keeps_the_lamps_share() -> None:
    room = room_of(1900.0)
    share = room.share.copy()
    share[:, 50], share[:, 51:] = 0.25, 0.0
    image = np.full((*SIZE[::-1], 3), 2.0, np.float32)
    image[:, 51:] = 10.0
    image[:, 50] = 0.25 * 2.0 + 0.75 * 10.0
    found = out_of_focus(image, RoomSeen(room.depth, share), CAMERA)
    assert found == pytest.approx(image, rel=1e-3)


def test_a_blur_within_a_mask_is_the_mean_of_the_mask_alone() -> None:
    mask = np.zeros((60, 80), bool)
    mask[:, 30:] = True
    image = np.where(mask, 3.0, 1e4)[..., None].astype(np.float32) * np.ones(3, np.float32)
    for sigma in (1.3, 4.0, 15.0):
        assert blurred_within(image, mask, sigma)[mask] == pytest.approx(3.0, rel=1e-3)
