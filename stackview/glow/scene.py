"""The lamp as light meets it: every part's faces with their skins, and every light point shining.

Built from the same solids and light points as everything else. Faces that touch are parted by a
hair, so that which of them a ray meets first is never a matter of rounding: a dry joint leaves
air, where light inside a plate is reflected totally; in a glued joint the wood reaches a hair into
the plate, so that light inside the plate falls on it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.description.material import SheetSurface
from stackview.glow.beam_shape import BeamShape, shape_for, shining
from stackview.glow.flux import Flux
from stackview.glow.landings import Landing, landings_of
from stackview.glow.skins import Matt, Skin, skin_of
from stackview.light.colour import LUMINANCE, Colour, light_colour
from stackview.light.layout import LightLayout
from stackview.light.points import LightPoints
from stackview.light.ribbon import Ribbon
from stackview.one_line import one_line
from stackview.solids.smooth import corners, patches
from stackview.solids.solid import SheetFace, sheet_faces
from stackview.stack.assembly import Stack
from stackview.stack.joints import glued_joints
from stackview.stack.placed import Placed

HAIR = 0.02
"""Half of what parts two faces that touch [mm]."""
FACE_LIFT = 0.1
"""How far a light-giving face stands before the strip that carries it [mm]."""
_CARRIER: Colour = (0.72, 0.70, 0.65)
"""Reflectance of a strip's white carrier; common practice."""
PACKAGE: Colour = (0.5, 0.5, 0.45)
"""Reflectance of a light point's own face; from memory."""
_WELL = Matt((0.0, 0.0, 0.0))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class SkinFaces:
    """Triangles of one skin. vertices, normals : (n, 3) [mm]; triangles : (m, 3). Read-only.

    ``part`` is the number of the placed part, −1 for strips, wells and the room.
    """

    name: str
    part: int
    skin: Skin
    vertices: Floats
    normals: Floats
    triangles: Whole

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.vertices, self.normals, self.triangles):
            array.setflags(write=False)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Shining:
    """Faces that give light: (n, 3) vertices [mm], (m, 3) triangles, luminance by channel [cd/m²]."""

    vertices: Floats
    triangles: Whole
    luminance: Colour
    reflectance: Colour = PACKAGE

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.vertices, self.triangles):
            array.setflags(write=False)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class GlowScene:
    """Everything that light of the lamp meets before the room; ``landings`` are where lit plates lie on wood."""

    bodies: tuple[SkinFaces, ...]
    lights: tuple[Shining, ...]
    placed: tuple[Placed, ...]
    landings: tuple[Landing, ...] = ()

    __repr__ = one_line


def glow_scene(stack: Stack, light: LightLayout, flux: Flux) -> GlowScene:
    """The lamp with its light points of the given flux."""
    glued = glued_faces(stack)
    bodies: list[SkinFaces] = []
    for number, part in enumerate(stack.placed):
        bodies.extend(part_bodies(part, number, glued.get(part.name, ())))
    bodies.extend(_strip(ribbon) for ribbon in light.ribbons)
    lights, wells = shining_faces(light.points, flux)
    return GlowScene((*bodies, *wells), lights, stack.placed, landings_of(stack, light.points.centres[:, 2]))


def glued_faces(stack: Stack) -> dict[str, tuple[float, ...]]:
    """Heights [mm] of the level faces of each acrylic part that are glued to something opaque."""
    found: dict[str, list[float]] = {}
    for joint in glued_joints(stack):
        if joint.lower.opaque != joint.upper.opaque:
            plate = joint.upper if joint.lower.opaque else joint.lower
            found.setdefault(plate.name, []).append(joint.height)
    return {name: tuple(heights) for name, heights in found.items()}


def part_bodies(part: Placed, number: int, glued: Sequence[float]) -> Iterable[SkinFaces]:
    """One part as bodies, one for each skin; acrylic a hair smaller, but larger where it is glued."""
    solid = part.solid
    if not len(solid.triangles):
        return
    made = corners(solid.vertices, solid.triangles, patches(solid.vertices, solid.triangles))
    places = solid.vertices[made.at]
    if not part.opaque:
        level = np.abs(made.normals[:, 2]) > 1.0 - 1e-9
        stuck = level & (np.abs(places[:, 2, None] - np.array(glued)[None]) < 1e-6).any(axis=1)
        move = np.where(stuck, HAIR, -HAIR)[:, None] * made.normals
        shift = np.zeros_like(solid.vertices)
        np.add.at(shift, made.at, move)
        places = places + shift[made.at]
    for surface, chosen in _by_surface(part, made.flat[:, 2]):
        if chosen.any():
            used, triangles = np.unique(made.corner[chosen], return_inverse=True)
            yield SkinFaces(
                part.name,
                number,
                skin_of(part.material, surface),
                places[used],
                made.normals[used],
                triangles.reshape(-1, 3).astype(np.int64),
            )


def _by_surface(part: Placed, up: NDArray[np.float64]) -> Iterable[tuple[SheetSurface, NDArray[np.bool_]]]:
    """Triangles of a part by their finish: acrylic face by face, all else as one."""
    if part.opaque:
        return [("clear", np.ones(len(up), dtype=bool))]
    sides = sheet_faces(part.solid.faces, up)
    own = part.finish.faces
    return [
        (surface, np.isin(sides, [side for side in SheetFace if own[side] == surface]))
        for surface in dict.fromkeys(own)
    ]


