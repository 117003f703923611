"""Where light points appear from within acrylic, by hand."""

import numpy as np
import pytest
import trimesh

from stackview.glow.skins import Matt, Sanded
from stackview.sight.refraction import INDEX
from tests.spots.small_scenes import body, faces_and_light, light_points


def test_a_light_point_before_a_plate_appears_n_times_as_far_behind_its_face() -> None:
    plate = trimesh.creation.box((100.0, 100.0, 4.0))
    plate.apply_translation((60.0, 0.0, 2.0))
    points = light_points([[5.0, 0.0, 2.0], [5.0, 0.0, 60.0]], [1.0, 0.0, 0.0])
    images = faces_and_light([body(plate, Sanded(0.3))], points).images
    # The face begins at x = 10, 5 mm before both; only the first one's axis meets it, the other counts as it does.
    assert images.at[0] == pytest.approx([10.0 - INDEX * 5.0] * 2, abs=0.01)
    assert images.at[2] == pytest.approx([2.0, 60.0], abs=1e-4)


def test_light_points_beside_a_plate_are_looked_for_and_those_above_it_are_not() -> None:
    plate = trimesh.creation.box((100.0, 100.0, 4.0))
    plate.apply_translation((60.0, 0.0, 2.0))
    heights = np.arange(2.0, 130.0, 8.0)
    points = light_points([[5.0, 0.0, height] for height in heights], [1.0, 0.0, 0.0])
    around = faces_and_light([body(plate, Sanded(0.3))], points)
    place = np.array([[12.0], [0.0], [2.0]], np.float32)
    assert 0 in around.images.near[around.choice.cube(place)[0]]
    far = np.array([[30.0, 30.0], [0.0, 0.0], [2.0, 2.0]], np.float32)
    led, triangle = np.array([0, 3]), np.zeros(2, np.int32)
    to = around.images.at[:, led] - far
    length = np.linalg.norm(to, axis=0).astype(np.float32)
    worth = around.images.worth(to / length, length, led, triangle, far[2])
    assert worth[1] < 0.01 * worth[0]


def test_a_lamp_without_sanded_acrylic_has_them_where_they_are() -> None:
    wall = trimesh.creation.box((10.0, 100.0, 100.0))
    wall.apply_translation((60.0, 0.0, 0.0))
    points = light_points([[5.0, 0.0, 2.0]], [1.0, 0.0, 0.0])
    images = faces_and_light([body(wall, Matt((0.5, 0.5, 0.5)))], points).images
    assert images.at[:, 0] == pytest.approx([5.0, 0.0, 2.0], abs=0.2)
