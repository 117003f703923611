"""A glow's files: where they go, and what they say that they lack."""

from pathlib import Path

import numpy as np

from stackview.commands.glow_written import targets_in, unfinished_words
from stackview.glow.gathered import PlateGlow
from stackview.glow.look import Look
from stackview.glow.parts_seen import FirstSeen
from stackview.sight.camera import Camera


def a_look(samples: int, asked: int, error: float = 0.12) -> Look:
    seen = FirstSeen(np.zeros((3, 4), np.int32), np.zeros((3, 4), bool))
    plate = PlateGlow("plate", 2.0, error, 100.0, error, 50.0, error, samples)
    camera = Camera(0.0, 0.0, 900.0, (0.0, 0.0, 0.0), 12.0, (4, 3))
    return Look(camera, seen, np.zeros((3, 4, 3), np.float32), (plate,), (), samples, asked, False, False)


def test_targets_stand_beside_one_another(tmp_path: Path) -> None:
    found = targets_in(tmp_path, "drum")
    assert {name: file.name for name, file in found.items()} == {
        "evening": "drum-glow-evening.png",
        "day": "drum-glow-day.png",
        "luminance": "drum-glow-luminance.png",
        "intensity": "drum.ies",
    }
    assert targets_in(None, "drum") == {}


def test_what_is_finished_says_nothing() -> None:
    assert unfinished_words(a_look(64, 64), stopped=False) == ""


def test_what_is_not_says_why_how_far_it_came_and_how_well_it_is_known() -> None:
    words = unfinished_words(a_look(16, 64), stopped=True)
    assert words == (
        "Unfinished: stopped after 16 of 64 samples a pixel; hot-spot ratios known to ±12% at worst."
    )
    assert "the time was up after 16 of 64" in unfinished_words(a_look(16, 64), stopped=False)
    short = unfinished_words(a_look(64, 64), stopped=False, missed=("light out",))
    assert short.endswith("There was no time for light out: give --longest more seconds.")
