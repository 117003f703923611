"""What a drawing says of every cut of a part: one row a cut, with each number that cuts it."""

from collections.abc import Sequence

import numpy as np

from stackview.curves.arcs import Path, area, bounds, pieces_of
from stackview.curves.fit import inside
from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.shapes import Curve, Regular
from stackview.description.units import Units
from stackview.shop.cut_places import cut_place
from stackview.shop.drawn_cuts import DrawnCut, bore_length, circle_of
from stackview.shop.part_size import corner_words, size_of_path

_A_LEDGE = 0.25
_SIDES = {0.0: "the front", 90.0: "the right", 180.0: "the back", 270.0: "the left"}


def cut_words(cuts: Sequence[DrawnCut], layer: Layer, cutter: float, units: Units) -> list[str]:
    """A row for each cut. ``cutter`` is its diameter [mm]; lengths are said by ``units``."""
    return [_words(cut, layer, cuts, cutter, units) for cut in cuts]


def _words(cut: DrawnCut, layer: Layer, cuts: Sequence[DrawnCut], cutter: float, units: Units) -> str:
    path, outer = cut.paths[0], cuts[0].paths[0]
    many = f"{len(cut.paths)} × " if len(cut.paths) > 1 else ""
    match cut.of:
        case Outline() as outline:
            drawn = _drawn_words(outline, path, units)
            return f"outline: {outline_words(outline, path, units)}{drawn}"
        case Opening() as opening:
            words = f"{many}opening right through: {outline_words(opening.outline, path, units)}"
            return f"{words}{cut_place(cut, units)}{_wall(cut, outer, units)}{_drilled(path, cutter, units)}"
        case Recess() as recess:
            left = units.show(layer.thickness - recess.depth)
            words = f"{many}recess in the {recess.face}, {units.show(recess.depth)} deep ({left} left): "
            words += f"{outline_words(recess.outline, path, units)}{cut_place(cut, units)}{_wall(cut, outer, units)}"
            ledge = least_ledge(cut, cuts)
            if ledge is not None:
                words += f"; ledge {units.show(ledge)} wide at its narrowest"
            if recess.fitted_to:
                words += f"; takes {recess.fitted_to}, play {units.small(recess.clearance)} a side"
            return words + _drilled(path, cutter, units)
        case Groove() as groove:
            return _groove_words(groove, cut, units)
        case Chamfer() as chamfer:
            high = "" if chamfer.angle == 45.0 else f", {units.show(cut.depth or 0.0)} high"
            return f"chamfer on the {chamfer.edge} edge: {units.show(chamfer.width)} × {chamfer.angle:.6g}°{high}"
        case Bore() as bore:
            return _bore_words(bore, outer, units)


def _groove_words(groove: Groove, cut: DrawnCut, units: Units) -> str:
    edge = {"outline": "outer edge", "opening": "opening", "recess": "wall of the recess"}[groove.along]
    deep = f"{units.show(groove.depth)} deep"
    if cut.floor:
        deep += f" below the recess's floor ({units.show(cut.depth or 0.0)} below the face)"
    return (
        f"groove in the {groove.face}, {units.show(groove.width)} wide, {deep}, "
        f"its near side {units.show(groove.distance)} from the {edge}"
    )


def _bore_words(bore: Bore, outer: Path, units: Units) -> str:
    side = _SIDES.get(bore.bearing % 360.0)
    whence = f"{side} (bearing {bore.bearing:.6g}°)" if side else f"bearing {bore.bearing:.6g}°"
    return (
        f"bore {bore_size(bore, units)} from {whence} towards the axis, {units.show(bore_length(bore, outer))} "
        f"deep, its middle {units.show(bore.height)} above the underside"
    )


def bore_size(bore: Bore, units: Units) -> str:
    """Its diameter in words."""
    return f"⌀ {units.show(bore.diameter)}"


def outline_words(outline: Outline, path: Path, units: Units) -> str:
    """How large an outline is, how long its straight sides are, how it is turned, and its corners."""
    words = size_of_path(outline, path, units)
    if isinstance(outline.shape, Regular):
        p = pieces_of(path)
        sides = np.hypot(*(p.end - p.start).T)[~p.arc]
        if sides.size and np.ptp(sides) < 1e-6:
            words += f", straight sides {units.show(float(sides[0]))} long"
    turned = "" if circle_of(path) or not outline.turn % 360.0 else f", turned {outline.turn:.6g}°"
    return f"{words}{turned}{corner_words(path, units)}"


def _drawn_words(outline: Outline, path: Path, units: Units) -> str:
    """Of a drawn curve: its file, and the sharpest hollow that a cutter outside it has to follow."""
    if not isinstance(outline.shape, Curve):
        return ""
    p = pieces_of(path)
    hollow = p.radius[p.arc & (p.sweep < 0.0)]
    words = f", hollows R {units.show(float(hollow.min()))} at least" if hollow.size else ""
    file = outline.shape.source.replace("\\", "/").rsplit("/", 1)[-1]
    return f"{words}; drawn in {file}: cut it by the DXF or SVG"


def _wall(cut: DrawnCut, outer: Path, units: Units) -> str:
    """What is left between it and the outer edge, at the narrowest."""
    least = least_wall(cut, outer)
    return f"; {units.show(least)} to the outer edge" if least > 1e-6 else "; open to the outer edge"


def least_wall(cut: DrawnCut, outer: Path) -> float:
    """Least distance from a cut's curves to the outer edge [mm]; under 0 where they reach past it."""
    return min(-inside(path, outer).by for path in cut.paths)


def least_ledge(cut: DrawnCut, cuts: Sequence[DrawnCut]) -> float | None:
    """How wide the floor is that a recess leaves round the opening in it, at the narrowest [mm].

    None where there is no opening inside of it, or one of less than a quarter of its area: that is a
    floor with a hole.
    """
    (path, *more), found = cut.paths, []
    if more:
        return None
    for other in cuts:
        if isinstance(other.of, Opening) and len(other.paths) == 1:
            opening = other.paths[0]
            by = inside(opening, path).by
            if by < -1e-6 and area(opening) >= _A_LEDGE * area(path):
                found.append(-by)
    return min(found, default=None)


def _drilled(path: Path, cutter: float, units: Units) -> str:
    round_ = circle_of(path)
    if round_ is None or 2.0 * round_[1] > cutter * (1.0 + 1e-9):
        return ""
    return f"; drill it: the cutter is ⌀ {units.show(cutter)}"


def spans_about_axis(cut: DrawnCut) -> Path | None:
    """The curve of a cut that stands about the axis and is dimensioned on the plan, else None."""
    if not isinstance(cut.of, Outline | Opening | Recess) or len(cut.paths) != 1:
        return None
    x0, y0, x1, y1 = bounds(cut.paths[0])
    return cut.paths[0] if x0 < 0.0 < x1 and y0 < 0.0 < y1 else None
