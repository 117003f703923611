"""Lamp and room as arrays."""

import numpy as np
import pytest
import trimesh

from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, shining_faces
from stackview.glow.skins import Clear, Matt, Metal, Mirror, Opal, Sanded
from stackview.spots.faces import Does, grey, optical_faces, owners
from tests.spots.small_scenes import WHITE, body, faces_and_light, level_plane, light_points


def test_each_skin_is_known_by_what_it_does() -> None:
    skins = [
        Matt((0.4,) * 3),
        Sanded(0.3),
        Clear(),
        Opal(0.6, 0.3, 0.1),
        Metal((0.8,) * 3),
        Mirror((0.9,) * 3),
    ]
    planes = [level_plane(skin, 10.0 * k) for k, skin in enumerate(skins)]
    faces = faces_and_light(planes, light_points([[0, 0, 200]], [0, 0, -1])).faces
    kinds = [Does.MATT, Does.SANDED, Does.CLEAR, Does.OPAL, Does.GLOSSY, Does.GLOSSY]
    assert faces.does[: 2 * len(kinds) : 2].tolist() == kinds
    assert faces.back[0] == pytest.approx(0.4)
    assert (faces.through[6], faces.straight[6]) == (pytest.approx(0.6), pytest.approx(0.1))
    assert faces.rough[2] == pytest.approx(0.3)
    assert faces.unspread


@pytest.mark.parametrize(
    ("skin", "unspread"),
    [
        (Matt((0.4,) * 3), False),
        (Opal(0.6, 0.4, 0.0), False),
        (Metal((0.8,) * 3), False),
        (Opal(0.6, 0.3, 0.1), True),
        (Clear(), True),
        (Mirror((0.9,) * 3), True),
    ],
)
def test_clear_faces_and_mirrors_keep_light_unspread(skin, unspread) -> None:
    assert (
        faces_and_light([level_plane(skin)], light_points([[0, 0, 200]], [0, 0, -1])).faces.unspread
        is unspread
    )


def test_normals_of_corners_are_those_of_the_triangle_where_it_is_flat() -> None:
    box = body(trimesh.creation.box((30.0, 20.0, 10.0)), Clear())
    faces = faces_and_light([box], light_points([[0, 0, 200]], [0, 0, -1])).faces
    assert np.allclose(faces.bent, faces.flat[:, None], atol=1e-6)


def test_a_coloured_face_counts_by_the_light_that_falls_on_it() -> None:
    red = (1.0, 0.0, 0.0)
    assert grey(red, WHITE) == pytest.approx(0.2126)
    assert grey(red, (1.0, 0.5, 0.2)) > grey(red, WHITE)


def test_shining_faces_belong_to_their_light_points() -> None:
    points = light_points([[0, 0, 50], [9, 0, 50], [18, 0, 50]], [0, 0, -1])
    from stackview.glow.flux import Flux

    lights, _ = shining_faces(points, Flux(np.full(3, 10.0), ()))
    (light,) = lights
    assert sorted(owners(light, points).tolist()) == [0, 0, 1, 1, 2, 2]
    faces = optical_faces(GlowScene((level_plane(Clear()),), lights, ()), Room(), points, WHITE)
    assert (faces.led >= 0).sum() == 6
    assert faces.part[faces.led >= 0].tolist() == [-1] * 6
