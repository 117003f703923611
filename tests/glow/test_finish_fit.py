"""Roughness from photographs: on fresh renderings whose roughness is known."""

from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.glow.finish_fit import FinishFit, Setup, check_setup, fit_finish, merged_profile
from stackview.glow.photograph import Photograph, PhotographError, read_photograph
from stackview.glow.spot import find_spot, profile_of
from tests.glow.photographs import CAMERA, PIXELS, SIDE, exposed, light_of, save_jpeg, save_linear


def setup(span: float = 50.0, sanded="both", distance: float = 25.0) -> Setup:  # type: ignore[no-untyped-def]
    return Setup(distance, 4.0, span / PIXELS, sanded, SIDE, CAMERA)


def fitted(light: np.ndarray, given: Setup) -> FinishFit:
    return fit_finish([Photograph("spot.tif", light, light >= 0.975, 1, "linear")], given)


CASES = [
    pytest.param(0.05, "both", 22.0, marks=pytest.mark.slow),
    pytest.param(0.1, "both", 30.0, marks=pytest.mark.slow),
    (0.2, "both", 50.0),
    pytest.param(0.3, "both", 60.0, marks=pytest.mark.slow),
    pytest.param(0.4, "both", 80.0, marks=pytest.mark.slow),
    pytest.param(0.05, "lamp-side", 20.0, marks=pytest.mark.slow),
    (0.25, "lamp-side", 50.0),
    pytest.param(0.15, "eye-side", 40.0, marks=pytest.mark.slow),
]


@pytest.mark.parametrize(("roughness", "sanded", "span"), CASES)
def test_jpeg_with_noise_gives_the_roughness_back(roughness, sanded, span, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    samples = 192 if sanded == "eye-side" else 64
    light = light_of(roughness, sanded, span=span, samples=samples)
    photo = read_photograph(save_jpeg(exposed(light, 0.6), tmp_path / "spot.jpg"))
    found = fit_finish([photo], setup(span, sanded))
    assert found.roughness == pytest.approx(roughness, rel=0.15)
    assert abs(found.roughness - roughness) < 3.0 * found.error
    assert found.error < 0.2 * found.roughness
    assert found.word != "poor"


@pytest.mark.parametrize("exposure", [pytest.param(0.15, marks=pytest.mark.slow), 0.3, 0.6])
def test_exposure_does_not_matter(exposure: float, tmp_path: Path) -> None:
    light = light_of(0.2)
    photo = read_photograph(save_linear(exposed(light, exposure, 0.002), tmp_path / "spot.tif"))
    assert fit_finish([photo], setup()).roughness == pytest.approx(0.2, rel=0.08)


@pytest.mark.slow
def test_jpeg_quality_blur_and_a_lit_room_do_not_matter_much(tmp_path: Path) -> None:
    light = light_of(0.2)
    for quality, blur, room in ((60, False, 0.004), (90, True, 0.004), (90, False, 0.08)):
        file = save_jpeg(exposed(light, 0.6, blur=blur, room=room), tmp_path / "spot.jpg", quality)
        assert fit_finish([read_photograph(file)], setup()).roughness == pytest.approx(0.2, rel=0.12)


@pytest.mark.slow
def test_spot_off_the_middle_of_the_photograph() -> None:
    light = exposed(light_of(0.2, aside=(6.0, -4.0)), 0.6)
    assert fitted(light, setup()).roughness == pytest.approx(0.2, rel=0.08)


def test_two_exposures_are_joined_by_what_neither_clips(tmp_path: Path) -> None:
    light = light_of(0.2)
    dark, bright = exposed(light, 0.5, 0.002), exposed(light, 4.0, 0.002)
    photos = [
        read_photograph(save_linear(values, tmp_path / f"{name}.tif"))
        for name, values in (("bright", bright), ("dark", dark))
    ]
    found = fit_finish(photos, setup())
    assert found.exposures == (1.0, pytest.approx(8.0, rel=0.05))
    assert found.roughness == pytest.approx(0.2, rel=0.08)


def test_joining_puts_both_on_one_curve() -> None:
    light = light_of(0.2)
    found = []
    for exposure in (0.5, 3.0):
        values = exposed(light, exposure, 0.0)
        photo = Photograph(f"{exposure}", values, values >= 0.975, 1, "linear")
        place = find_spot(photo)
        found.append((photo, place, profile_of(photo, place)))
    profile, _ = merged_profile(found)
    dark = found[0][2]
    rest = profile.light[len(dark.light) :]
    expected = np.interp(profile.radius[len(dark.light) :], dark.radius, dark.light)
    assert np.abs(rest - expected).max() < 0.02 * dark.light.max()


def test_one_clipped_photograph_alone_is_refused() -> None:
    with pytest.raises(PhotographError, match="clipped"):
        fitted(exposed(light_of(0.2), 4.0), setup())


def test_two_leds_are_refused() -> None:
    light = exposed(light_of(0.05, leds=((-9.0, 0.0), (9.0, 0.0))), 0.8)
    with pytest.raises(PhotographError, match="more than one"):
        fitted(light, setup())


@pytest.mark.slow
def test_a_camera_taken_as_far_away_reads_low() -> None:
    # d·D/(d + D) = 23.5 mm at D = 400: the spot is 6 % narrower than from far away.
    light = exposed(light_of(0.2), 0.6)
    near = fitted(light, setup()).roughness
    far = fitted(light, Setup(25.0, 4.0, 50.0 / PIXELS, "both", SIDE)).roughness
    assert far / near == pytest.approx(23.5 / 25.0, abs=0.02)


def test_wrong_scale_is_refused() -> None:
    light = exposed(light_of(0.1, span=30.0), 0.6)
    for scale, word in ((0.02, "not that of"), (0.1, "not that of"), (3.0, "wider")):
        with pytest.raises(PhotographError, match=word):
            fitted(light, Setup(25.0, 4.0, scale, "both", SIDE))


def test_bare_led_is_narrower_than_any_sanding() -> None:
    y, x = np.indices((120, 120)) + 0.5
    bell = 0.8 * np.exp(-((x - 60.0) ** 2 + (y - 60.0) ** 2) / 72.0) + 0.01
    with pytest.raises(PhotographError, match="narrower"):
        fitted(bell, Setup(25.0, 4.0, 0.01, "both", 0.05))


def test_a_sharp_disc_is_no_spot_of_a_sanded_sheet() -> None:
    y, x = np.indices((120, 120)) + 0.5
    disc = np.clip(20.0 - np.hypot(x - 60.0, y - 60.0), 0.0, 1.0) * 0.7 + 0.01
    with pytest.raises(PhotographError, match="not that of one LED"):
        fitted(disc, setup())


def test_distance_outside_the_table_is_refused() -> None:
    with pytest.raises(PhotographError, match=r"3\.12 to 100 mm"):
        check_setup(Setup(250.0, 4.0, 0.1))
    with pytest.raises(PhotographError, match="distance"):
        check_setup(Setup(2.0, 4.0, 0.1))
