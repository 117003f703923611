"""Shapes that give a beam: half the intensity at half the angle, and all of the flux, by quadrature."""

from math import cos, log, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad

from stackview.glow.beam_shape import NARROWEST_BEAM, WIDEST_BEAM, BeamShape, intensity_of, shape_for, shining

FACES = ((1.0, 1.0), (3.5, 2.8), (2.0, 5.0))
BEAMS = (12.0, 20.0, 45.0, 60.0, 90.0, 110.0, 130.0, 140.0, 150.0)


def seen(shape: BeamShape, face: tuple[float, float], angle: float, turn: float) -> float:
    """Area in sight from one direction, worked out place by place from plane geometry."""
    across, along = abs(cos(turn)), abs(sin(turn))
    shift = shape.well * tan(angle)
    area = max(face[0] - shift * across, 0.0) * max(face[1] - shift * along, 0.0) * cos(angle)
    for length, onto, past in ((face[1], across, along), (face[0], along, across)):
        if not shape.rim or onto < 1e-12:
            continue
        # How far it is from each place of a side to the tray's nearer wall, along the line of sight.
        place = (np.arange(400) + 0.5) / 400 * length
        ahead = np.full(400, shape.moat / onto)
        beside = (place + shape.moat) / max(past, 1e-12)
        shown = np.minimum(shape.rim, np.minimum(ahead, beside) / tan(max(angle, 1e-9)))
        area += float(shown.mean()) * length * onto * sin(angle)
    return area


def test_a_flat_face_needs_no_shape() -> None:
    assert shape_for(120.0, (2.0, 3.0)) == BeamShape(0.0, 0.0)
    # Lambert: Φ = π·L·A.
    assert shining(BeamShape(0.0, 0.0), (2.0, 3.0)) == pytest.approx(6.0 * pi, rel=1e-6)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("beam", BEAMS)
def test_half_the_axial_intensity_at_half_the_beam_angle(beam: float, face: tuple[float, float]) -> None:
    shape = shape_for(beam, face)
    axial, half = intensity_of(shape, face, np.radians([0.0, beam / 2]))
    assert axial == pytest.approx(face[0] * face[1], rel=1e-9)
    assert half / axial == pytest.approx(0.5, abs=1e-6)
    turns = (np.arange(360) + 0.5) * (pi / 720)
    mean = np.mean([seen(shape, face, radians(beam / 2), turn) for turn in turns])
    assert mean / axial == pytest.approx(0.5, abs=2e-3)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("beam", [30.0, 60.0, 90.0, 140.0])
def test_the_flux_is_that_of_an_independent_quadrature(beam: float, face: tuple[float, float]) -> None:
    shape = shape_for(beam, face)
    flux, _ = dblquad(
        lambda angle, turn: seen(shape, face, angle, turn) * sin(angle),
        0.0, pi / 2, 0.0, pi / 2 - 1e-9, epsabs=1e-4, epsrel=1e-4,
    )  # fmt: skip
    assert shining(shape, face) == pytest.approx(4.0 * flux, rel=3e-3)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize(
    ("beam", "within"),
    [(12, 0.12), (30, 0.12), (60, 0.09), (90, 0.05), (130, 0.05), (140, 0.09), (150, 0.14)],
)
def test_it_lies_as_near_to_the_power_of_the_cosine_as_stated(
    beam: float, within: float, face: tuple[float, float]
) -> None:
    # check values: m = −ln 2/ln cos(θ/2)
    power = -log(2.0) / log(cos(radians(beam / 2)))
    angles = np.radians(np.arange(0.0, 90.0, 0.5))
    intensity = intensity_of(shape_for(beam, face), face, angles) / (face[0] * face[1])
    assert np.abs(intensity - np.cos(angles) ** power).max() < within


@given(st.floats(1.0, 180.0), st.floats(0.5, 8.0), st.floats(0.5, 8.0))
@settings(max_examples=40, deadline=None)
def test_intensity_falls_off_and_nothing_shines_level(beam: float, wide: float, tall: float) -> None:
    shape = shape_for(beam, (wide, tall))
    intensity = intensity_of(shape, (wide, tall), np.radians([0.0, 20.0, 40.0, 60.0, 80.0, 89.9999]))
    if beam < 120:
        assert (np.diff(intensity) <= 1e-9).all()
    assert intensity[-1] < 1e-3 * wide * tall
    assert min(shape.well, shape.rim) == 0


def test_beams_are_held_to_what_has_room() -> None:
    assert shape_for(2.0, (1.0, 1.0)) == shape_for(NARROWEST_BEAM, (1.0, 1.0))
    assert shape_for(180.0, (1.0, 1.0)) == shape_for(WIDEST_BEAM, (1.0, 1.0))
    # The tray of the widest beam is at most three faces wide.
    assert 1.0 + 2.0 * shape_for(180.0, (1.0, 1.0)).moat < 3.0
