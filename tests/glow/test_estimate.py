"""The quick estimate on whole lamps: closed forms, a fresh rendering, and what it must not claim."""

from pathlib import Path

import numpy as np
import pytest

from stackview.description.light_source import Diode, Runs, Strip
from stackview.description.reading import read_text
from stackview.glow.estimate import UNKNOWN, UNLIT, Estimate, estimates, spread_along
from stackview.glow.merging import merges_at
from stackview.light.layout import LightLayout, lay_out
from stackview.stack.assembly import Stack, assemble
from tests.glow.endless_row import row_profile
from tests.light.lamps import stack_with

# A box of light: LEDs on the base, a ring that holds a plate over them.
BOX = """
name = "Box"
[materials]
thick = {{ plywood = "birch", sold = 18, measured = 18 }}
wall = {{ wood = "beech", sold = {height} }}
plate = {{ {plate} }}
[[layer]]
name = "base"
material = "thick"
outline = {{ circle = 260 }}
[[layer]]
name = "ring"
material = "wall"
outline = {{ circle = 260 }}
wall = {wall}
[[layer]]
name = "plate"
material = "plate"
outline = {{ circle = 260 }}
[[light]]
{light}
[[eye]]
name = "above"
distance = {distance}
height = 1600
"""
OPAL = 'acrylic = "opal", sold = 4'
SANDED = 'acrylic = "clear", sold = 4, finish = "sanded", roughness = {}'
DIODE = 'diode = { on = "base", facing = "up" }'
PANEL = 'panel = { on = "base", columns = 19, rows = 19, spacing = 10 }'
ROW = 'panel = { on = "base", columns = 21, rows = 1, spacing = 10 }'


def assembled(
    plate: str, light: str, height: float = 20.0, wall: float = 10.0, distance: float = 300.0
) -> tuple[Stack, LightLayout]:
    text = BOX.format(plate=plate, light=light, height=height, wall=wall, distance=distance)
    stack = assemble(read_text(text, "box.toml", Path()))
    return stack, lay_out(stack)


def of_box(plate: str, light: str, **given: float) -> Estimate:
    (found,) = estimates(*assembled(plate, light, **given))
    return found


@pytest.mark.parametrize(("wall", "height"), [(40.0, 60.0), (80.0, 30.0)])
def test_one_diode_under_opal_is_the_closed_form(wall: float, height: float) -> None:
    # E ∝ (1 + r²/d²)^-2 has the mean d²/(R² + d²) over a disc of radius R: peak over mean 1 + R²/d².
    found = of_box(OPAL, DIODE, wall=wall, height=height)
    assert found.distance is not None
    expected = 1.0 + ((130.0 - wall) / found.distance) ** 2
    assert found.ratio == pytest.approx(expected, rel=0.06)
    assert found.pitch is None
    assert found.merges_at is None
    assert "one spot alone" in found.why


def test_panel_under_opal_is_even_at_a_pitch_and_more_and_spotty_near() -> None:
    even = of_box(OPAL, PANEL, height=25.0)
    assert (even.word, even.finish, even.pitch) == ("even", "opal", pytest.approx(10.0))
    assert even.ratio == pytest.approx(1.0, abs=0.1)
    near = of_box(OPAL, PANEL, height=4.0)
    assert near.ratio is not None
    assert even.ratio is not None
    assert near.ratio > 1.5 * even.ratio
    assert near.merges_at is not None
    assert even.merges_at is not None
    assert near.merges_at > even.merges_at


def test_long_row_under_opal_merges_as_its_endless_ripple_does() -> None:
    found = of_box(OPAL, ROW, height=6.0)
    assert found.distance is not None
    over = found.distance / 10.0
    place = np.arange(256) / 256.0
    wave = 2.0 * float((row_profile(place, over) * np.cos(2.0 * np.pi * place)).mean())
    assert found.merges_at == pytest.approx(merges_at(10.0, wave), rel=0.05)


def test_sanded_plates_are_less_spotty_the_rougher() -> None:
    found = [of_box(SANDED.format(value), ROW, height=12.0) for value in (0.05, 0.1, 0.2, 0.3, 0.5)]
    ratios = [one.ratio for one in found]
    assert all(ratio is not None for ratio in ratios)
    assert ratios == sorted(ratios, reverse=True)  # type: ignore[type-var]
    assert found[0].word == "single LEDs"
    assert "roughness 0.05 as given" in found[0].why


