import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.material import Finish
from stackview.glow.parts_seen import first_shown, parts_seen
from stackview.glow.plates_seen import (
    PIECE_WIDTH,
    RIM,
    about,
    acrylic_window,
    plates_in_sight,
    tiles_of,
    with_rim,
)
from stackview.glow.room import DARK
from stackview.glow.scene import GlowScene, part_bodies
from stackview.sight.camera import Camera
from tests.lamps import box as part_box

CAMERA = Camera(0.0, 25.0, 700.0, (0.0, 0.0, 20.0), 12.0, (160, 120))
SANDED = Finish("sanded", "sanded", "sanded")


def scene(*parts):
    bodies = [body for number, part in enumerate(parts) for body in part_bodies(part, number, ())]
    return GlowScene(tuple(bodies), (), tuple(parts))


def test_plates_are_told_from_one_another_and_by_what_they_do():
    clear = part_box("clear", (-60, -30, 20), (60, 30, 24), "clear")
    higher = part_box("higher", (-60, -30, 60), (60, 30, 64), "clear", SANDED)
    wood = part_box("wood", (-60, -30, 40), (60, 30, 44))
    both = scene(clear, wood, higher)
    plates = {plate.name: plate for plate in plates_in_sight(both, parts_seen(both, DARK, CAMERA), CAMERA)}
    assert list(plates) == ["clear", "higher"]
    assert plates["clear"].sort == "clear"
    assert plates["higher"].sort == "sanded"
    assert not (plates["clear"].mask & plates["higher"].mask).any()
    window = acrylic_window(both, CAMERA)
    alone = plates_in_sight(both, first_shown(both, DARK, CAMERA, window), CAMERA)
    assert window[0].stop - window[0].start < 120
    for plate, same in zip(plates.values(), alone, strict=True):
        assert (plate.mask == same.mask).all()
        assert plate.mask[plate.window].sum() == plate.mask.sum()
        assert plate.pixels >= plate.mask.sum()


def test_a_plate_behind_wood_is_not_in_sight():
    hidden = scene(
        part_box("plate", (-60, -30, 20), (60, 30, 24), "clear"),
        part_box("wall", (-90, -60, -10), (90, -50, 90)),
    )
    assert plates_in_sight(hidden, parts_seen(hidden, DARK, CAMERA), CAMERA) == []


def test_a_slanting_slit_costs_little_more_than_a_level_one():
    slit = np.zeros((300, 640), bool)
    for column in range(640):
        slit[20 + column // 3 : 26 + column // 3, column] = True
    tiles = tiles_of(slit)
    pixels = sum((rows.stop - rows.start) * (columns.stop - columns.start) for rows, columns in tiles)
    # A piece falls by a third of its width: 6 + 11 + two rims of three at 640 columns, and no more.
    assert pixels <= 640 * (6 + (PIECE_WIDTH + 2 * RIM) / 3 + 1 + 2 * RIM)
    rows, columns = about(slit, 0)
    assert (rows, columns) == (slice(20, 239), slice(0, 640))
    assert pixels < 0.15 * 219 * 640


@given(
    st.lists(st.tuples(st.integers(0, 79), st.integers(0, 99)), min_size=1, max_size=40),
)
def test_tiles_hold_every_pixel_with_its_rim_and_none_twice(places):
    mask = np.zeros((80, 100), bool)
    mask[tuple(np.array(places).T)] = True
    held = np.zeros(mask.shape, int)
    for window in tiles_of(mask):
        held[window] += 1
    assert held.max() == 1
    for row, column in places:
        near = held[max(row - RIM, 0) : row + RIM + 1, max(column - RIM, 0) : column + RIM + 1]
        assert (near == 1).all()


def test_nothing_to_hold_is_no_window():
    with pytest.raises(IndexError):
        about(np.zeros((4, 4), bool), 1)


def test_a_mask_s_rim_is_what_lies_within_three_pixels_of_it() -> None:
    mask = np.zeros((20, 30), np.bool_)
    mask[9:12, 0:4] = True
    grown = with_rim(mask)
    expected = np.zeros_like(mask)
    expected[6:15, 0:7] = True
    assert (grown == expected).all()
    assert not with_rim(np.zeros((4, 4), np.bool_)).any()
