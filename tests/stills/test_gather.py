import numpy as np
import pytest

from stackview.solids.rays import target
from stackview.stills.dome import KEY, KEY_LIGHT, dome, hemisphere
from stackview.stills.gather import World, bounced, gather, in_the_dark
from stackview.stills.panes import Panes
from stackview.stills.refine import facets
from tests.stills import lamps

UP = np.array([[0, 0, 1]], np.float32)


def world_of(*manifolds):
    solids = [lamps.solid_of(manifold) for manifold in manifolds]
    mesh = facets([(s.vertices, s.triangles, s.faces) for s in solids], range(len(solids)), edge=1e6)
    nothing = Panes(
        target(np.zeros((0, 3)), np.zeros((0, 3), np.int64)),
        np.zeros((0, 3), np.float32),
        np.zeros(0, np.float32),
    )
    closed = np.ones(len(mesh.triangles), bool)
    return World(target(mesh.vertices, mesh.triangles), mesh.flat, closed, nothing, None), mesh


def test_open_ground_sees_the_whole_dome_and_the_large_light():
    world, _ = world_of(lamps.prism([lamps.circle(1)], -3, -2))
    sky = gather(np.zeros((1, 3), np.float32), UP, world, rays=64, key=16).sky[0]
    assert sky == pytest.approx(dome(hemisphere(64)).mean(axis=0) + KEY[2] * KEY_LIGHT, rel=0.02)


def test_inside_a_closed_box_there_is_no_sky():
    walls = lamps.prism([lamps.circle(50, 4)], 0, 50) - lamps.prism([lamps.circle(45, 4)], 5, 45)
    world, _ = world_of(walls)
    seen = gather(np.array([[0, 0, 5.1]], np.float32), UP, world, rays=64, key=16)
    assert seen.sky.max() == 0
    assert (seen.wall >= 0).all()


def test_a_furnace_gives_back_what_its_walls_send():
    walls = lamps.prism([lamps.circle(50, 4)], 0, 50) - lamps.prism([lamps.circle(45, 4)], 5, 45)
    world, mesh = world_of(walls)
    seen = gather(np.array([[3, 7, 5.1]], np.float32), UP, world, rays=64, key=16)
    sent = np.full((len(mesh.triangles), 6), 0.25, np.float32)
    assert bounced(seen, sent, np.zeros((0, 6), np.float32)) == pytest.approx(np.full((1, 6), 0.25))


def test_a_point_covered_by_another_part_is_buried_and_one_beside_it_is_not():
    world, _ = world_of(lamps.prism([lamps.circle(20)], 0, 10))
    at = np.array([[0, 0, 0.06], [40, 0, 0.06], [0, 0, 10.06]], np.float32)
    assert in_the_dark(at, np.repeat(UP, 3, axis=0), world).tolist() == [True, False, False]


def test_no_points_gather_nothing():
    world, _ = world_of(lamps.prism([lamps.circle(20)], 0, 10))
    none = np.zeros((0, 3), np.float32)
    assert gather(none, none, world, rays=8, key=2).sky.shape == (0, 3)
    assert in_the_dark(none, none, world).shape == (0,)
