"""Test lamps for sightlines, made with trimesh's own primitives so as not to lean on our solids."""

from collections.abc import Sequence

import numpy as np
import trimesh

from stackview.description.material import Body, Finish, Material
from stackview.light.points import LightPoints
from stackview.solids.solid import Face, Solid
from stackview.stack.placed import Placed

WOOD = Material("ash", "wood", "ash", "opaque", 600.0, (0.6, 0.5, 0.35))


def acrylic(body: Body) -> Material:
    return Material(body, "acrylic", body, body, 1190.0, (0.9, 0.9, 0.9))


def part(name: str, mesh: trimesh.Trimesh, body: Body = "opaque", finish: Finish = Finish()) -> Placed:
    """A placed part from a watertight mesh; faces labelled by their normals."""
    up = mesh.face_normals[:, 2]
    middle = mesh.triangles_center[:, :2]
    outside = np.einsum("ij,ij->i", mesh.face_normals[:, :2], middle - mesh.bounds[:, :2].mean(axis=0)) >= 0
    side = np.where(outside, Face.OUTER, Face.OPENING)
    faces = np.where(up > 0.9, Face.TOP, np.where(up < -0.9, Face.UNDERSIDE, side)).astype(np.int8)
    low, high = mesh.bounds[:, 2]
    solid = Solid(np.array(mesh.vertices), np.array(mesh.faces, dtype=np.int64), faces)
    material = WOOD if body == "opaque" else acrylic(body)
    return Placed(name, "layer", material, finish, solid, float(low), float(high), 0.0, 90.0)


def box(
    name: str,
    low: Sequence[float],
    high: Sequence[float],
    body: Body = "opaque",
    finish: Finish = Finish(),
) -> Placed:
    mesh = trimesh.creation.box(bounds=[low, high])
    return part(name, mesh, body, finish)


def ring(
    name: str,
    inner: float,
    outer: float,
    low: float,
    high: float,
    facets: int = 96,
    body: Body = "opaque",
    finish: Finish = Finish(),
) -> Placed:
    """A ring about the axis whose facets' corners lie on the radii given."""
    mesh = trimesh.creation.annulus(inner, outer, high - low, sections=facets)
    mesh.apply_translation([0.0, 0.0, (low + high) / 2.0])
    return part(name, mesh, body, finish)


def disc(
    name: str,
    radius: float,
    low: float,
    high: float,
    body: Body = "opaque",
    facets: int = 96,
    finish: Finish = Finish(),
) -> Placed:
    mesh = trimesh.creation.cylinder(radius, high - low, sections=facets)
    mesh.apply_translation([0.0, 0.0, (low + high) / 2.0])
    return part(name, mesh, body, finish)


def light_points(
    centres: Sequence[Sequence[float]], directions: Sequence[Sequence[float]], face: float = 0.0
) -> LightPoints:
    """Light points with square faces of the given side."""
    at = np.array(centres, dtype=float).reshape(-1, 3)
    out = np.array(directions, dtype=float).reshape(-1, 3)
    out = out / np.linalg.norm(out, axis=1)[:, None]
    aside = np.where(np.abs(out[:, 2:]) > 0.9, [[1.0, 0.0, 0.0]], np.cross([0.0, 0.0, 1.0], out))
    aside = aside / np.linalg.norm(aside, axis=1)[:, None]
    across = np.cross(out, aside)
    half = face / 2.0
    corners = np.stack(
        [at + half * (u * aside + v * across) for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))], axis=1
    )
    count = len(at)
    return LightPoints(
        at,
        out,
        corners,
        np.full(count, 120.0),
        np.full(count, np.nan),
        np.full(count, 2700.0),
        np.zeros(count, np.int64),
    )


def wound(
    count: int, low: float, high: float, radius: float = 15.0, turns: float = 5.0, face: float = 4.0
) -> LightPoints:
    """Light points on a helix about the axis, facing outwards."""
    angle = np.linspace(0.0, 2.0 * np.pi * turns, count, endpoint=False)
    out = np.stack([np.cos(angle), np.sin(angle), np.zeros(count)], axis=1)
    centres = radius * out
    centres[:, 2] = np.linspace(low, high, count)
    return light_points(centres, out, face)


def tiers(count: int = 6, facets: int = 96) -> tuple[tuple[Placed, ...], float]:
    """A round lamp: rings that shrink upwards; the two lowest gaps open, the others with plates.

    Returns its parts and its height.
    """
    parts = [disc("base", 65.0, 0.0, 17.0, facets=facets)]
    at = 17.0
    for index in range(count):
        radius = 60.0 - 12.0 * index / count
        parts.append(ring(f"ring {index + 1}", radius - 14.0, radius, at, at + 8.8, facets))
        at += 8.8
        if index < 2:
            at += 5.0
            continue
        body: Body = "clear" if index % 2 else "opal"
        parts.append(
            disc(f"plate {index + 1}", radius - 8.0, at, at + 3.8, body, facets, Finish(top="sanded"))
        )
        at += 3.8
    parts.append(disc("cap", 50.0, at, at + 8.8, facets=facets))
    return tuple(parts), at + 8.8


def tiers_with_a_window(count: int = 6, facets: int = 96) -> tuple[tuple[Placed, ...], float]:
    """The same with a ring of clear acrylic in the upper one of the open gaps, through which light points show glazed.

    Plates alone show none: what goes into their undersides never leaves by a dry edge (n² > 2).
    """
    parts, height = tiers(count, facets)
    upper = next(one for one in parts if one.name == "ring 2").top
    return (*parts, ring("window", 45.0, 48.0, upper, upper + 5.0, facets, "clear")), height
