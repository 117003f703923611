"""A layer as one watertight solid, in its own frame: axis at x = y = 0, underside at z = 0."""

import manifold3d
import numpy as np

from stackview.by_value import by_value
from stackview.curves.arcs import Path, polygon
from stackview.curves.fit import overlapping
from stackview.curves.offset import offset
from stackview.description.lamp import Chamfer, Layer
from stackview.description.outline import Around, Outline, around, path_of
from stackview.errors import SolidError
from stackview.solids.chamfer import LABELS, Bevel, Block, block, wall
from stackview.solids.cuts import bore_cut, check_recesses, groove_cuts, recess_cuts
from stackview.solids.holes import check_openings, check_walls, hole_walls, holes_of
from stackview.solids.level_faces import check_faces
from stackview.solids.placing import turned_points
from stackview.solids.solid import Face, Solid
from stackview.solids.stepped import stepped

_KEPT = 64_000_000
"""Solids kept for further variants of a lamp [bytes]."""

_LEVEL = 1e-6
"""Corners within this height of a face lie in it [mm]."""
_ALIKE = 1e-3
"""Shares of a chamfer's width that differ by less are told as the first of them."""
_LITTLE = 20.0
"""A face of which less than this is left is looked at exactly: it may be a knife edge [mm²]."""


def solid_of(layer: Layer, chord_error: float) -> Solid:
    """Make the layer's solid, not turned; facets leave no curve by more than ``chord_error`` [mm].

    Layers that are cut alike are the same object, whatever they are called or made of.
    Raises SolidError naming the field at fault where the layer cannot be made as described.
    """
    try:
        return _as_cut(layer.as_cut, chord_error)
    except SolidError:
        # Made once more under its own name, for the message.
        return _made(layer, chord_error)


@by_value(_KEPT, size=lambda solid: solid.bytes)
def _as_cut(layer: Layer, chord_error: float) -> Solid:
    return _made(layer, chord_error)


def _made(layer: Layer, chord_error: float) -> Solid:
    """The layer's solid; a chamfer that is too large is told with the most that leaves wall and face."""
    try:
        return _cut_from_sheet(layer, chord_error)
    except SolidError as error:
        if error.field == "chamfer" and error.share_left < 1.0:
            _check_for_tighter(layer, error.share_left, chord_error)
        raise


def _check_for_tighter(layer: Layer, share: float, chord_error: float) -> None:
    """Raise SolidError where chamfers of that share of their widths would still take a whole face."""
    try:
        check_faces(layer)
    except SolidError as tighter:
        if tighter.field == "chamfer" and tighter.share_left < share - _ALIKE:
            check_faces(layer, chord_error)


def _cut_from_sheet(layer: Layer, chord_error: float) -> Solid:
    if not layer.thickness > 0.0:
        raise SolidError("thickness", "{thick}: it must be over 0", thick=layer.thickness)
    outer = path_of(layer.outline, "outline")
    bevels: dict[str, Bevel] = {chamfer.edge: _bevel(chamfer) for chamfer in layer.chamfers}
    holes = holes_of(layer, bevels)
    check_openings(outer, holes, chord_error)
    check_walls(outer, holes, bevels, chord_error)
    paths = [hole.path for hole in holes]
    check_recesses(layer, outer, paths)
    known = stepped(layer, outer, holes, chord_error) if layer.recesses else None
    if known is not None:
        return _copied(_labelled(known.manifold()), outer, layer.around)
    cuts = [
        *recess_cuts(layer, chord_error),
        *groove_cuts(layer, outer, paths, [hole.path for hole in holes if hole.main], chord_error),
        *(bore_cut(bore, layer, outer, chord_error) for bore in layer.bores),
    ]
    edge = polygon(outer, chord_error)
    thick = (0.0, layer.thickness)
    outside = wall(edge, thick, Face.OUTER, bevels.get("underside outer"), bevels.get("top outer"))
    inner_walls, opening_cuts = hole_walls(holes, thick, chord_error)
    whole = block([outside, *inner_walls])
    solid = _cut(whole, [*opening_cuts, *cuts], layer.name, "recess" if layer.recesses else "opening")
    _check_height(solid, layer, chord_error)
    return _copied(solid, outer, layer.around)


