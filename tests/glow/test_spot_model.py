"""The model of a photograph: what it makes of a spot when nothing is off, and which way each unknown moves it."""

from math import cos, log, radians

import numpy as np
import pytest

from stackview.glow.spot_model import UNTOLD, Setup, Shot, SpotModel
from stackview.glow.spot_table import spot_of_face
from stackview.glow.step_sheet import KnownSteps
from stackview.glow.tone_curves import from_light

SETUP = Setup(25.0, 4.0, 0.25, "both", 2.66, 400.0, 0.0)


def shot(exposure: float = 1.0, spread: float = 0.0, setup: Setup = SETUP) -> Shot:
    """Rings of the table's own spot of roughness 0.2, in a frame too large for the lens to darken it."""
    radius = np.linspace(0.5, 60.0, 50)
    over = setup.over(400.0)
    spot = spot_of_face(radius * 0.25 / over, 0.2, 4.0 / over, "both", 2.66 / np.sqrt(np.pi) / 25.0)
    light = 0.5 * exposure * (spot / spot[0] + np.exp(-5.0))
    return Shot(radius, from_light(light), np.full(50, 0.003), 1e6, log(exposure), spread)


def known(model: SpotModel) -> np.ndarray:
    unknowns = np.zeros(model.count)
    unknowns[0] = log(0.5)
    return unknowns


def test_with_nothing_off_it_is_the_table_s_spot() -> None:
    model = SpotModel((shot(),), SETUP, 0.0)
    rest = model.left_over(model.spot(0.2), known(model))
    assert np.abs(rest).max() < 0.5
    assert model.values_left(model.spot(0.2), known(model)) == pytest.approx(np.zeros(50), abs=1.5e-3)
    assert np.abs(model.left_over(model.spot(0.3), known(model))).max() > 20.0


def test_exposures_share_the_light() -> None:
    model = SpotModel((shot(), shot(0.25, 0.03)), SETUP, 0.0)
    unknowns = known(model)
    assert np.exp(model.exposures(unknowns)) == pytest.approx([1.0, 0.25])
    assert np.abs(model.left_over(model.spot(0.2), unknowns)).max() < 0.5
    unknowns[-1] = 1.0
    assert np.exp(model.exposures(unknowns))[1] == pytest.approx(0.25 * np.exp(0.03))


def test_of_untold_exposures_the_led_may_have_been_dimmed_and_the_room_stayed() -> None:
    """A quarter of the LED's light over the same room: the background counts four times as much beside the spot."""
    full, told = shot(), shot(0.25, 0.03)
    room = 0.5 * 0.75 * np.exp(-5.0)
    light = (
        np.interp(told.value, from_light(np.linspace(0.0, 1.0, 20_001)), np.linspace(0.0, 1.0, 20_001)) + room
    )
    untold = Shot(told.radius, from_light(light), told.error, 1e6, log(0.25), UNTOLD)
    model = SpotModel((full, untold), SETUP, 0.0)
    unknowns = known(model)
    assert np.abs(model.left_over(model.spot(0.2), unknowns)).max() > 0.8
    unknowns[-2] = log(4.0) / 1.5
    rest = model.left_over(model.spot(0.2), unknowns)
    assert np.abs(rest[:100]).max() < 0.5
    assert np.exp(model.exposures(unknowns))[1] == pytest.approx(0.25)
    # Where the exposure was told the room's light went with it.
    same = SpotModel((full, told), SETUP, 0.0)
    assert np.abs(same.left_over(same.spot(0.2), unknowns)[:100]).max() < 0.5


def test_steps_are_their_light_and_have_a_height_of_their_own() -> None:
    reflectance = np.array([0.9, 0.45, 0.18])
    steps = KnownSteps(np.tile(from_light(0.3 * reflectance)[:, None], (1, 8)), reflectance)
    model = SpotModel((shot(),), SETUP, 0.0, steps)
    unknowns = known(model)
    unknowns[-1] = log(0.3)
    rest = model.left_over(model.spot(0.2), unknowns)[50:53]
    assert rest == pytest.approx(np.zeros(3), abs=0.02)
    # A height off by a tenth is two standard deviations of steps that are known to 0.05.
    unknowns[-1] = log(0.3) - 0.1
    assert model.left_over(model.spot(0.2), unknowns)[50:53] == pytest.approx(np.full(3, 2.0), abs=0.02)


def test_a_near_camera_and_a_tilt_change_the_spot_s_width_as_geometry_says() -> None:
    # d·D/(d + D): 25 mm and 400 mm give 23.53 mm; aslant by t the LED is 1/cos t as far away.
    assert SETUP.over(400.0) == pytest.approx(23.5294, rel=1e-5)
    widened, error = Setup(25.0, 4.0, 0.25, tilt=15.0).aslant
    assert np.exp(widened) == pytest.approx(1.0 / cos(radians(15.0)))
    assert error == pytest.approx(np.hypot(np.tan(radians(15.0)) * radians(4.0), 0.3 * radians(15.0) ** 2))
    assert Setup(25.0, 4.0, 0.25).likely_camera == (300.0, 0.6)


def test_the_lens_darkens_only_towards_the_corners() -> None:
    plain = shot()
    near = Shot(plain.radius, plain.value, plain.error, 60.0)
    far, close = (SpotModel((one,), SETUP, 0.0) for one in (plain, near))
    spot = far.spot(0.2)
    dimmed = close.brightness(spot, known(close))[0] - far.brightness(spot, known(far))[0]
    # cos⁴ at a squared tangent of 0.1 in the corner: (1 + 0.1)^-2.
    assert dimmed[0] == pytest.approx(0.0, abs=1e-3)
    assert dimmed[-1] == pytest.approx(-2.0 * log(1.1), abs=1e-6)
