"""What is laid out for tracing: which faces are open, what is one surface, and its normals."""

from dataclasses import replace

import numpy as np
import pytest

from stackview.description.material import Finish
from stackview.sight.clear_bodies import _from_axis, clear_bodies, has_clear_faces
from stackview.sight.paths import LightPaths, followed
from stackview.sight.scene import scene_of
from stackview.solids.build import solid_of
from stackview.solids.solid import Face
from stackview.stack.placed import Placed
from tests.lamps import box, disc, ring
from tests.stack.layers import CLEAR, plate, square
from tests.stills.demos import demo

SANDED = Finish(top="sanded", underside="sanded", edge="sanded")


def test_lamps_without_a_clear_face_have_nothing_to_trace() -> None:
    parts = (
        ring("wood", 40, 60, 0, 10),
        disc("opal", 30, 0, 3, "opal"),
        disc("sanded", 30, 5, 8, "clear", finish=SANDED),
    )
    assert not has_clear_faces(scene_of(parts))
    assert clear_bodies(scene_of(parts)) is None
    assert clear_bodies(scene_of(())) is None


def test_faces_are_open_one_by_one() -> None:
    scene = scene_of((disc("plate", 30, 0, 3, "clear", finish=Finish(top="sanded")), disc("wood", 30, 5, 8)))
    bodies = clear_bodies(scene)
    assert bodies is not None
    plate = scene.solid_of_triangle == 0
    assert np.array_equal(bodies.open, plate & (scene.faces != Face.TOP))


def test_a_round_side_is_one_surface_with_the_normals_of_its_circle() -> None:
    scene = scene_of((disc("plate", 30, 0, 3, "clear"),))
    bodies = clear_bodies(scene)
    assert bodies is not None
    assert len(np.unique(bodies.surface)) == 3
    side = scene.faces == Face.OUTER
    corners = scene.vertices[scene.triangles[side]]
    radial = corners * [1.0, 1.0, 0.0]
    assert bodies.corners[side] == pytest.approx(radial / 30.0, abs=1e-9)
    # Top and underside keep their own to the last bit.
    assert np.all(bodies.corners[scene.faces == Face.TOP] == [0.0, 0.0, 1.0])


def test_a_box_has_six_flat_surfaces() -> None:
    scene = scene_of((box("plate", [0, 0, 0], [30, 20, 3], "clear"),))
    bodies = clear_bodies(scene)
    assert bodies is not None
    assert len(np.unique(bodies.surface)) == 6
    assert np.array_equal(bodies.corners, np.repeat(bodies.normals[:, None], 3, axis=1))


def test_straight_sides_keep_their_normal_beside_round_corners() -> None:
    # Facets of an 8 mm corner turn by 2·acos(1 − 0.05/8) = 12.8°; the straight sides must not follow.
    solid = solid_of(plate("plate", square(100.0, 8.0)), 0.05)
    part = Placed("plate", "layer", CLEAR, Finish(), solid, 0.0, 4.0, 0.0, 0.0)
    bodies = clear_bodies(scene_of((part,)))
    assert bodies is not None
    assert len(np.unique(bodies.surface)) == 3, "the whole outline is one smooth surface"
    straight = (np.abs(bodies.normals[:, :2]).max(axis=1) > 1 - 1e-9) & (solid.faces == Face.OUTER)
    assert straight.sum() == 8
    turned = np.einsum("tcx,tx->tc", bodies.corners[straight], bodies.normals[straight])
    assert np.degrees(np.arccos(np.minimum(turned, 1.0))).max() < 0.01
    # At the corner's own joints the normal is the circle's.
    middles = np.array([[42.0, 42.0], [-42.0, 42.0], [-42.0, -42.0], [42.0, -42.0]])
    corners = solid.vertices[solid.triangles]
    for triangle in np.flatnonzero((solid.faces == Face.OUTER) & ~straight):
        offset = corners[triangle][:, :2]
        middle = middles[np.argmin(np.linalg.norm(middles - offset.mean(axis=0), axis=1))]
        radial = (offset - middle) / 8.0
        off = np.einsum("cx,cx->c", radial, bodies.corners[triangle][:, :2])
        assert np.degrees(np.arccos(np.minimum(off, 1.0))).max() < 0.2


def test_only_faces_that_a_neighbour_comes_near_to_are_asked_for_contacts() -> None:
    pane = box("pane", [0, 0, 0], [30, 20, 3], "clear")
    wood, post = box("wood", [5, 5, 3.01], [10, 10, 9]), box("post", [31, 0, 0], [35, 5, 3])
    scene = scene_of((pane, wood, post))
    bodies = clear_bodies(scene)
    assert bodies is not None
    own = scene.solid_of_triangle == 0
    assert not bodies.touched[~own].any()
    assert not bodies.touched[own & (scene.faces != Face.TOP)].any()
    assert bodies.touched[own & (scene.faces == Face.TOP)].any()


def test_how_near_triangles_come_to_the_axis() -> None:
    corners = np.array(
        [
            [[-3, -3, 0], [5, -3, 1], [0, 4, 2]],  # about it
            [[3, 4, 0], [6, 8, 0], [9, 4, 0]],  # a corner
            [[2, -7, 0], [2, 9, 0], [8, 0, 3]],  # a side
            [[4, -5, 0], [4, 5, 0], [4, 5, 9]],  # upright: a stretch, seen from above
        ],
        float,
    )
    assert _from_axis(corners) == pytest.approx([0.0, 5.0, 2.0, 4.0])


def test_asking_everywhere_finds_no_more_contacts() -> None:
    stack, _ = demo("turning-lantern")
    bodies = clear_bodies(scene_of(stack.placed))
    assert bodies is not None
    everywhere = replace(bodies, touched_from=np.zeros(len(bodies.touched_from)))
    draw = np.random.default_rng(5)
    way = draw.normal(size=(4000, 3)) * [1.0, 1.0, 0.3]
    way /= np.linalg.norm(way, axis=1)[:, None]
    # From within the stack, between the tube and the rings.
    around, height = draw.uniform(0, 2 * np.pi, 4000), draw.uniform(17.0, stack.height, 4000)
    begin = np.stack([19.0 * np.cos(around), 19.0 * np.sin(around), height], axis=1)
    some, all_ = (followed(one, begin, way) for one in (bodies, everywhere))
    assert (some.faces > 0).sum() > 50
    assert not bodies.touched.all()
    for name in LightPaths.__slots__:
        assert np.array_equal(getattr(some, name), getattr(all_, name))
