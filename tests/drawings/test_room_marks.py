"""Eyes and words in a picture of a room keep off each other."""

import numpy as np

from stackview.drawings.chart_style import blank
from stackview.drawings.eye_seen import EyeSeen
from stackview.drawings.room_colours import tones
from stackview.drawings.room_marks import draw_eyes, name_zones
from stackview.drawings.room_words import FreeRoom
from stackview.sight.room import Zone, Zones
from tests.drawings.drawn import words_of
from tests.drawings.test_room_drawing import check_apart


def test_eyes_in_one_place_have_labels_of_their_own_and_zones_are_named_beside_them() -> None:
    sheet = blank((1000, 700))
    room = FreeRoom.of((20.0, 20.0, 980.0, 680.0))
    known = tones(Zones(np.array([Zone.BARE], np.int8), np.array([2], np.int32)), "LED")
    eyes = [EyeSeen(f"eye {k}", 1000.0, 1200.0, 2, 0, 0, False, 0.0) for k in range(6)]
    draw_eyes(sheet, room, [(own, (500.0 + 3.0 * k, 350.0)) for k, own in enumerate(eyes)], known, "LED")
    numbers = np.full((660, 960), len(known) - 1, np.int64)
    numbers[:200] = 0
    name_zones(sheet, room, numbers, known)
    check_apart(sheet)
    words = words_of(sheet)
    assert all(own.name in words for own in eyes)
    assert "2 LEDs" in words
    assert "no LED in sight" in words
