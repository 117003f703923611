import numpy as np
import pytest

from stackview.sight.camera import project, rays, starts
from stackview.stills.viewpoints import parallel_view, turning_view

CUBE = np.array([[x, y, z] for x in (-50, 50) for y in (-50, 50) for z in (0, 100)], float)


def test_parallel_view_fills_its_room_and_has_one_scale():
    room = (100.0, 50.0, 700.0, 550.0)
    camera = parallel_view(CUBE, 0.0, 0.0, (800, 600), room)
    at = project(camera, CUBE)
    # 100 mm in 500 px of height: the tighter way.
    assert camera.scale == pytest.approx(5.0)
    assert np.allclose(at.min(axis=0), (150.0, 50.0))
    assert np.allclose(at.max(axis=0), (650.0, 550.0))
    # Front and back corners fall onto each other: no perspective.
    assert len(np.unique(np.round(at, 6), axis=0)) == 4


@pytest.mark.parametrize(("bearing", "elevation"), [(30.0, 20.0), (200.0, -35.0), (0.0, 90.0)])
def test_a_parallel_ray_meets_the_place_that_projects_to_its_pixel(bearing, elevation):
    camera = parallel_view(CUBE, bearing, elevation, (400, 300), (20.0, 20.0, 380.0, 280.0))
    at = project(camera, CUBE)
    assert at.min() > 0
    assert (at.max(axis=0) < (400, 300)).all()
    begin, way = starts(camera, at[:, 0], at[:, 1]), rays(camera, at[:, 0], at[:, 1])
    off = CUBE - begin
    along = (off * way).sum(axis=1)
    # In front of the plane that rays start from, and on the ray itself.
    assert (along > 0).all()
    assert np.abs(off - along[:, None] * way).max() < 1e-3


def test_a_turning_lamp_keeps_its_place_and_size():
    cameras = [turning_view(CUBE, bearing, 18.0, (640, 480)) for bearing in range(0, 360, 10)]
    assert np.ptp([camera.distance for camera in cameras]) < 1e-6
    assert np.ptp([camera.target[2] for camera in cameras]) < 1e-6
    foot = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 100.0]])
    places = np.array([project(camera, foot) for camera in cameras])
    # The axis stands still in the picture, upright in its middle.
    assert np.ptp(places, axis=0).max() < 1e-6
    assert np.allclose(places[:, :, 0], 320.0)
    for camera in cameras:
        at = project(camera, CUBE)
        assert at.min() > 0
        assert (at.max(axis=0) < (640, 480)).all()
