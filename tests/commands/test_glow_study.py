"""A lamp's glow on its way: what cannot glow."""

from pathlib import Path

import pytest

from stackview.commands.glow_study import GlowWanted, study_glow
from stackview.errors import StackviewError

WANTED = GlowWanted(None, None, None, None, 0.5, 5.0, 1, None)


def test_a_lamp_without_light_cannot_glow(tmp_path: Path) -> None:
    pytest.importorskip("mitsuba")
    file = tmp_path / "dark.toml"
    file.write_text(
        'name = "Dark"\n[materials.ply]\nplywood = "birch"\nsold = 9\n'
        '[[layer]]\nname = "base"\nmaterial = "ply"\noutline = { circle = 80 }\n'
    )
    with pytest.raises(StackviewError, match="no light is described"):
        study_glow(file, WANTED)
