"""Small scenes for light: planes, a ring plate lit from within, boxes, with light points where they are wanted."""

import numpy as np
import trimesh

from stackview.glow.flux import Flux
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, SkinFaces, shining_faces
from stackview.glow.skins import Skin
from stackview.light.points import LightPoints
from stackview.spots.faces import Faces, optical_faces
from stackview.spots.from_eye import LitFaces, lit_faces
from stackview.spots.light_choice import emitters_of, light_choice

WHITE = (1.0, 1.0, 1.0)


def light_points(centres, direction, lumens=10.0, face=1.0) -> LightPoints:
    """Lambertian light points, each a square of side ``face`` [mm] that looks along ``direction``."""
    places, way = np.asarray(centres, float), np.asarray(direction, float)
    side = np.cross(way, [0.3, 0.5, 0.8])
    side /= np.linalg.norm(side)
    other = np.cross(way, side)
    square = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    shape = np.array([a * side + b * other for a, b in square]) * face / 2
    count = len(places)
    return LightPoints(
        places,
        np.tile(way, (count, 1)),
        places[:, None] + shape,
        np.full(count, 120.0),
        np.full(count, lumens),
        np.full(count, 3000.0),
        np.zeros(count, np.int64),
    )


def body(mesh: trimesh.Trimesh, skin: Skin, part: int = 0) -> SkinFaces:
    """A mesh with every facet flat."""
    corners = mesh.vertices[mesh.faces].reshape(-1, 3)
    normals = np.repeat(mesh.face_normals, 3, axis=0)
    triangles = np.arange(len(corners)).reshape(-1, 3)
    return SkinFaces("body", part, skin, corners, normals, triangles)


def level_plane(skin: Skin, height: float = 0.0, half: float = 300.0, part: int = 0) -> SkinFaces:
    """A square that looks up."""
    corners = np.array([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]], float) * half + [0, 0, height]
    up = np.tile([0.0, 0.0, 1.0], (4, 1))
    return SkinFaces("plane", part, skin, corners, up, np.array([[0, 1, 2], [0, 2, 3]]))


def faces_and_light(bodies, points: LightPoints) -> LitFaces:
    """The bodies with their light, ready to be followed."""
    lights, wells = shining_faces(points, Flux(points.lumens.copy(), ()))
    scene = GlowScene((*bodies, *wells), lights, ())
    faces: Faces = optical_faces(scene, Room(), points, WHITE)
    emitters = emitters_of(scene, points)
    reach = np.concatenate([points.centres - 40.0, points.centres + 40.0])
    choice = light_choice(emitters, reach.min(axis=0), reach.max(axis=0))
    return lit_faces(faces, emitters, choice)