def _check_height(solid: Solid, layer: Layer, chord_error: float) -> None:
    """Check that the solid has both its faces; only where little is left of one are the exact faces asked."""
    corners = solid.vertices[solid.triangles]
    for z in (0.0, layer.thickness):
        level = corners[(np.abs(corners[:, :, 2] - z) < _LEVEL).all(axis=1)]
        (ax, bx, cx), (ay, by, cy) = level[:, :, 0].T, level[:, :, 1].T
        left = 0.5 * abs(float(((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)).sum()))
        if left < _LITTLE:
            check_faces(layer, chord_error)
        if left == 0.0:
            raise SolidError(
                "chamfer",
                "so little is left of a face that facets within {chord} of the curves cut it off: make it smaller",
                chord=chord_error,
            )


@by_value(_KEPT, size=lambda solid: solid.bytes)
def rod(
    outline: Outline, copies: Around | None, height: float, wall_thickness: float | None, chord_error: float
) -> Solid:
    """Make a post, core or foot: ``outline`` upright from z = 0 to ``height`` [mm], a tube if it has a wall.

    Raises SolidError naming "height", "wall" or "around".
    """
    if not height > 0.0:
        raise SolidError("height", "{height}: it must be over 0", height=height)
    outer = path_of(outline, "outline")
    walls = [wall(polygon(outer, chord_error), (0.0, height), Face.OUTER)]
    if wall_thickness is not None:
        if not wall_thickness > 0.0:
            raise SolidError("wall", "{wall}: it must be over 0", wall=wall_thickness)
        inner = offset(outer, -wall_thickness, field="wall")
        walls.append(wall(polygon(inner, chord_error)[::-1], (0.0, height), Face.OPENING))
    return _copied(_cut(block(walls), [], "rod", "outline"), outer, copies)


def _bevel(chamfer: Chamfer) -> Bevel:
    if not (chamfer.width > 0.0 and 0.0 < chamfer.angle < 90.0):
        raise SolidError(
            "chamfer",
            f"{chamfer.edge} chamfer of width {{width}} at {chamfer.angle:.6g}°: the width must be over 0 "
            "and the angle between 0° and 90°",
            width=chamfer.width,
        )
    slope = 1.0 if chamfer.angle == 45.0 else float(np.tan(np.radians(chamfer.angle)))
    return Bevel(chamfer.width, chamfer.width * slope, chamfer.edge)


def _cut(whole: Block, cuts: list[Block], name: str, field: str) -> Solid:
    """Subtract the cuts; one piece must be left."""
    made = whole.manifold()
    for cut in cuts:
        made -= cut.manifold()
    if cuts:
        if made.is_empty() or made.volume() <= 0.0:
            raise SolidError(field, f'nothing is left of "{name}": its openings and recesses cut it all away')
        pieces = len(made.decompose())
        if pieces != 1:
            raise SolidError(
                field,
                f'"{name}" falls into {pieces} pieces: its openings, recesses and bores cut right through; '
                "make them smaller or shallower",
            )
    return _labelled(made)


def _labelled(made: manifold3d.Manifold) -> Solid:
    mesh = made.to_mesh64()
    return Solid(
        np.array(mesh.vert_properties[:, :3], dtype=np.float64),
        np.array(mesh.tri_verts, dtype=np.int64),
        (np.asarray(mesh.face_id) % LABELS).astype(np.int8),
    )


def _copied(solid: Solid, outer: Path, copies: Around | None) -> Solid:
    """Copy a solid evenly around the axis, each copy turned with its bearing, into one mesh."""
    if copies is None:
        return solid
    if copies.count < 1:
        raise SolidError("around", f"count {copies.count}: it must be at least 1")
    paths = around(outer, copies)
    if len(paths) > 1 and overlapping(paths[0], paths[1], 0.0):
        raise SolidError(
            "around",
            f"{copies.count} copies on a circle of {{circle}} run into each other: "
            "use fewer, smaller ones or a larger circle",
            circle=copies.circle,
        )
    n = len(solid.vertices)
    vertices = [
        turned_points(
            solid.vertices + np.array((0.0, -0.5 * copies.circle, 0.0)),
            copies.first + 360.0 * k / copies.count,
        )
        for k in range(copies.count)
    ]
    triangles = np.concatenate([solid.triangles + k * n for k in range(copies.count)])
    return Solid(np.concatenate(vertices), triangles, np.tile(solid.faces, copies.count))
