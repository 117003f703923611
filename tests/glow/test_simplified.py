import numpy as np
import pytest

from stackview import assemble, light_up, load
from stackview.glow.simplified import simplified

LAMP = """
name = "Two plates"
[materials.clear]
acrylic = "clear"
sold = 4
[materials.ply]
plywood = "birch"
sold = 9
[[layer]]
name = "base"
material = "ply"
outline = { circle = 100 }
[[layer]]
name = "low"
material = "clear"
outline = { circle = 80 }
[[layer]]
name = "high"
material = "UPPER"
outline = { circle = 80 }
[[light]]
diode = { on = "high" }
beam = BEAM
watts = 1
"""


@pytest.mark.parametrize(
    ("upper", "beam", "words"),
    [
        ("clear", 120, ["low and high"]),
        ("ply", 120, []),
        ("ply", 165, ["beams of 165° shine as beams of 150°"]),
        ("ply", 8, ["beams of 8° shine as beams of 12°"]),
    ],
)
def test_what_is_simplified_is_said(tmp_path, upper, beam, words):
    file = tmp_path / "plates.toml"
    file.write_text(LAMP.replace("UPPER", upper).replace("BEAM", str(beam)), encoding="utf-8")
    stack = assemble(load(file))
    found = simplified(stack, light_up(stack).points)
    assert len(found) == len(words)
    assert all(word in said for word, said in zip(words, found, strict=True))
    assert np.isfinite(stack.height)
