"""Models read back by trimesh: names, watertight bodies, every corner within 0.01 mm, units and axes."""

import io
import json
import struct
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import numpy as np
import pytest
import trimesh
from scipy.spatial import cKDTree

from stackview.errors import StackviewError
from stackview.shop.model_bodies import single_parts, whole_lamp
from stackview.shop.model_files import MODEL_FORMATS, MODEL_MARKS, model_files
from stackview.solids.measure import volume
from stackview.study import Study
from tests.shop.box_lamp import box_study

NEAR = 0.01
"""[mm]"""


@pytest.fixture(scope="module")
def drum() -> Study:
    return Study.read("demos/moor-drum.toml")


def held(read: dict[str, trimesh.Trimesh], study: Study) -> None:
    """Every body of the lamp is there under its name, closed, and where it was."""
    bodies = whole_lamp(study)
    assert set(read) == {body.name for body in bodies}
    for body in bodies:
        mesh = read[body.name]
        assert mesh.is_watertight, body.name
        assert mesh.is_winding_consistent, body.name
        assert mesh.volume == pytest.approx(volume(body.solid), rel=1e-5), body.name
        there, here = np.asarray(mesh.vertices), body.solid.vertices
        assert cKDTree(there).query(here)[0].max() < NEAR
        assert cKDTree(here).query(there)[0].max() < NEAR


def test_glb_is_in_metres_with_y_up(drum: Study) -> None:
    ((name, content),) = model_files(drum, ["glb"], stem="moor drum").items()
    assert name == "moor-drum.glb"
    scene = trimesh.load(io.BytesIO(content), file_type="glb")
    back = {}
    for node in scene.graph.nodes_geometry:
        matrix, geometry = scene.graph[node]
        mesh = scene.geometry[geometry].copy()
        mesh.apply_transform(matrix)
        # the other way round: x right, y up, z to the front; ours has y to the back and z up
        mesh.vertices = 1000.0 * np.column_stack(
            (mesh.vertices[:, 0], -mesh.vertices[:, 2], mesh.vertices[:, 1])
        )
        mesh.merge_vertices()
        back[node] = mesh
    held(back, drum)
    assert np.ptp(scene.bounds[:, 1]) == pytest.approx(drum.stack.height / 1000.0, rel=1e-6)


def test_glb_says_its_materials_and_who_made_it(drum: Study) -> None:
    content = model_files(drum, ["glb"])["lamp.glb"]
    # glTF 2.0, § 4.4: magic, version, length; then a chunk's length and type
    magic, version, total, length, kind = struct.unpack("<4sII I4s", content[:20])
    assert (magic, version, total, kind) == (b"glTF", 2, len(content), b"JSON")
    tree = json.loads(content[20 : 20 + length])
    assert tree["asset"]["generator"].startswith("stackview ")
    named = {material["name"]: material for material in tree["materials"]}
    assert set(named) == {"base-stock", "ring-stock", "plate-stock", "spacer-rod", "rubber"}
    assert named["plate-stock"]["alphaMode"] == "BLEND"
    colour = named["ring-stock"]["pbrMetallicRoughness"]["baseColorFactor"]
    own = drum.stack.part("ring 1").material.colour
    assert colour[:3] == pytest.approx(own, abs=1 / 255)
    assert "units" not in json.dumps(tree)
    assert MODEL_MARKS[".glb"] in content


def test_obj_reads_back_with_its_colours(drum: Study, tmp_path: Path) -> None:
    made = model_files(drum, ["obj"])
    assert set(made) == {"lamp.obj", "lamp.mtl"}
    for name, content in made.items():
        (tmp_path / name).write_bytes(content)
    read = trimesh.load(tmp_path / "lamp.obj", split_objects=True)
    # trimesh calls each by its object and its material
    held({name.rpartition("_")[0]: mesh for name, mesh in read.geometry.items()}, drum)
    assert made["lamp.obj"].startswith(MODEL_MARKS[".obj"])
    used = {line[7:] for line in made["lamp.obj"].decode().splitlines() if line.startswith("usemtl ")}
    told = {line[7:] for line in made["lamp.mtl"].decode().splitlines() if line.startswith("newmtl ")}
    assert used == told == {"base-stock", "ring-stock", "spacer-rod", "plate-stock-opal", "rubber"}
    assert not any(" " in name for name in told)


def read_3mf(content: bytes) -> dict[str, trimesh.Trimesh]:
    """Objects of a 3MF by name, in millimetres (3MF Core Specification: model, resources, object, mesh)."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert archive.testzip() is None
        assert set(archive.namelist()) == {"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}
        root = ET.fromstring(archive.read("3D/3dmodel.model"))
    space = {"m": "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"}
    assert root.get("unit") == "millimeter"
    built = [item.get("objectid") for item in root.iterfind("m:build/m:item", space)]
    back = {}
    for found in root.iterfind("m:resources/m:object", space):
        assert found.get("id") in built
        points = [[float(v.get(axis, "")) for axis in "xyz"] for v in found.iterfind(".//m:vertex", space)]
        faces = [
            [int(t.get(corner, "")) for corner in ("v1", "v2", "v3")]
            for t in found.iterfind(".//m:triangle", space)
        ]
        back[str(found.get("name"))] = trimesh.Trimesh(points, faces, process=False)
    return back


def test_3mf_reads_back(drum: Study) -> None:
    content = model_files(drum, ["3mf"])["lamp.3mf"]
    held(read_3mf(content), drum)
    assert MODEL_MARKS[".3mf"] in content


def test_stl_is_one_closed_body_a_part(drum: Study) -> None:
    made = model_files(drum, ["stl"])
    bodies = single_parts(drum)
    assert list(made)[:3] == ["base.stl", "ring-1.stl", "spacers-1.stl"]
    assert len(made) == len(bodies)
    for body, content in zip(bodies, made.values(), strict=True):
        mesh = trimesh.load(io.BytesIO(content), file_type="stl")
        assert mesh.is_watertight
        assert cKDTree(mesh.vertices).query(body.solid.vertices)[0].max() < NEAR
        assert mesh.bounds[0, 2] == 0.0
        assert content.startswith(MODEL_MARKS[".stl"])


def test_parts_alone_in_every_format(tmp_path: Path) -> None:
    made = model_files(box_study(tmp_path), parts=True)
    stems = {"base", "plate-a", "ring-a", "cap", "pins", "core", "foot"}
    assert set(made) == {f"{stem}.{kind}" for stem in stems for kind in (*MODEL_FORMATS, "mtl")}
    assert list(read_3mf(made["ring-a.3mf"])) == ["ring a"]


def test_the_same_lamp_gives_the_same_bytes(tmp_path: Path) -> None:
    first, second = (model_files(box_study(tmp_path)) for _ in range(2))
    assert first == second


def test_what_is_no_format(drum: Study) -> None:
    with pytest.raises(
        StackviewError, match='"dwg" is no format of a model: choose among glb, 3mf, obj, stl'
    ):
        model_files(drum, ["dwg"])
    assert set(model_files(drum, [".GLB"])) == {"lamp.glb"}
