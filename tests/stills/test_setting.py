import numpy as np

from stackview.stills.setting import assembled, chosen_points, lifted, moved_points, without_cord
from tests.stills.demos import demo


def test_a_lamp_that_stands_has_ground_and_a_pendant_has_none():
    assert assembled(*demo("moor-drum")).ground
    assert not assembled(*demo("kelp")).ground
    assert not lifted(assembled(*demo("moor-drum"))).ground


def test_the_cord_runs_out_of_every_picture_but_not_to_the_ceiling():
    stack, light = demo("kelp")
    setting = assembled(stack, light)
    cord = setting.placed[-1]
    assert cord.role == "cord"
    # As far again as the lamp is wide, several times over; the real one is 3 m long.
    assert 3 * 320 < cord.solid.vertices[:, 2].max() < 3000
    assert {part.role for part in without_cord(setting).placed} == {"layer", "core"}


def test_points_move_up_with_their_faces_and_can_be_chosen():
    _, light = demo("honeycomb")
    points = light.points
    up = np.arange(len(points), dtype=float)
    moved = moved_points(points, up)
    assert np.allclose(moved.centres[:, 2] - points.centres[:, 2], up)
    assert np.allclose(moved.corners[:, :, 2] - points.corners[:, :, 2], up[:, None])
    assert np.allclose(moved.centres[:, :2], points.centres[:, :2])
    kept = chosen_points(points, points.centres[:, 0] > 0)
    assert 0 < len(kept) < len(points)
    assert (kept.centres[:, 0] > 0).all()
