"""The level faces of a part as it is cut, fine enough to say by what width one part lies on another.

Where :mod:`stackview.stack.footprint` asks at what height two layers meet, this says what is left of
each face there: openings, recesses, chamfers and grooves all taken off, each piece by itself.
Curves become facets of 0.002 mm, whatever the lamp's own chord error, so that a width is good to
twice that; a face depends on its layer alone and is kept by value.
"""

from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from stackview.arrays import Floats
from stackview.by_value import by_value
from stackview.curves.arcs import Path, cos_sin, polygon
from stackview.description.lamp import Chamfer, FaceSide, Groove, Layer
from stackview.description.outline import path_of
from stackview.errors import SolidError
from stackview.solids.cuts import groove_edges
from stackview.solids.holes import Hole, holes_of

FINE = 0.002
"""Chord error of these faces [mm]."""
SLIVER = 3.0 * FINE
"""What is narrower than this is facets of two curves that are equal [mm]."""
_KEPT = 4_000_000
"""Faces kept for further variants of a lamp, each table [bytes]."""
_SHARP = 1000.0
"""Mitres stay sharp, as a bevel leaves them, up to this many times its width."""


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class LevelFace:
    """One level area: its height in the part's own frame [mm], and the area as the part stands, turned."""

    height: float
    area: BaseGeometry


def level_faces(layer: Layer, side: FaceSide) -> tuple[tuple[LevelFace, ...], ...]:
    """What looks up (or down) level of each piece of a layer: its face, then the floors of its recesses.

    Areas that chamfers, recesses or grooves have taken away altogether are left out. Raises
    SolidError where an opening chamfer does not fit its recess.
    """
    return _standing(replace(layer.as_cut, turn=layer.turn), side)


def check_faces(layer: Layer, chord_error: float = 0.0) -> None:
    """Check that something is left of both faces, so that the layer is as thick as its sheet.

    A chamfer that meets a recess or another chamfer cuts the whole face off, and the layer is
    lower than its neighbours, seats and sightlines are told. Raises SolidError where that is so, with the
    most that the chamfers may be, by bisection: so much of a face is left then that facets within
    ``chord_error`` of the curves do not cut it off.
    """
    sides: tuple[FaceSide, FaceSide] = ("top", "underside")
    for side in sides:
        if _face_left(layer, side, 1.0):
            continue
        bevels = [one for one in layer.chamfers if one.edge.startswith(side)]
        if not bevels or not _face_left(layer, side, 0.0):
            raise SolidError(
                "recess" if layer.recesses else "groove",
                "nothing is left of the {side}: recesses, grooves and openings take all of it away; make them smaller",
                side=side,
            )
        low, high = 0.0, 1.0
        while (high - low) * max(one.width for one in bevels) > 1e-5:
            middle = 0.5 * (low + high)
            left = _face_left(layer, side, middle, SLIVER + 2.0 * chord_error)
            low, high = (middle, high) if left else (low, middle)
        words = [f"{one.edge} chamfer of width {{width{k}}}" for k, one in enumerate(bevels)]
        least = [f"{{most{k}:most}}" for k in range(len(bevels))]
        widths = {f"width{k}": one.width for k, one in enumerate(bevels)}
        widths |= {f"most{k}": low * one.width for k, one in enumerate(bevels)}
        raise SolidError(
            "chamfer",
            f"{' and '.join(words)}: nothing would be left of the {side}, and the layer would be lower than "
            f"its sheet; make it at most {' and '.join(least)}, or the recess or opening smaller",
            **widths,
        )


def _face_left(layer: Layer, side: FaceSide, share: float, wide: float = SLIVER) -> bool:
    """Whether a face is wider than ``wide`` somewhere [mm] when its chamfers have that share of their widths."""
    chamfers = tuple(replace(one, width=share * one.width) for one in layer.chamfers if share > 0.0)
    flat = layer.height_of(side)
    try:
        faces = _of_one(replace(layer.as_cut, around=None, chamfers=chamfers), side)
    except SolidError:
        return False  # a bevel larger than its curve, or than the recess that it lies in
    return any(not face.area.buffer(-0.5 * wide).is_empty for face in faces if abs(face.height - flat) < 1e-9)


def _bytes(faces: tuple[LevelFace, ...]) -> int:
    return int(16 * shapely.get_num_coordinates([face.area for face in faces]).sum())