def test_sanded_row_is_what_the_renderer_gives_in_the_same_measure() -> None:
    pytest.importorskip("mitsuba")
    from stackview.glow.engine import built, photographed
    from stackview.glow.offcut import Offcut, offcut_scene
    from stackview.glow.room import DARK
    from stackview.sight.camera import Camera

    found = of_box(SANDED.format(0.25), ROW, height=12.0)
    assert found.distance is not None
    leds = np.column_stack([(np.arange(21) - 10) * 10.0, np.zeros(21)])
    offcut = Offcut(found.distance, 4.0, 0.25, "both", 260.0)
    face = float(np.sqrt(2.8 * 3.5 / np.pi))
    pixels, span = 50, 50.0
    camera = Camera(
        0.0,
        90.0,
        9000.0,
        (0.0, 0.0, 4.0),
        float(2 * np.degrees(np.arctan(span / 2 / 9000.0))),
        (pixels, pixels),
    )
    picture = photographed(built(offcut_scene(offcut, leds, face), DARK), camera, 256, 31)[..., 1].astype(
        float
    )
    place = (np.arange(pixels) + 0.5 - pixels / 2) * span / pixels
    x, y = np.meshgrid(place, place)
    weights = np.exp(-(x**2 + y**2) / 2 / 10.0**2)
    peak = picture[np.hypot(x, y) < 1.0].mean()
    assert found.ratio == pytest.approx(peak / ((picture * weights).sum() / weights.sum()), rel=0.1)


def test_clear_plates_show_single_leds() -> None:
    found = of_box('acrylic = "clear", sold = 4', PANEL)
    assert (found.word, found.ratio) == ("single LEDs", None)


def test_flat_views_of_sanded_plates_are_not_answered() -> None:
    found = of_box(SANDED.format(0.3), ROW, height=12.0, distance=4000.0)
    assert (found.word, found.ratio) == (UNKNOWN, None)
    assert "30°" in found.why


def test_too_far_or_too_smooth_for_the_table_is_said() -> None:
    far = of_box(SANDED.format(0.3), ROW, height=40.0)
    assert (far.word, far.ratio) == (UNKNOWN, None)
    assert "outside what was measured, 0.25 to 3" in far.why


def test_light_from_beside_a_sanded_plate_is_not_answered() -> None:
    ring = 'ring = { on = "base", diameter = 100, count = 12, facing = "out", height = 10 }'
    found = of_box(SANDED.format(0.3), ring)
    assert (found.word, found.ratio) == (UNKNOWN, None)
    assert "from beside" in found.why


def test_plate_behind_another_is_not_lit_and_no_light_is_no_estimate() -> None:
    text = BOX.format(plate=OPAL, light=DIODE, height=20, wall=10, distance=300)
    second = '[[layer]]\nname = "upper"\nmaterial = "plate"\noutline = { circle = 260 }\n[[light]]'
    stack = assemble(read_text(text.replace("[[light]]", second, 1), "box.toml", Path()))
    lower, upper = estimates(stack, lay_out(stack))
    assert lower.ratio is not None
    assert (upper.word, upper.ratio) == (UNLIT, None)
    dark = assemble(read_text(text.partition("[[light]]")[0], "box.toml", Path()))
    assert estimates(dark, lay_out(dark)) == ()


def test_flux_and_turn_change_nothing() -> None:
    plain = of_box(OPAL, PANEL, height=6.0)
    brighter = of_box(OPAL, PANEL + "\nlumens = 50", height=6.0)
    assert brighter.ratio == pytest.approx(plain.ratio)


def strip(continuous: bool) -> Runs:
    return Runs(Strip(5.0, 5.0, 8.0, 2.0, continuous=continuous), 2, 0.0, 10.0, 60.0)


def test_continuous_strip_is_four_times_as_fine_with_the_same_light() -> None:
    light = lay_out(stack_with(strip(True)))
    lumens = np.arange(1.0, len(light.points) + 1.0)
    found = spread_along(light, lumens)
    assert len(found.points) == 4 * len(light.points)
    assert found.lumens.sum() == pytest.approx(lumens.sum())
    middles = found.points.centres.reshape(-1, 4, 3).mean(axis=1)
    assert middles == pytest.approx(light.points.centres)
    assert found.continuous.all()
    first = found.points.centres[:8, 2]
    assert np.diff(np.sort(first)) == pytest.approx(1.25)


def test_leds_stay_as_they_are() -> None:
    for layout in (strip(False), Diode("base", "up", (0.0, 0.0), 3.0, 0.0, 0.0)):
        light = lay_out(stack_with(layout))
        found = spread_along(light, np.ones(len(light.points)))
        assert found.points.centres == pytest.approx(light.points.centres)
        some, lumens = found.at(np.array([0]))
        assert (len(some), lumens.tolist()) == (1, [1.0])
