"""Light that leaves a lamp: lamps of which it is known, and the renderer's figures."""

import pytest

from stackview.description.lamp_file import LampFile
from stackview.spots.leaving import light_leaving
from stackview.study import Study

HEAD = """
name = "Leaving"
cutter = 3
[materials]
ash = { wood = "ash", sold = 15, measured = 14.8 }
black = { plastic = "printed", density = 1240, colour = "#000000", sold = 9 }
opal = { acrylic = "opal", sold = 4, measured = 3.8 }
clear = { acrylic = "clear", sold = 4, measured = 3.8 }
sanded = { acrylic = "clear", sold = 4, measured = 3.8, finish = "sanded" }
[[light]]
diode = { on = "base", facing = "up", height = 2 }
lumens = 90
"""


def layer(name: str, material: str, rows: str = "", across: float = 120.0) -> str:
    return f'[[layer]]\nname = "{name}"\nmaterial = "{material}"\noutline = {{ circle = {across} }}\n{rows}\n'


def leaving(*layers: str, ways: int = 16_384):
    study = Study(LampFile.from_text(HEAD + "".join(layers)))
    return light_leaving(study.stack, study.light, ways=ways)


def test_all_light_of_a_diode_in_the_open_leaves() -> None:
    found = leaving(layer("base", "ash"))
    assert (found.lumens, found.given, found.error) == (pytest.approx(90.0), 90.0, 0.0)
    assert found.assumed == ()


def test_none_leaves_a_closed_box() -> None:
    found = leaving(layer("base", "ash"), layer("ring", "ash", "wall = 14"), layer("lid", "ash"))
    assert (found.lumens, found.error) == (0.0, 0.0)


def test_a_black_ring_lets_out_the_cone_that_it_leaves_open() -> None:
    # Lambert's cosine: sin² of the half angle of the cone (closed form); rim 9 up, 46 from the diode, whose face is 2 up
    height, radius = 9.0 - 2.0, 46.0
    share = radius**2 / (radius**2 + height**2)
    found = leaving(layer("base", "black"), layer("ring", "black", "wall = 14"), ways=65_536)
    assert found.lumens / found.given == pytest.approx(share, abs=0.01)


def test_opal_over_black_lets_pass_what_it_transmits() -> None:
    # a lossless sheet of T = 0.5 (the default) right over the diode: what it throws back falls on black, or on the
    # diode's own pale package, which gives some of it back
    found = leaving(
        layer("base", "black"),
        layer("ring", "black", "wall = 14\nthickness = 3"),
        layer("lid", "opal"),
        ways=32_768,
    )
    assert 0.49 < found.lumens / found.given < 0.56


def test_sanding_takes_no_light_from_a_clear_box() -> None:
    boxes = [
        leaving(layer("base", "ash"), layer("ring", sort, "wall = 8"), layer("lid", sort)).lumens
        for sort in ("clear", "sanded", "opal")
    ]
    assert boxes[0] > boxes[1] > boxes[2] > 0.0


def test_the_error_is_that_of_counting_and_the_answer_is_the_same_again() -> None:
    layers = layer("base", "black"), layer("ring", "black", "wall = 14"), layer("lid", "opal")
    found = leaving(*layers, ways=8_192)
    share = found.lumens / found.given
    assert found.error == pytest.approx(((1 - share) / (share * 8_192)) ** 0.5, rel=1e-3)
    assert leaving(*layers, ways=8_192) == found
    assert leaving(*layers, ways=32_768).lumens == pytest.approx(found.lumens, rel=4 * found.error)


def test_a_lamp_without_light_gives_none() -> None:
    study = Study(
        LampFile.from_text(
            'name = "Dark"\nmaterials.ash = { wood = "ash", sold = 9 }\n' + layer("base", "ash")
        )
    )
    assert (study.light_leaving.lumens, study.light_leaving.given) == (0.0, 0.0)