def _strip(ribbon: Ribbon) -> SkinFaces:
    count = len(ribbon.low)
    k = np.arange(count - 1)
    triangles = np.concatenate(
        [np.stack([k, k + 1, k + count + 1], axis=1), np.stack([k, k + count + 1, k + count], axis=1)]
    )
    vertices = np.concatenate([ribbon.low, ribbon.high])
    normals = np.concatenate([ribbon.normal, ribbon.normal])
    a, b, c = (vertices[triangles[:, corner]] for corner in range(3))
    inwards = (np.cross(b - a, c - a) * normals[triangles[:, 0]]).sum(axis=1) < 0
    triangles[inwards] = triangles[inwards][:, ::-1]
    return SkinFaces("strip", -1, Matt(_CARRIER), vertices, normals, triangles.astype(np.int64))


def shining_faces(points: LightPoints, flux: Flux) -> tuple[tuple[Shining, ...], list[SkinFaces]]:
    """Light-giving faces, alike ones together, and the wells and trays that shape their beams."""
    lights, wells = [], []
    alike = np.stack([points.source, points.beams, points.kelvin, flux.lumens], axis=1)
    for row in np.unique(alike, axis=0) if len(points) else ():
        own = np.flatnonzero((alike == row).all(axis=1))
        quads = points.corners[own]
        sides = np.linalg.norm(quads[0, 1] - quads[0, 0]), np.linalg.norm(quads[0, 3] - quads[0, 0])
        face = (float(sides[0]), float(sides[1]))
        shape = shape_for(float(row[1]), face)
        colour = light_colour(float(row[2]))
        # Φ [lm] over [mm²·sr] gives [cd/mm²]; there are 1e6 mm² in a square metre.
        level = float(row[3]) / shining(shape, face) * 1e6 / float(colour @ LUMINANCE)
        luminance = (level * float(colour[0]), level * float(colour[1]), level * float(colour[2]))
        lights.append(Shining(*_raised(quads, points.directions[own], shape.rim), luminance))
        if shape.well or shape.rim:
            wells.append(_well(quads, points.directions[own], shape))
    return tuple(lights), wells


def _raised(quads: Floats, directions: Floats, rim: float) -> tuple[Floats, Whole]:
    """Faces lifted off their carrier, with their rims where they shine: vertices and triangles."""
    base = quads + FACE_LIFT * directions[:, None]
    top = base + rim * directions[:, None]
    shapes = [top]
    if rim:
        for k in range(4):
            n = (k + 1) % 4
            shapes.append(np.stack([base[:, k], base[:, n], top[:, n], top[:, k]], axis=1))
    return _quads(np.concatenate(shapes))


def _well(quads: Floats, directions: Floats, shape: BeamShape) -> SkinFaces:
    """Black walls round each face, and a black floor under it, seen from both sides."""
    along, across = quads[:, 1] - quads[:, 0], quads[:, 3] - quads[:, 0]
    wide, tall = np.linalg.norm(along, axis=1, keepdims=True), np.linalg.norm(across, axis=1, keepdims=True)
    # At least a hair wider than the face, so that they stand round it and not on it.
    aside = max(shape.moat, 5e-4 * float(wide.max(initial=0.0)))
    u, v = aside * along / wide, aside * across / tall
    round_it = quads + np.stack([-u - v, u - v, u + v, v - u], axis=1)
    base = round_it + 0.5 * FACE_LIFT * directions[:, None]
    top = round_it + (FACE_LIFT + max(shape.well, shape.rim)) * directions[:, None]
    walls = [base]
    walls += [
        np.stack([base[:, k], base[:, (k + 1) % 4], top[:, (k + 1) % 4], top[:, k]], axis=1) for k in range(4)
    ]
    vertices, triangles = _quads(np.concatenate(walls))
    flat = np.cross(vertices[1::4] - vertices[::4], vertices[3::4] - vertices[::4])
    flat /= np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-12)
    return SkinFaces("well", -1, _WELL, vertices, np.repeat(flat, 4, axis=0), triangles)


def _quads(shapes: Floats) -> tuple[Floats, Whole]:
    """Vertices (4n, 3) and triangles (2n, 3) of quadrilaterals (n, 4, 3)."""
    first = 4 * np.arange(len(shapes))[:, None]
    triangles = np.concatenate([first + np.array([0, 1, 2]), first + np.array([0, 2, 3])])
    return shapes.reshape(-1, 3), triangles.astype(np.int64)


def unlit(scene: GlowScene) -> GlowScene:
    """The same lamp switched off: its light points are matt faces."""
    faces = []
    for light in scene.lights:
        a, b, c = (light.vertices[light.triangles[:, k]] for k in range(3))
        flat = np.cross(b - a, c - a)
        flat /= np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-12)
        corners = light.vertices[light.triangles].reshape(-1, 3)
        triangles = np.arange(len(corners)).reshape(-1, 3)
        faces.append(
            SkinFaces("light", -1, Matt(light.reflectance), corners, np.repeat(flat, 3, axis=0), triangles)
        )
    return GlowScene((*scene.bodies, *faces), (), scene.placed)
