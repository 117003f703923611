import colorsys

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE, light_colour
from stackview.stills.finish import (
    DITHER,
    bloomed,
    blurred,
    developed,
    dimmed_to,
    frosted_over,
    grown,
    shrunk,
)


def test_blur_keeps_the_light_and_has_the_gaussians_spread():
    image = np.zeros((121, 141, 1), np.float32)
    image[60, 70] = 1
    out = blurred(image, [(1.0, 6.0)])[:, :, 0].astype(float)
    assert out.sum() == pytest.approx(1, abs=1e-4)
    y, x = np.mgrid[:121, :141]
    assert (out * (x - 70) ** 2).sum() == pytest.approx(36, rel=0.01)
    assert (out * (y - 60) ** 2).sum() == pytest.approx(36, rel=0.01)


def test_bloom_is_round_without_squares():
    image = np.zeros((240, 320, 3), np.float32)
    image[120, 160] = 40
    glow = bloomed(image, 0.2)[:, :, 1] - image[:, :, 1]
    # Pixels at the same distance, straight and aslant (3-4-5 and 20-21-29), glow alike.
    for straight, aslant in ((5, (3, 4)), (10, (6, 8)), (29, (20, 21))):
        ring = [glow[120, 160 + straight], glow[120 - straight, 160]]
        ring += [glow[120 + y, 160 + x] for x, y in (aslant, aslant[::-1], (-aslant[0], -aslant[1]))]
        assert min(ring) > 0
        assert np.ptp(ring) < 0.03 * np.mean(ring)
    # It fades out and is cut nowhere.
    line = glow[120, 170:]
    assert np.diff(line).max() < 1e-5


def test_pictures_below_white_do_not_bloom():
    image = np.full((40, 50, 3), 0.8, np.float32)
    assert bloomed(image, 0.3) == pytest.approx(image)


def test_what_is_too_bright_is_dimmed_and_keeps_its_hue():
    warm = np.array([[26.0, 9.0, 1.0], [0.3, 0.2, 0.1]], np.float32)
    found = dimmed_to(warm, 3.0)
    assert found[0] @ LUMINANCE == pytest.approx(3.0, rel=1e-5)
    assert found[0] / found[0, 1] == pytest.approx(warm[0] / 9.0, rel=1e-5)
    assert found[1] == pytest.approx(warm[1])


@pytest.mark.parametrize("strength", [2.0, 14.0, 60.0])
def test_grey_metal_beside_warm_light_is_warm_and_not_olive(strength):
    warm = light_colour(2700.0) / (light_colour(2700.0) @ LUMINANCE)
    image = np.full((120, 160, 3), 0.30, np.float32)
    image[40:80, 70:74] = strength * warm
    bloom = bloomed(image, 0.3)
    # What the light adds has its own colour, however bright it is ...
    added = (bloom - image)[60, 80]
    assert added / (added @ LUMINANCE) == pytest.approx(warm, rel=1e-3)
    # ... and so the metal turns towards it: a hue within 8 degrees of the light's, not the 60 of yellow.
    shown = developed(bloom, 1.0)[56:64, 78:86].reshape(-1, 3).mean(axis=0) / 255.0
    hue = 360.0 * colorsys.rgb_to_hsv(*shown)[0]
    mixed = np.full(3, 0.30) + added
    wanted = 360.0 * colorsys.rgb_to_hsv(*mixed)[0]
    assert hue == pytest.approx(wanted, abs=8.0)
    assert hue < 45.0


def test_frost_blurs_only_what_is_behind_and_stays_within_its_sheet():
    front = np.full((60, 80, 3), 0.1, np.float32)
    behind = np.zeros((60, 80, 3), np.float32)
    mask = np.zeros((60, 80), np.float32)
    mask[20:40, 20:60] = 1
    behind[20:40, 20:60] = 0.5
    out = frosted_over(front, behind, mask, 4.0)
    # Even light behind an even sheet stays even, up to its rim.
    assert out[mask > 0] == pytest.approx(np.full((800, 3), 0.6), abs=2e-3)
    assert out[mask == 0] == pytest.approx(np.full((4000, 3), 0.1), abs=1e-6)


def test_frost_melts_a_spot():
    behind = np.zeros((60, 80, 3), np.float32)
    behind[30, 40] = 10
    out = frosted_over(np.zeros_like(behind), behind, np.ones((60, 80), np.float32), 4.0)
    assert out.max() < 0.3
    assert out.sum() == pytest.approx(30, rel=0.05)


def test_shrinking_and_growing_keep_even_light_and_odd_sizes():
    image = np.full((37, 53, 2), 0.3, np.float32)
    assert grown(shrunk(image, 4), 4, 37, 53) == pytest.approx(image)
    assert shrunk(image, 1) == pytest.approx(image)


def test_curve_rises_from_black_to_white():
    ramp = np.linspace(0, 20, 2000)[None, :, None].repeat(3, axis=2).astype(np.float32)
    even = np.tile(ramp, (8, 1, 1))
    tones = developed(even, 1.0).astype(float).mean(axis=(0, 2))
    assert tones[0] < 1
    assert tones[-1] > 250
    assert np.diff(tones).min() > -1.01


def test_dither_is_each_threshold_once():
    assert sorted(DITHER.ravel() * 64 - 0.5) == pytest.approx(list(range(64)))


def test_a_gentle_gradient_has_no_steps():
    ramp = np.linspace(0.30, 0.31, 640, dtype=np.float32)[None, :, None].repeat(64, axis=0).repeat(3, axis=2)
    blocks = developed(ramp, 1.0)[:, :, 0].astype(float).reshape(8, 8, 80, 8).mean(axis=(0, 1, 3))
    assert len(np.unique(blocks.round(2))) > 8
