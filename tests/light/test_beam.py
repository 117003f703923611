"""The exponent of a beam: half the axial intensity at half its full angle, by definition."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.light.beam import beam_power


@given(st.floats(1.0, 179.0))
def test_intensity_is_half_at_the_half_angle(beam: float) -> None:
    assert np.cos(np.radians(beam / 2)) ** beam_power(beam) == pytest.approx(0.5, rel=1e-9)


def test_a_lambertian_emitter_has_120_degrees() -> None:
    # cos 60° = 1/2, cos² 45° = 1/2.
    assert beam_power(120.0) == pytest.approx(1.0)
    assert beam_power(90.0) == pytest.approx(2.0)


def test_beams_up_to_the_whole_half_space_stay_finite() -> None:
    widest = beam_power(np.array([179.0, 179.9, 180.0]))
    assert np.isfinite(widest).all()
    assert (widest == widest[0]).all()


def test_a_narrower_beam_has_a_larger_exponent() -> None:
    assert (np.diff(beam_power(np.linspace(1.0, 179.0, 179))) < 0).all()


def test_the_shape_of_the_beams_is_kept() -> None:
    assert beam_power(np.full((2, 3), 60.0)).shape == (2, 3)
    assert beam_power(np.zeros(0)).shape == (0,)
