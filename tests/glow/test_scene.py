"""The lamp as light meets it: whole bodies, hairs between what touches, and the LEDs' true luminance."""

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh

from stackview.description.material import Finish
from stackview.description.reading import read_lamp, read_text
from stackview.glow.flux import Flux, flux_of
from stackview.glow.scene import (
    FACE_LIFT,
    HAIR,
    GlowScene,
    SkinFaces,
    glow_scene,
    glued_faces,
    part_bodies,
    shining_faces,
)
from stackview.glow.skins import Clear, Matt, Opal, Sanded
from stackview.light.colour import LUMINANCE
from stackview.light.layout import LightLayout, lay_out
from stackview.light.points import LightPoints
from stackview.stack.assembly import Stack, assemble
from tests.lamps import box, disc, light_points, ring

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
PLATE = """
name = "Test"
cutter = 3
[materials]
ply = { plywood = "birch", sold = 9, measured = 8.8 }
clear = { acrylic = "clear", sold = 4, measured = 3.8 }
[[layer]]
name = "base"
material = "ply"
outline = { circle = 120 }
[[layer]]
name = "plate"
material = "clear"
outline = { circle = 100 }
"""


@pytest.fixture(scope="module", params=DEMOS, ids=lambda path: path.stem)
def demo(request: pytest.FixtureRequest) -> tuple[Stack, LightLayout, GlowScene]:
    stack = assemble(read_lamp(request.param))
    light = lay_out(stack)
    return stack, light, glow_scene(stack, light, flux_of(light))


def joined(bodies: Iterable[SkinFaces]) -> trimesh.Trimesh:
    """Bodies as one mesh, vertices at the same place as one."""
    parts = list(bodies)
    starts = np.cumsum([0, *(len(body.vertices) for body in parts)])
    vertices = np.concatenate([body.vertices for body in parts])
    triangles = np.concatenate([body.triangles + at for body, at in zip(parts, starts, strict=False)])
    places, number = np.unique(np.round(vertices, 7), axis=0, return_inverse=True)
    return trimesh.Trimesh(places, number.reshape(-1)[triangles], process=False)


def test_every_part_is_whole_as_the_union_of_its_skins(demo: tuple[Stack, LightLayout, GlowScene]) -> None:
    stack, _, scene = demo
    assert scene.placed == stack.placed
    for number, part in enumerate(stack.placed):
        mesh = joined(body for body in scene.bodies if body.part == number)
        assert mesh.is_watertight, part.name
        assert len(mesh.faces) == len(part.solid.triangles)


def test_acrylic_is_a_hair_smaller_and_wood_as_it_is(demo: tuple[Stack, LightLayout, GlowScene]) -> None:
    stack, _, scene = demo
    glued = glued_faces(stack)
    for number, part in enumerate(stack.placed):
        made = joined(body for body in scene.bodies if body.part == number)
        given = trimesh.Trimesh(part.solid.vertices, part.solid.triangles, process=False)
        if part.opaque:
            assert made.volume == pytest.approx(given.volume, rel=1e-6)
            assert made.bounds == pytest.approx(given.bounds, abs=1e-6)
            continue
        stuck = glued.get(part.name, ())
        low, high = made.bounds[:, 2]
        for place, height, outwards in ((low, part.underside, -1), (high, part.top, 1)):
            way = HAIR if any(abs(height - own) < 1e-6 for own in stuck) else -HAIR
            assert place == pytest.approx(height + way * outwards, abs=1e-9), part.name
        # Sideways it is always smaller.
        assert (made.bounds[0, :2] > given.bounds[0, :2]).all()
        assert (made.bounds[1, :2] < given.bounds[1, :2]).all()


def test_no_level_faces_of_two_parts_coincide_where_acrylic_lies(
    demo: tuple[Stack, LightLayout, GlowScene],
) -> None:
    stack, _, scene = demo
    levels = {}
    for number in range(len(stack.placed)):
        mesh = joined(body for body in scene.bodies if body.part == number)
        flat = np.abs(mesh.face_normals[:, 2]) > 1 - 1e-9
        levels[number] = np.unique(np.round(mesh.triangles_center[flat, 2], 6))
    for number, part in enumerate(stack.placed):
        if part.opaque:
            continue
        for other, heights in levels.items():
            if other != number:
                gap = np.abs(levels[number][:, None] - heights[None]).min()
                assert gap > HAIR / 2, (part.name, stack.placed[other].name)


def test_one_face_for_each_light_point_with_its_true_luminance(
    demo: tuple[Stack, LightLayout, GlowScene],
) -> None:
    _, light, scene = demo
    flux = flux_of(light)
    assert sum(len(shining.triangles) for shining in scene.lights) == 2 * len(light.points)
    assert np.unique(light.points.beams).tolist() == [120.0]
    # A flat Lambertian face: L = Φ/(πA), with A in square metres.
    quads = light.points.corners
    area = np.linalg.norm(np.cross(quads[:, 1] - quads[:, 0], quads[:, 3] - quads[:, 0]), axis=1)
    total = 0.0
    for shining in scene.lights:
        own = trimesh.Trimesh(shining.vertices, shining.triangles, process=False).area
        level = float(np.array(shining.luminance) @ LUMINANCE)
        assert level == pytest.approx(float((flux.lumens / (np.pi * area * 1e-6))[0]), rel=1e-6)
        total += np.pi * level * own * 1e-6
    assert total == pytest.approx(flux.total, rel=1e-6)


