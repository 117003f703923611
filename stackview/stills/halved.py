"""The lamp cut in half through its axis: what lies before the cut is taken away, cut faces are solid."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.light.layout import LightLayout
from stackview.solids.overlap import manifold_of
from stackview.solids.solid import Face, Solid
from stackview.stack.assembly import Stack
from stackview.stills.setting import Setting, assembled, chosen_points

ON_CUT = 1e-6
"""Corners this near to the cutting plane lie in it [mm]."""
_KEPT = 0.5
"""Light points this little before the cut are still drawn [mm]."""


PAST_AXIS = 0.013
"""Bores end at the axis: cut this far behind it, no face of theirs lies in the very plane of the cut [mm]."""


def behind(bearing: float) -> NDArray[np.float64]:
    """Unit vector (3,) away from an eye at ``bearing`` [°], level: what it points to is kept."""
    radians = np.radians(bearing)
    return np.array([-np.sin(radians), np.cos(radians), 0.0])


def halved(stack: Stack, light: LightLayout, bearing: float) -> Setting:
    """Cut every part square to the eye's bearing and keep the half behind.

    The core with its strip stays whole, as shafts do in sectional drawings (common practice),
    so that the strip shows. Parts that lie wholly before the cut are gone; so are the light
    points that they carried.
    """
    whole = assembled(stack, light)
    away = behind(bearing)
    parts = []
    for part in whole.placed:
        solid = part.solid if part.stays_whole else cut_solid(part.solid, bearing, PAST_AXIS)
        if solid is not None:
            parts.append(replace(part, solid=solid))
    on_core = np.array([bool(lit.cuts) for lit in light.lit], bool)
    carried = on_core[light.points.source] if len(on_core) else np.zeros(0, bool)
    kept = carried | (light.points.centres @ away > -_KEPT)
    return Setting(tuple(parts), chosen_points(whole.points, kept), whole.ribbons, whole.ground)


def cut_solid(solid: Solid, bearing: float, offset: float = 0.0) -> Solid | None:
    """The part of a solid behind an upright plane square to ``bearing`` [°], closed by its cut face.

    ``offset`` moves the plane away from the eye [mm]. None where nothing is left. Faces keep
    their names; the cut itself is :attr:`Face.OUTER`.
    """
    away = behind(bearing)
    reach = solid.vertices @ away
    if reach.min() >= offset - ON_CUT:
        return solid
    if reach.max() <= offset + ON_CUT:
        return None
    rest = manifold_of(solid).trim_by_plane((float(away[0]), float(away[1]), 0.0), offset)
    if rest.is_empty():
        return None
    mesh = rest.to_mesh64()
    vertices = np.array(mesh.vert_properties[:, :3])
    triangles = np.array(mesh.tri_verts, np.int64)
    return Solid(vertices, triangles, _faces(solid, vertices, triangles, away, offset))


def _faces(
    solid: Solid,
    vertices: NDArray[np.float64],
    triangles: NDArray[np.int64],
    away: NDArray[np.float64],
    offset: float,
) -> NDArray[np.int8]:
    """Name each triangle after the flat face of the uncut solid that it lies in."""
    cut = (np.abs(vertices @ away - offset) < ON_CUT)[triangles].all(axis=1)
    mine, heights = _normal_and_place(vertices, triangles)
    theirs, places = _normal_and_place(solid.vertices, solid.triangles)
    faces = np.full(len(triangles), Face.OUTER, np.int8)
    # One plane may hold many triangles of one face: planes are few, so that all pairs are quick.
    planes, first = np.unique(
        np.round(np.column_stack([theirs, places[:, None]]), 5), axis=0, return_index=True
    )
    for start in range(0, len(triangles), 512):
        some = slice(start, min(start + 512, len(triangles)))
        off = np.abs(mine[some] @ planes[:, :3].T - 1.0) + np.abs(heights[some][:, None] - planes[:, 3]) * 0.1
        faces[some] = solid.faces[first[off.argmin(axis=1)]]
    faces[cut] = Face.OUTER
    return faces


def _normal_and_place(
    vertices: NDArray[np.float64], triangles: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Unit normal (m, 3) of each triangle and its plane's distance from the origin (m,) [mm]."""
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-12)
    return normal, np.einsum("ij,ij->i", normal, (a + b + c) / 3.0)
