import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.sight.camera import Camera, axes, eye_view, frame, project, rays
from tests.stills import lamps

LAMP = lamps.gallows()
POINTS = np.concatenate([part.solid.vertices for part in LAMP.placed])
CUBE = np.array([[x, y, z] for x in (-50, 50) for y in (-50, 50) for z in (0, 100)], float)


@pytest.mark.parametrize(
    ("bearing", "elevation", "right", "away"),
    [
        (0, 0, (1, 0, 0), (0, 1, 0)),
        (90, 0, (0, 1, 0), (-1, 0, 0)),
        (180, 0, (-1, 0, 0), (0, -1, 0)),
        (0, 90, (1, 0, 0), (0, 0, -1)),
        (0, -90, (1, 0, 0), (0, 0, 1)),
    ],
)
def test_axes_follow_bearing_counter_clockwise_from_the_front(bearing, elevation, right, away):
    got_right, got_up, got_away = axes(bearing, elevation)
    assert got_right == pytest.approx(np.array(right), abs=1e-12)
    assert got_away == pytest.approx(np.array(away), abs=1e-12)
    assert got_up == pytest.approx(np.cross(right, away), abs=1e-12)


@settings(max_examples=60, deadline=None)
@given(
    st.floats(-720, 720),
    st.floats(-90, 90),
    st.tuples(st.integers(40, 3000), st.integers(40, 3000)),
)
def test_the_lamp_is_never_cropped_and_touches_the_margin_somewhere(bearing, elevation, size):
    camera = frame(LAMP.placed, bearing=bearing, elevation=elevation, size=size)
    at = project(camera, POINTS) / size
    assert at.min() > 0.1
    assert at.max() < 0.9
    spans = np.ptp(at, axis=0)
    assert max(spans[0] / (1 - 2 * 0.14), spans[1] / (1 - 0.11 - 0.15)) == pytest.approx(1, abs=1e-6)


def test_margins_are_even_on_both_sides():
    camera = frame(LAMP.placed, size=(400, 300))
    at = project(camera, POINTS)[:, 0] / 400
    assert at.min() == pytest.approx(1 - at.max(), abs=0.02)


def test_a_cord_may_run_out_of_the_picture():
    cord = lamps.part("cord", lamps.prism([lamps.circle(3, 12)], 80, 1500), lamps.ALUMINIUM, role="cord")
    assert frame((*LAMP.placed, cord)) == frame(LAMP.placed)


def test_a_ray_through_a_projected_point_leads_to_it():
    camera = frame(LAMP.placed, bearing=77, elevation=-21, size=(640, 480))
    at = project(camera, POINTS)
    directions = rays(camera, at[:, 0], at[:, 1])
    towards = POINTS - camera.eye
    towards /= np.linalg.norm(towards, axis=1, keepdims=True)
    assert directions == pytest.approx(towards, abs=2e-6)


def test_rays_in_the_middle_look_along_the_axis():
    camera = Camera(10, 20, 500, (1, 2, 3), 30, (101, 51))
    direction = rays(camera, np.array([50.5]), np.array([25.5]))[0]
    assert direction == pytest.approx(camera.axes[2], abs=1e-6)
    assert camera.eye + 500 * direction == pytest.approx(np.array([1, 2, 3]), abs=1e-3)


def test_field_of_view_spans_the_height():
    camera = Camera(0, 0, 100, (0, 0, 0), 60, (300, 200))
    top, foot = rays(camera, np.array([150.0, 150.0]), np.array([0.0, 200.0]))
    assert np.degrees(np.arccos(top @ foot)) == pytest.approx(60, abs=1e-3)


@pytest.mark.parametrize("size", [(0, 10), (10, 0)])
def test_no_pixels_is_refused(size):
    with pytest.raises(ValueError, match="at least one"):
        frame(LAMP.placed, size=size)


def test_no_parts_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        frame(())


def test_an_eye_stands_where_it_is_and_sees_the_whole_lamp():
    eye = np.array([900.0, -1200.0, 700.0])
    camera = eye_view(CUBE, eye, 100.0, (800, 600))
    assert np.allclose(camera.eye, eye)
    at = project(camera, CUBE)
    assert at.min() > 0
    assert (at.max(axis=0) < (800, 600)).all()
    assert project(camera, np.array([[0.0, 0.0, 50.0]]))[0] == pytest.approx((400.0, 300.0))
    # Similar triangles: pixels per tangent, the same across the picture.
    right, up, away = camera.axes
    offset = CUBE - eye
    tangents = np.stack([offset @ right, -(offset @ up)], axis=1) / (offset @ away)[:, None]
    assert np.allclose((at - (400, 300)) * camera.pixel, tangents)


def test_an_eye_right_above_or_very_near_is_no_error():
    for eye in ([0.0, -1e-6, 900.0], [0.0, -60.0, 50.0]):
        assert eye_view(CUBE, np.array(eye), 100.0, (64, 64)).field_of_view <= 120.0 + 1e-9
