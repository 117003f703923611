"""What cameras may do to light: sRGB by its standard, and a family that holds curves it was not made from."""

import numpy as np
import pytest

from stackview.glow.tone_curves import from_light, to_light, tone_family
from tests.glow.photographs import CURVES


def test_srgb_becomes_light_by_the_standard() -> None:
    # IEC 61966-2-1: 0.5 → 0.21404114; ends and the straight foot.
    values = to_light(np.array([0.0, 0.04045, 0.5, 1.0]))
    assert values == pytest.approx([0.0, 0.04045 / 12.92, 0.21404114, 1.0], abs=1e-8)
    assert from_light(values) == pytest.approx([0.0, 0.04045, 0.5, 1.0], abs=1e-7)


def test_nothing_of_the_family_is_srgb_itself() -> None:
    family = tone_family()
    plain = family.light_of(np.full(family.directions.shape[1], 0.7), 0.0)
    assert np.exp(plain) == pytest.approx(to_light(family.value), rel=1e-5)


@pytest.mark.parametrize("name", list(CURVES))
def test_the_family_holds_curves_that_it_was_not_made_from(name: str) -> None:
    family = tone_family()
    light = np.geomspace(1e-5, 1.0, 2000)
    made = CURVES[name](light)
    shown = (family.value > 0.1) & (family.value < made.max())
    level = np.interp(family.value[shown], made, np.log(light))
    # One height for all is free, as the spot's is.
    ways = np.column_stack([family.directions[shown], np.ones(shown.sum())])
    found, *_ = np.linalg.lstsq(ways, level - family.standard[shown] - family.mean[shown])
    assert np.abs(ways @ found - (level - family.standard[shown] - family.mean[shown])).max() < 0.12
    assert np.abs(found[0]) < 2.0


def test_light_always_rises_with_the_number() -> None:
    family = tone_family()
    for seed in range(20):
        turned = np.random.default_rng(seed).normal(size=family.directions.shape[1]) * 2.0
        assert (np.diff(family.light_of(turned)) > 0.0).all()
