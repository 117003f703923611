"""Solids, heights, masses and models against trimesh: what is said of a lamp is true of its meshes."""

import io
import math

import numpy as np
import trimesh

from stackview.description.lamp import Lamp
from stackview.shop.model_bodies import single_parts
from stackview.shop.model_files import model_files
from stackview.stack.placed import Placed
from stackview.study import Study

_HEIGHT = 1e-6
"""[mm] what sums of heights may differ by."""
_PRISMS = 0.3
"""Share by which the facets of rods, posts and feet may be off their exact sections: thin pins at a coarse chord error."""
_SQUARES = math.pi / 2.0 - 1.0 + 1e-6
"""The same of rods finer than the chord error, whose facets are a square in their circle."""


def mesh_of(part: Placed) -> trimesh.Trimesh:
    """A part's own mesh, nothing of it mended."""
    return trimesh.Trimesh(part.solid.vertices, part.solid.triangles, process=False, validate=False)


def check_solids(study: Study) -> None:
    """Every solid is closed and stands between its own heights; layers lie on what carries them; masses are true."""
    stack = study.stack
    for part in stack.placed:
        mesh = mesh_of(part)
        assert mesh.is_watertight, part.name
        assert mesh.is_winding_consistent, part.name
        assert mesh.volume > 0.0, part.name
        low, high = mesh.bounds[:, 2]
        assert abs(low - part.underside) < _HEIGHT, (part.name, low, part.underside)
        assert abs(high - part.top) < _HEIGHT, (part.name, high, part.top)
    body = [part for part in stack.placed if not part.is_cord]
    assert abs(min(part.underside for part in stack.placed)) < _HEIGHT
    assert abs(max(part.top for part in body) - stack.height) < _HEIGHT
    _check_levels(study)
    _check_masses(study)


def _check_levels(study: Study) -> None:
    """A layer's underside, or the floor of a recess in it, lies on a top, or on the floor of a recess, of its carrier."""
    layers, parts = study.lamp.layers, study.stack.placed
    for number, carrier in enumerate(study.stack.rests_on):
        layer, part = layers[number], parts[number]
        assert abs(part.top - part.underside - layer.thickness) < _HEIGHT, layer.name
        if carrier is None:
            continue
        below = layers[carrier]
        floors = [0.0, *(recess.depth for recess in layer.recesses if recess.face == "underside")]
        tops = [0.0, *(recess.depth for recess in below.recesses if recess.face == "top")]
        met = [part.underside + own - (parts[carrier].top - other) for own in floors for other in tops]
        assert min(map(abs, met)) < _HEIGHT, (layer.name, below.name, met)


def _check_masses(study: Study) -> None:
    for part, mass in zip(study.stack.placed, study.masses, strict=True):
        grams = mesh_of(part).volume * part.material.density * 1e-6
        off = 1e-6 if part.is_layer or part.is_cord else _PRISMS if mesh_of(part).volume > 1.0 else _SQUARES
        assert abs(mass.grams / grams - 1.0) <= off, (part.name, grams, mass)
    _check_round_rods(study.lamp, {mass.name: mass.volume for mass in study.masses}, study)


def _check_round_rods(lamp: Lamp, volumes: dict[str, float], study: Study) -> None:
    """π/4·(d² − i²)·h of a round core, of posts and of feet, in closed form."""
    for name, outline, wall, count in [
        *(("core", lamp.core.outline, lamp.core.wall, 1) for _ in [0] if lamp.core is not None),
        *((post.name, post.outline, None, post.around.count if post.around else 1) for post in lamp.posts),
    ]:
        if outline.radius is None:
            continue
        part = study.stack.part(name)
        inner = 0.0 if wall is None else outline.radius - wall
        exact = count * math.pi * (outline.radius**2 - inner**2) * (part.top - part.underside)
        assert abs(volumes[name] / exact - 1.0) < 1e-9, (name, volumes[name], exact)


def check_models(study: Study) -> None:
    """Exported models hold the same volumes: all bodies of the lamp, and every part by itself as STL."""
    whole = sum(mesh_of(part).volume for part in study.stack.placed if not part.is_cord)
    made = model_files(study)
    scene = trimesh.load(io.BytesIO(made["lamp.glb"]), file_type="glb")
    assert abs(_volume(scene) * 1e9 / whole - 1.0) < 1e-3
    text = made["lamp.obj"].decode("utf-8")
    points = np.array([line.split()[1:] for line in text.splitlines() if line.startswith("v ")], dtype=float)
    faces = np.array([line.split()[1:] for line in text.splitlines() if line.startswith("f ")], dtype=int) - 1
    assert abs(trimesh.Trimesh(points, faces, process=False).volume / whole - 1.0) < 1e-5
    alone = [mesh_of(part).volume for part in single_parts(study)]
    stls = [content for name, content in made.items() if name.endswith(".stl")]
    assert len(stls) == len(alone)
    for content, volume in zip(stls, alone, strict=True):
        assert abs(trimesh.load(io.BytesIO(content), file_type="stl").volume / volume - 1.0) < 1e-3


def _volume(scene: trimesh.Scene) -> float:
    """Of all meshes of a scene, each once, where the scene does not move them."""
    return float(sum(mesh.volume for mesh in scene.geometry.values()))
