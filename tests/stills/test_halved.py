import numpy as np
import pytest

from stackview.solids.measure import volume
from stackview.solids.solid import Face
from stackview.stills.halved import behind, cut_solid, halved
from tests import lamps
from tests.stills.demos import NAMES, demo


def watertight(solid):
    ends = np.sort(np.concatenate([solid.triangles[:, [a, b]] for a, b in ((0, 1), (1, 2), (2, 0))]), axis=1)
    return (np.unique(ends, axis=0, return_counts=True)[1] == 2).all()


def test_a_block_cut_through_its_middle_is_half_a_block():
    block = lamps.box("block", (-30, -20, 0), (30, 20, 12)).solid
    for bearing, size in ((0.0, 60 * 20 * 12), (90.0, 30 * 40 * 12)):
        half = cut_solid(block, bearing)
        assert half is not None
        assert watertight(half)
        # Plane geometry: the half behind the plane through the axis.
        assert volume(half) == pytest.approx(size)
        assert (half.vertices @ behind(bearing)).min() == pytest.approx(0.0, abs=1e-9)


def test_the_cut_can_stand_anywhere():
    block = lamps.box("block", (-30, -20, 0), (30, 20, 12)).solid
    rest = cut_solid(block, 0.0, 15.0)
    assert rest is not None
    assert volume(rest) == pytest.approx(60 * 5 * 12)
    assert cut_solid(block, 0.0, 20.0) is None
    assert cut_solid(block, 0.0, -20.0) is block


def test_faces_keep_their_names():
    half = cut_solid(lamps.box("block", (-30, -20, 0), (30, 20, 12)).solid, 0.0)
    assert half is not None
    a, b, c = (half.vertices[half.triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    assert (half.faces[normal[:, 2] > 0.9] == Face.TOP).all()
    assert (half.faces[normal[:, 2] < -0.9] == Face.UNDERSIDE).all()
    assert (half.faces[np.abs(normal[:, 2]) < 0.1] == Face.OUTER).all()


@pytest.mark.parametrize("name", NAMES)
def test_every_part_of_a_lamp_is_closed_and_lies_behind_the_cut(name):
    stack, light = demo(name)
    setting = halved(stack, light, 0.0)
    for part in setting.placed:
        assert watertight(part.solid), part.name
        if part.role not in ("core", "cord"):
            assert (part.solid.vertices @ behind(0.0)).min() > -1e-6
            assert volume(part.solid) < volume(stack.part(part.name).solid) * (1 + 1e-9)


def test_a_round_plate_loses_exactly_half():
    stack, light = demo("moor-drum")
    half = {part.name: part for part in halved(stack, light, 30.0).placed}
    assert volume(half["cap"].solid) == pytest.approx(volume(stack.part("cap").solid) / 2, rel=1e-3)


def test_strip_and_core_stay_whole_and_lights_of_lost_parts_go():
    stack, light = demo("honeycomb")
    setting = halved(stack, light, 0.0)
    assert len(setting.points) == len(light.points)
    whole = next(part for part in setting.placed if part.role == "core")
    assert whole.solid is stack.part("core").solid
