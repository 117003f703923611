"""What an eye sees of the simplest plates, in closed form."""

from math import pi
from pathlib import Path

import pytest

from stackview.description.lamp_file import LampFile
from stackview.study import Study

OPAL_LID = """
name = "Opal lid"
materials.wood = { wood = "walnut", sold = 10 }
materials.ring = { wood = "walnut", sold = 40 }
materials.pane = { acrylic = "opal", sold = 4 }
layer = [
    { name = "base", material = "wood", outline = { circle = 300 } },
    { name = "ring", material = "ring", outline = { circle = 300 }, wall = 10 },
    { name = "pane", material = "pane", outline = { circle = 300 } },
]
light = [{ diode = { on = "base", facing = "up", height = 3 }, watts = 1, lumens = 100, face = [2, 2] }]
surface = { height = 700, size = [2000, 2000] }
eye = [{ name = "over", distance = 300, height = 2200 }]
"""
"""One Lambertian LED 37 mm below an opal pane that lets half of the light through, in dark wood."""


@pytest.mark.slow
@pytest.mark.usefixtures("all_ways")
class TestAnOpalPaneOverOneLed:
    """E = Φ/π · h²/(h² + r²)² below it, and L = T·E/π above: 3,700 cd/m² over the LED.

    Of its light 14²/(14² + 3.7²) = 93.5% meets the pane inside the ring, 47 lm come out: 242 cd/m² in the mean, over the
    ring's opening, for what lies on the ring is no part of it.
    """

    def test_mean(self, tmp_path: Path) -> None:
        # A little more for what the wood gives back.
        assert plate(tmp_path).mean_cd_m2 == pytest.approx(0.935 * 0.5 * 100 / (pi * pi * 0.14**2), rel=0.1)

    def test_peak_and_how_well_it_is_known(self, tmp_path: Path) -> None:
        found = plate(tmp_path)
        assert found.ratio_error < 0.4
        assert found.peak_cd_m2 == pytest.approx(0.5 * 100 / (pi * 0.037) ** 2, rel=0.2)


MIRROR_BOX = """
name = "Mirror box"
cutter = 1
materials.floor = { wood = "ash", sold = 9, coat = "paint", reflects = 0.8 }
materials.wall = { metal = "aluminium", sold = 20, coat = "mirror", reflects = 0.98 }
materials.pane = { acrylic = "opal", sold = 1 }
layer = [
    { name = "base", material = "floor", outline = { rectangle = [102, 102] } },
    { name = "ring", material = "wall", outline = { rectangle = [102, 102] }, opening = { rectangle = [100, 100] } },
    { name = "pane", material = "pane", outline = { rectangle = [102, 102] } },
]
light = [{ panel = { columns = 10, rows = 10, spacing = 10, on = "base" }, lumens = 1 }]
eye = [{ name = "over", distance = 50, height = 1800 }]
"""
"""An even board of light points under opal: mirrors as walls make it go on for ever."""


def test_mirrored_light_makes_an_opal_pane_as_bright_as_an_endless_one(tmp_path: Path) -> None:
    # E = Φ/A below, and M = E·T/(1 − ρ·R) above: 2,650 cd/m² over the opening. Each time the wall mirrors it takes 2%,
    # and of what comes out the pane's edge has 2%; what is mirrored is a third of all.
    (tmp_path / "lamp.toml").write_text(MIRROR_BOX, encoding="utf-8")
    study = Study.read(tmp_path / "lamp.toml")
    (pane,) = study.spots_from(study.lamp.eyes[0], 0.0).plates
    exact = 100.0 / 0.1**2 * 0.5 / (1.0 - 0.8 * 0.5) / pi
    assert pane.mean_cd_m2 == pytest.approx(exact, rel=0.08)
    assert study.light_leaving.lumens == pytest.approx(exact * pi * 0.1**2, rel=0.05)


def plate(folder: Path):  # type: ignore[no-untyped-def]
    file = folder / "lamp.toml"
    file.write_text(OPAL_LID, encoding="utf-8")
    return Study.read(file).spots[0].plates[0]


def test_an_even_lid_is_even_though_it_lies_broadly_on_its_ring(tmp_path: Path) -> None:
    # The same box under a pane that lies 15 mm deep on the wall all round: 1, and 1.7 to 2 with the landing in its surround.
    wide = MIRROR_BOX.replace("[102, 102]", "[130, 130]")
    (tmp_path / "lamp.toml").write_text(wide, encoding="utf-8")
    study = Study.read(tmp_path / "lamp.toml")
    (pane,) = study.spots_from(study.lamp.eyes[0], 0.0).plates
    assert 1.0 <= pane.ratio < 1.3
    assert pane.mean_cd_m2 == pytest.approx(100.0 / 0.1**2 * 0.5 / (1.0 - 0.8 * 0.5) / pi, rel=0.1)


@pytest.mark.parametrize("high", [25.0, 50.0, 100.0])
def test_one_led_under_opal_in_black_is_as_spotty_as_its_cos4_law_says(high: float) -> None:
    # E = Φ/π · h²/(h² + r²)², peak over mean within r = 50 is 1 + (r/h)²; the face stands 0.1 mm off its board.
    text = f"""
name = "Black well"
cutter = 1
materials.wood = {{ wood = "ash", sold = {high}, coat = "paint", reflects = 0.01 }}
materials.pane = {{ acrylic = "opal", sold = 1 }}
layer = [
    {{ name = "base", material = "wood", outline = {{ circle = 140 }} }},
    {{ name = "ring", material = "wood", outline = {{ circle = 140 }}, opening = {{ circle = 100 }} }},
    {{ name = "pane", material = "pane", outline = {{ circle = 140 }} }},
]
light = [{{ diode = {{ on = "base" }}, lumens = 100, face = [2, 2] }}]
eye = [{{ name = "over", distance = 60, height = 1600 }}]
"""
    study = Study(LampFile.from_text(text))
    (pane,) = study.spots_from(study.lamp.eyes[0], 0.0).plates
    square = (high - 0.1) ** 2
    assert pane.ratio == pytest.approx(1.0 + 50.0**2 / square, rel=0.12)
    out = 0.5 * 100.0 * 50.0**2 / (50.0**2 + square)
    assert pane.mean_cd_m2 == pytest.approx(out / (pi * pi * 0.05**2), rel=0.03)
    assert study.light_leaving.lumens == pytest.approx(out, rel=0.03)