@by_value(_KEPT, size=lambda pieces: sum(_bytes(faces) for faces in pieces))
def _standing(layer: Layer, side: FaceSide) -> tuple[tuple[LevelFace, ...], ...]:
    one = _of_one(replace(layer, around=None, turn=0.0), side)
    copies = layer.around
    if copies is None:
        return (tuple(LevelFace(face.height, _placed(face.area, 0.0, layer.turn)) for face in one),)
    turns = [copies.first + layer.turn + 360.0 * k / copies.count for k in range(copies.count)]
    return tuple(
        tuple(LevelFace(face.height, _placed(face.area, -0.5 * copies.circle, turn)) for face in one)
        for turn in turns
    )


def _placed(area: BaseGeometry, forth: float, turn: float) -> BaseGeometry:
    """The area moved ``forth`` along y [mm], then turned about the axis [°], exactly at quarter turns."""
    if forth == 0.0 and turn % 360.0 == 0.0:
        return area
    cos, sin = cos_sin(turn)

    def moved(points: Floats) -> Floats:
        x, y = points[:, 0], points[:, 1] + forth
        return np.column_stack((cos * x - sin * y, sin * x + cos * y))

    return shapely.transform(area, moved)


@by_value(_KEPT, size=_bytes)
def _of_one(layer: Layer, side: FaceSide) -> tuple[LevelFace, ...]:
    """The faces of one piece in its own frame; a deeper recess within a wider one takes its floor."""
    bevels: dict[str, Chamfer] = {chamfer.edge: chamfer for chamfer in layer.chamfers}
    outline = _polygon(path_of(layer.outline))
    holes = holes_of(layer, {})
    flat, inwards = layer.height_of(side), -1.0 if side == "top" else 1.0
    rest = outline
    found = []
    for recess in sorted((one for one in layer.recesses if one.face == side), key=lambda one: -one.depth):
        pocket = _polygon(path_of(recess.outline))
        found.append((recess.depth, rest.intersection(pocket)))
        rest = rest.difference(pocket)
    faces = []
    for depth, area in ((0.0, rest), *found):
        left = area
        outer = bevels.get(f"{side} outer")
        if outer is not None:
            left = left.intersection(_grown(outline, -_set_back(outer, depth)))
        for hole in holes:
            left = left.difference(_hole(hole, bevels.get(f"{side} opening"), side, depth, layer))
        for groove in layer.grooves:
            if groove.face == side:
                left = left.difference(_groove(groove, layer, holes, depth))
        if left.area > 0.0:
            faces.append(LevelFace(flat + inwards * depth, left))
    return tuple(faces)


def _set_back(bevel: Chamfer, below: float) -> float:
    """How far a bevel has come back from its edge ``below`` the level where it begins [mm]."""
    slope = float(np.tan(np.radians(bevel.angle)))
    return max(bevel.width - max(below, 0.0) / slope, 0.0)


def _hole(hole: Hole, bevel: Chamfer | None, side: FaceSide, depth: float, layer: Layer) -> BaseGeometry:
    """What an opening takes of a level at a depth; its bevel begins at the floor that the opening lies in."""
    cut = _polygon(hole.path)
    if bevel is None or not hole.main:
        return cut
    begins = max(
        (
            recess.depth
            for recess in layer.recesses
            if recess.face == side and _polygon(path_of(recess.outline)).covers(cut)
        ),
        default=0.0,
    )
    return _grown(cut, _set_back(bevel, depth - begins))


def _groove(groove: Groove, layer: Layer, holes: list[Hole], depth: float) -> BaseGeometry:
    """What a groove takes of a level at a depth: nothing of what lies below its own floor."""
    way = 1.0 if groove.along == "opening" else -1.0
    taken: list[BaseGeometry] = []
    main = [hole.path for hole in holes if hole.main]
    for edge, below in groove_edges(groove, layer, path_of(layer.outline), main):
        if depth < below + groove.depth:
            area = _polygon(edge)
            near, far = (_grown(area, way * by) for by in (groove.distance, groove.distance + groove.width))
            taken.append(near.symmetric_difference(far))
    return shapely.union_all(taken)


def _grown(area: BaseGeometry, by: float) -> BaseGeometry:
    return area.buffer(by, join_style="mitre", mitre_limit=_SHARP) if by else area


def _polygon(path: Path) -> BaseGeometry:
    return shapely.Polygon(polygon(path, FINE))
