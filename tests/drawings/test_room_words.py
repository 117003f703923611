"""Words find room inside a mask and beside a place, and never on each other."""

import numpy as np

from stackview.drawings.room_words import FreeRoom


def test_words_stand_within_the_mask_nearest_to_where_they_are_wanted() -> None:
    room = FreeRoom.of((0.0, 0.0, 400.0, 200.0))
    mask = np.zeros_like(room.taken)
    mask[10:30, 20:80] = True
    x, y = room.inside(mask, 100.0, 30.0, (0.9, 0.9)) or (0.0, 0.0)
    assert 80.0 + 50.0 <= x <= 320.0 - 50.0
    assert 40.0 + 15.0 <= y <= 120.0 - 15.0
    assert x > 250.0
    assert room.inside(mask, 260.0, 30.0, (0.5, 0.5)) is None


def test_labels_never_touch_and_stay_in_the_frame() -> None:
    room = FreeRoom.of((0.0, 0.0, 900.0, 500.0))
    placed = []
    for _ in range(12):
        box = room.beside((890.0, 10.0), 150.0, 40.0, 20.0)
        assert box is not None
        room.take(box)
        placed.append(box)
    for k, one in enumerate(placed):
        assert one[0] >= 0.0
        assert one[1] >= 0.0
        assert one[2] <= 900.0
        assert one[3] <= 500.0
        for other in placed[:k]:
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_a_full_frame_has_no_room() -> None:
    room = FreeRoom.of((0.0, 0.0, 200.0, 100.0))
    room.take((0.0, 0.0, 200.0, 100.0))
    assert room.beside((100.0, 50.0), 20.0, 10.0, 5.0) is None
