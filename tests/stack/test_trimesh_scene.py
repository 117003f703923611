"""The lamp handed to trimesh: names, heights, volumes and colours arrive, and closed solids stay closed."""

from io import BytesIO

import numpy as np
import pytest
import trimesh

from stackview.solids.measure import volume
from stackview.stack.assembly import Stack, assemble
from tests.stack.variants import demo


@pytest.fixture(scope="module")
def stack() -> Stack:
    return assemble(demo("honeycomb"))


@pytest.fixture(scope="module")
def scene(stack: Stack) -> trimesh.Scene:
    return stack.to_trimesh()


def test_every_part_under_its_name(stack: Stack, scene: trimesh.Scene) -> None:
    assert list(scene.geometry) == [part.name for part in stack.placed]
    assert set(scene.graph.nodes_geometry) == {part.name for part in stack.placed}


def test_closed_with_the_same_volume_and_heights(stack: Stack, scene: trimesh.Scene) -> None:
    for part in stack.placed:
        mesh = scene.geometry[part.name]
        assert mesh.is_watertight, part.name
        assert mesh.is_winding_consistent, part.name
        assert mesh.volume == pytest.approx(volume(part.solid), rel=1e-9)
        assert mesh.bounds[:, 2] == pytest.approx((part.underside, part.top), abs=1e-9)
    assert scene.bounds[0][2] == pytest.approx(0.0, abs=1e-12)
    assert scene.bounds[1][2] == pytest.approx(stack.height)


def test_millimetres_are_said_and_converted(scene: trimesh.Scene) -> None:
    assert scene.units == "mm"
    metres = scene.copy().convert_units("meters")
    assert metres.extents == pytest.approx(scene.extents / 1000.0)


def test_colours_are_the_materials_own_and_acrylic_lets_light_through(
    stack: Stack, scene: trimesh.Scene
) -> None:
    for part in stack.placed:
        material = scene.geometry[part.name].visual.material
        assert material.name == part.material.name
        assert material.baseColorFactor[:3] / 255.0 == pytest.approx(part.material.colour, abs=0.5 / 255)
        assert (material.baseColorFactor[3] == 255) == part.opaque
        assert (material.alphaMode == "OPAQUE") == part.opaque
        assert material.metallicFactor == (part.material.kind == "metal")


def test_meshes_are_their_own_so_that_changing_one_changes_no_stack(
    stack: Stack, scene: trimesh.Scene
) -> None:
    other = stack.to_trimesh()
    other.apply_translation((0.0, 0.0, 5.0))
    other.geometry["base"].vertices[:] = 0.0
    assert np.ptp(stack.part("base").solid.vertices[:, 2]) > 1.0
    assert np.ptp(scene.geometry["base"].vertices[:, 2]) > 1.0


def test_a_round_trip_through_gltf_keeps_names_solids_and_colours(stack: Stack, scene: trimesh.Scene) -> None:
    back = trimesh.load(BytesIO(scene.export(file_type="glb")), file_type="glb", merge_primitives=False)
    assert set(back.geometry) == set(scene.geometry)
    for part in stack.placed:
        mesh = back.geometry[part.name]
        # glTF keeps single precision: 24 bits of some 200 mm.
        assert mesh.vertices == pytest.approx(part.solid.vertices, abs=2e-5)
        assert np.array_equal(mesh.faces, part.solid.triangles)
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(volume(part.solid), rel=1e-5)
        mine, theirs = scene.geometry[part.name].visual.material, mesh.visual.material
        assert theirs.name == part.material.name
        assert np.array_equal(theirs.baseColorFactor, mine.baseColorFactor)
