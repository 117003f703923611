"""A lamp's glow on its way: targets, distances as written, shares of progress, and what cannot glow."""

from pathlib import Path

import pytest

from stackview.commands.glow_study import GlowWanted, _part, study_glow, targets_in
from stackview.errors import OutputError, StackviewError

WANTED = GlowWanted(None, None, None, None, 0.5, 5.0, 1, False, None)


def test_targets_stand_beside_one_another(tmp_path: Path) -> None:
    found = targets_in(tmp_path, "drum")
    assert {name: file.name for name, file in found.items()} == {
        "evening": "drum-glow-evening.png",
        "day": "drum-glow-day.png",
        "luminance": "drum-glow-luminance.png",
        "intensity": "drum.ies",
    }
    assert targets_in(None, "drum") == {}
    file = tmp_path / "a file"
    file.write_text("")
    with pytest.raises(OutputError, match="this is a file; give a folder"):
        targets_in(file, "drum")


def test_a_part_of_the_work_is_a_part_of_the_bar() -> None:
    told: list[float] = []
    part = _part(told.append, 0.55, 0.80)
    for share in (0.0, 0.4, 1.0):
        part(share)
    assert told == pytest.approx([0.55, 0.65, 0.80])


def test_a_lamp_without_light_cannot_glow(tmp_path: Path) -> None:
    pytest.importorskip("mitsuba")
    file = tmp_path / "dark.toml"
    file.write_text(
        'name = "Dark"\n[materials.ply]\nplywood = "birch"\nsold = 9\n'
        '[[layer]]\nname = "base"\nmaterial = "ply"\noutline = { circle = 80 }\n'
    )
    with pytest.raises(StackviewError, match="no light is described"):
        study_glow(file, WANTED)
