"""Everything that is cut of one part, each cut as a curve between two heights, to be laid on another part's."""

from dataclasses import dataclass, replace

import numpy as np

from stackview.arrays import Floats
from stackview.checks.voids import bore_bar
from stackview.curves.arcs import Path, area, length
from stackview.curves.one_form import in_one_form, mirrored_path
from stackview.description.lamp import Chamfer, Layer
from stackview.description.outline import around, path_of
from stackview.solids.cuts import groove_edges

_OVER = {"top": "underside", "underside": "top"}
_Bevel = tuple[float, float]
"""Width along the face [mm] and angle to it [°]; both 0 where there is no bevel."""


@dataclass(frozen=True, slots=True, eq=False)
class CutCurve:
    """One cut of a part in its own frame: its curve, where it is entered, and what it is like there.

    ``low`` and ``high`` are heights above the underside [mm]; ``beside`` is how far a groove lies from
    the curve and how wide it is [mm], outwards positive; ``bevels`` are those of its lower and upper edge.
    """

    name: str
    path: Path
    low: float
    high: float
    entered: str
    bevels: tuple[_Bevel, _Bevel] = ((0.0, 0.0), (0.0, 0.0))
    beside: _Bevel = (0.0, 0.0)

    @property
    def rows(self) -> Floats:
        """The curve in the one form that equal curves share."""
        return in_one_form(self.path)

    @property
    def numbers(self) -> Floats:
        """What stays the same wherever the cut lies: heights, bevels, area and length."""
        flat = (value for pair in (*self.bevels, self.beside) for value in pair)
        # lengths all: an area's error is its length times that of the curve
        around_ = length(self.path)
        return np.array((self.low, self.high, *flat, area(self.path) / around_, around_))


def cut_curves(layer: Layer) -> tuple[CutCurve, ...]:
    """Outline, openings, recesses, grooves and bores of one piece of a layer, copies too; the outline first.

    Raises SolidError where the layer cannot be made as described.
    """
    thick = layer.thickness
    bevels: dict[str, Chamfer] = {chamfer.edge: chamfer for chamfer in layer.chamfers}

    def both(edge: str) -> tuple[_Bevel, _Bevel]:
        low, high = bevels.get(f"underside {edge}"), bevels.get(f"top {edge}")
        return ((low.width, low.angle) if low else (0.0, 0.0)), (
            (high.width, high.angle) if high else (0.0, 0.0)
        )

    outer = path_of(layer.outline)
    found = [CutCurve("outline", outer, 0.0, thick, "through", both("outer"))]
    main = []
    for opening in layer.openings:
        for path in around(path_of(opening.outline, "opening"), opening.around):
            edges = both("opening") if opening.main else both("")
            found.append(CutCurve("opening", path, 0.0, thick, "through", edges))
            main += [path] if opening.main else []
    for recess in layer.recesses:
        low, high = layer.heights_of_cut(recess.face, recess.depth)
        found.append(CutCurve("recess", path_of(recess.outline, "recess"), low, high, recess.face))
    for groove in layer.grooves:
        way = 1.0 if groove.along == "opening" else -1.0
        for edge, below in groove_edges(groove, layer, outer, main):
            low, high = layer.heights_of_cut(groove.face, groove.depth, below)
            beside = (way * groove.distance, way * groove.width)
            found.append(CutCurve("groove", edge, low, high, groove.face, beside=beside))
    for bore in layer.bores:
        bar = bore_bar(layer, bore)
        if bar is not None:
            found.append(CutCurve("bore", bar.path, bar.low, bar.high, "side"))
    return tuple(found)


def turned_over(cuts: tuple[CutCurve, ...], thickness: float) -> tuple[CutCurve, ...]:
    """The same cuts with the part turned over about its y axis: x becomes −x, the top the underside."""
    return tuple(
        replace(
            cut,
            path=mirrored_path(cut.path),
            low=thickness - cut.high,
            high=thickness - cut.low,
            entered=_OVER.get(cut.entered, cut.entered),
            bevels=cut.bevels[::-1],
        )
        for cut in cuts
    )
