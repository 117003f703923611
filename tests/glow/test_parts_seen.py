import numpy as np
import pytest

from stackview.glow.parts_seen import (
    LIGHT_FACE,
    NOTHING,
    OTHER,
    first_shown,
    half_as_fine,
    parts_by_fours,
    parts_seen,
    shares_of,
)
from stackview.glow.room import DARK, Room
from stackview.glow.scene import GlowScene
from stackview.glow.skins import Clear, Matt
from stackview.sight.camera import Camera, project
from tests.glow.bodies import box, light, square

RED = (0.6, 0.2, 0.1)
ABOVE = Camera(0.0, 90.0, 1000.0, (0.0, 0.0, 0.0), 12.0, (90, 80))


def seen(bodies=(), lights=(), room=DARK):
    return parts_seen(GlowScene(tuple(bodies), tuple(lights), ()), room, ABOVE)


def test_the_first_surface_counts_with_its_colour_and_normal():
    found = seen([box(Matt(RED), (-40, -40, -5), (40, 40, 0))])
    middle = found.part.shape[0] // 2, found.part.shape[1] // 2
    assert found.part[middle] == 0
    assert found.albedo[middle] == pytest.approx(RED)
    assert found.normals[middle] == pytest.approx([0, 0, 1])
    assert found.part[0, 0] == NOTHING
    assert found.albedo[0, 0] == pytest.approx([0, 0, 0])


def test_pixels_are_where_the_camera_sees_the_part():
    found = seen([box(Matt(RED), (-40, -40, -5), (-20, 30, 0))])
    rows, columns = np.nonzero(found.part == 0)
    corners = project(ABOVE, np.array([[-40.0, 30, 0], [-20, -40, 0]]))
    assert columns.min() == pytest.approx(corners[0, 0], abs=1)
    assert columns.max() + 1 == pytest.approx(corners[1, 0], abs=1)
    assert rows.min() == pytest.approx(corners[0, 1], abs=1)


def test_clear_plates_hide_what_is_under_them_and_light_points_are_told_apart():
    plate = box(Clear(), (-30, -30, 10), (30, 30, 14))
    found = seen([plate], [light(square((50, 0, 0), 10.0)), light(square((0, 0, 0), 10.0))])
    assert found.part[40, 45] == 0
    assert (found.part == LIGHT_FACE).sum() > 8
    room = seen(room=Room((box(Matt(RED), (-200, -200, -20), (200, 200, -10)),)))
    assert room.part[40, 45] == 0 or room.part[40, 45] == OTHER


def test_a_pixel_on_an_edge_is_not_whole():
    found = seen([box(Matt(RED), (-41.5, -41.5, -5), (41.5, 41.5, 0))])
    own = found.part == 0
    inside = own[1:-1, 1:-1] & own[:-2, 1:-1] & own[2:, 1:-1] & own[1:-1, :-2] & own[1:-1, 2:]
    assert (found.whole[1:-1, 1:-1] | ~inside | (found.part[1:-1, 1:-1] != 0)).all()
    assert not found.whole[own & ~np.pad(inside, 1)].all()
    assert not found.part.flags.writeable


def test_a_window_shows_what_the_whole_picture_shows_there():
    bodies = GlowScene(
        (box(Matt(RED), (-40, -40, -5), (-20, 30, 0)), box(Clear(), (5, 5, 0), (30, 20, 4))), (), ()
    )
    whole, window = parts_seen(bodies, DARK, ABOVE), (slice(10, 44), slice(20, 90))
    some = first_shown(bodies, DARK, ABOVE, window)
    assert (some.part[window] == whole.part[window]).all()
    assert (some.whole[window] == whole.whole[window]).all()
    some_else = np.ones(whole.part.shape, bool)
    some_else[window] = False
    assert (some.part[some_else] == NOTHING).all()
    assert not some.whole[some_else].any()
    first = first_shown(bodies, DARK, ABOVE)
    assert (first.part == whole.part).all()
    assert (first.whole == whole.whole).all()


def test_shares_of_pixels_sum_to_the_area_that_a_part_covers() -> None:
    """A rectangle turned by 17°, by its projected corners (the shoelace formula), to 1 %."""
    scene = GlowScene((box(Matt(RED), (-40, -30, -5), (40, 30, 0)),), (), ())
    camera = Camera(17.0, 90.0, 1000.0, (0.0, 0.0, 0.0), 12.0, (90, 80))
    rows, columns = (grid.ravel() for grid in np.indices((80, 90)))
    shares = shares_of(scene, DARK, camera, rows, columns, [0])
    x, y = project(camera, np.array([[-40.0, -30, 0], [40, -30, 0], [40, 30, 0], [-40, 30, 0]])).T
    area = abs((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()) / 2.0
    assert shares.sum() == pytest.approx(area, rel=0.01)
    assert ((shares > 0.0) & (shares < 1.0)).sum() > 60


@pytest.mark.parametrize("size", [(90, 80), (91, 83)])
def test_fours_of_pixels_show_what_a_camera_half_as_fine_sees(size: tuple[int, int]) -> None:
    """The same as rays of that camera's own, but for those that pass an edge by less than a float's rounding."""
    fine = Camera(17.0, 50.0, 1000.0, (0.0, 3.0, 0.0), 12.0, size)
    scene = GlowScene(
        (box(Matt(RED), (-40, -30, -5), (40, 30, 0)), box(Clear(), (5, 5, 0), (30, 20, 4))), (), ()
    )
    first, fours = parts_by_fours(scene, DARK, fine)
    assert (first.part == first_shown(scene, DARK, fine).part).all()
    half = parts_seen(scene, DARK, half_as_fine(fine))
    assert fours.part.shape == half.part.shape == (size[1] // 2, size[0] // 2)
    for own, same in ((fours.part, half.part), (fours.whole, half.whole)):
        assert (own != same).mean() < 1e-3
    assert np.abs(fours.albedo - half.albedo).mean() < 1e-3
    assert np.abs(fours.normals - half.normals).mean() < 1e-3
    assert {0, NOTHING} <= set(np.unique(fours.part).tolist())
