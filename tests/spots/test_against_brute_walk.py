"""Light of one light point under a sanded plate, against a walk that was written independently of the program."""

import numpy as np
import pytest

from stackview.arrays import Floats, Whole
from stackview.sight.camera import rays
from stackview.spots.from_eye import light_from_eye, lit_faces
from tests.spots.brute_walk import shown_to
from tests.spots.sanded_over_one import SandedOverOne, sanded_over_one

GROUPS, FORWARDS = 8, 400_000
"""Groups that tell the sampling errors, and ways of the brute walk in each; of the program's one goes to each pixel."""
WITHIN = 0.015
"""And so far the two may differ besides: the plate is a polygon, its faces stand a hair aside, light is in single floats."""
BATCH = 32_768


def walked(lamp: SandedOverOne, pixels: Whole, chance: np.random.Generator) -> Floats:
    """Luminance (n,) [cd/m²] of some of the plate's pixels by the program: a way from the eye to each."""
    view, found = lamp.view, np.zeros(len(pixels))
    around = lit_faces(lamp.faces, lamp.lit.emitters, lamp.lit.choice)
    for start in range(0, len(pixels), BATCH):
        own = pixels[start : start + BATCH]
        at = view.columns[own] + chance.random(len(own)), view.rows[own] + chance.random(len(own))
        travel = np.ascontiguousarray(rays(lamp.camera, *at).T)
        cell = np.arange(len(own), dtype=np.int32)
        light = light_from_eye(around, lamp.camera.eye.astype(np.float32), travel, cell, chance)
        found[start : start + BATCH] = np.bincount(light.cell, light.value, minlength=len(own))
    return found


def brute_picture(lamp: SandedOverOne, ways: int, chance: np.random.Generator) -> Floats:
    return lamp.picture(shown_to(lamp.camera.eye, lamp.disc, lamp.square, ways, chance))


def assert_alike(what: str, brute: list[float], own: list[float]) -> None:
    """Means of groups are the same within three errors, and what else they may differ by."""
    right, ours = float(np.mean(brute)), float(np.mean(own))
    error = np.hypot(*(np.std(each, ddof=1) / np.sqrt(len(each)) for each in (brute, own)))
    print(f"\n{what}: {right:.0f} by brute force, {ours:.0f} cd/m², ± {error:.0f} together")
    assert abs(ours - right) <= 3.0 * error + WITHIN * right, what


@pytest.mark.slow
@pytest.mark.parametrize("roughness", [0.1, 0.3, 0.45])
def test_mean_and_wide_peak_over_one_led(roughness: float) -> None:
    lamp = sanded_over_one(roughness)
    view, (first, second) = lamp.view, (np.random.default_rng([seed, 41]) for seed in (1, 2))
    brute = [brute_picture(lamp, FORWARDS, first) for _ in range(GROUPS)]
    own = []
    for _ in range(GROUPS):
        picture = np.zeros(view.mask.shape)
        picture[view.places] = walked(lamp, np.arange(len(view.rows)), second)
        own.append(picture)
    means = ([float(one[view.mask].mean()) for one in pictures] for pictures in (brute, own))
    assert_alike(f"mean at {roughness}", *means)
    wide = lamp.through_wide_blur(np.mean(brute, axis=0))
    at = np.unravel_index(wide.argmax(), wide.shape)
    peaks = ([float(lamp.through_wide_blur(one)[at]) for one in pictures] for pictures in (brute, own))
    assert_alike(f"wide peak at {roughness}", *peaks)


def test_mean_over_one_led() -> None:
    """The same on less."""
    lamp, chance = sanded_over_one(0.45), np.random.default_rng(43)
    brute = [float(brute_picture(lamp, 25_000, chance)[lamp.view.mask].mean()) for _ in range(GROUPS)]
    pixels = np.arange(len(lamp.view.rows))
    own = [float(walked(lamp, pixels[group::60], chance).mean()) for group in range(GROUPS)]
    assert_alike("mean", brute, own)