def test_light_faces_look_out_of_their_carrier(demo: tuple[Stack, LightLayout, GlowScene]) -> None:
    _, light, scene = demo
    found = np.concatenate([
        np.stack([body.vertices[body.triangles].mean(axis=1),
                  trimesh.Trimesh(body.vertices, body.triangles, process=False).face_normals], axis=1)
        for body in scene.lights
    ])  # fmt: skip
    for centre, normal in found:
        nearest = np.argmin(np.linalg.norm(light.points.centres - centre, axis=1))
        assert normal @ light.points.directions[nearest] == pytest.approx(1.0, abs=1e-6)
        assert (centre - light.points.centres[nearest]) @ normal == pytest.approx(FACE_LIFT, abs=1e-6)


def test_normals_look_outwards(demo: tuple[Stack, LightLayout, GlowScene]) -> None:
    _, _, scene = demo
    for body in scene.bodies:
        assert np.linalg.norm(body.normals, axis=1) == pytest.approx(np.ones(len(body.normals)), abs=1e-6)
        flat = trimesh.Trimesh(body.vertices, body.triangles, process=False).face_normals
        agree = np.einsum("ij,ikj->ik", flat, body.normals[body.triangles])
        assert agree.min() > 0, body.name


def test_arrays_cannot_be_written_to() -> None:
    for body in part_bodies(box("box", (0, 0, 0), (1, 1, 1)), 0, ()):
        with pytest.raises(ValueError, match="read-only"):
            body.vertices[0] = 0.0


@pytest.mark.parametrize(("loose", "glued"), [("", True), ('[glue]\nloose = ["plate"]\n', False)])
def test_what_lies_loose_is_not_glued(loose: str, glued: bool) -> None:
    stack = assemble(read_text(PLATE + loose, "test.toml", Path()))
    assert glued_faces(stack) == ({"plate": (pytest.approx(8.8),)} if glued else {})


def test_finish_goes_face_by_face() -> None:
    plate = disc("plate", 40.0, 0.0, 4.0, "clear", finish=Finish(top="sanded"))
    bodies = list(part_bodies(plate, 3, ()))
    skins = {type(body.skin): body for body in bodies}
    assert set(skins) == {Clear, Sanded}
    assert {body.part for body in bodies} == {3}
    assert (skins[Sanded].normals[:, 2] > 0.99).all()
    assert skins[Sanded].vertices[:, 2] == pytest.approx(np.full(len(skins[Sanded].vertices), 4.0 - HAIR))
    assert [type(body.skin) for body in part_bodies(ring("ring", 30, 40, 0, 5), 0, ())] == [Matt]
    opal = disc("sheet", 40.0, 0.0, 4.0, "opal", finish=Finish(top="sanded", edge="sanded"))
    assert {type(body.skin) for body in part_bodies(opal, 0, ())} == {Opal}


def test_a_box_is_smaller_by_a_hair_on_every_side_and_larger_where_glued() -> None:
    part = box("plate", (0.0, 0.0, 0.0), (30.0, 20.0, 4.0), "clear")
    dry = joined(part_bodies(part, 0, ()))
    assert dry.bounds == pytest.approx(np.array([[HAIR] * 3, [30 - HAIR, 20 - HAIR, 4 - HAIR]]))
    assert dry.volume == pytest.approx((30 - 2 * HAIR) * (20 - 2 * HAIR) * (4 - 2 * HAIR))
    stuck = joined(part_bodies(part, 0, (0.0,)))
    assert stuck.bounds[:, 2] == pytest.approx([-HAIR, 4 - HAIR])


def one(beam: float, face: float = 2.0) -> LightPoints:
    points = light_points([(0.0, 0.0, 0.0)], [(0.0, 0.0, 1.0)], face)
    return replace(points, beams=np.array([beam]))


@pytest.mark.parametrize("beam", [60.0, 120.0, 140.0])
def test_only_shaped_beams_have_black_walls(beam: float) -> None:
    lights, wells = shining_faces(one(beam), Flux(np.array([10.0]), ()))
    assert len(lights) == 1
    assert len(wells) == (beam != 120.0)
    # A wider beam's rim: four more sides.
    assert len(lights[0].triangles) == (10 if beam > 120 else 2)
    for well in wells:
        assert well.skin == Matt((0.0, 0.0, 0.0))
        top = lights[0].vertices[:, 2].max()
        if beam > 120:
            # As high as the rim, so that nothing shines level or backwards.
            assert well.vertices[:, 2].max() == pytest.approx(top)
        else:
            assert well.vertices[:, 2].max() > top
        assert well.vertices[:, 2].min() < lights[0].vertices[:, 2].min()


def test_light_points_that_differ_have_lights_of_their_own() -> None:
    points = light_points([(0, 0, 0), (9, 0, 0), (18, 0, 0)], [(0, 0, 1)] * 3, 2.0)
    lights, _ = shining_faces(points, Flux(np.array([1.0, 2.0, 1.0]), ()))
    assert sorted(len(light.triangles) for light in lights) == [2, 4]
    levels = sorted(float(np.array(light.luminance) @ LUMINANCE) for light in lights)
    assert levels[1] / levels[0] == pytest.approx(2.0)
    assert levels[0] == pytest.approx(1.0 / (np.pi * 4e-6), rel=1e-6)


def test_no_light_points_no_lights() -> None:
    assert shining_faces(light_points([], []), Flux(np.zeros(0), ())) == ((), [])
