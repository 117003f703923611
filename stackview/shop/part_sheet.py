"""What one drawing is of: a part, its copies, its cuts and the marks by which it is turned."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import cos_sin
from stackview.curves.one_form import mirrored_path
from stackview.description.lamp import Bore, Groove, Layer, Recess
from stackview.shop.copies import cut_parts
from stackview.shop.cut_part import EqualCopy
from stackview.shop.drawn_cuts import DrawnCut, circle_of, drawn_cuts
from stackview.solids.cuts import edge_at

if TYPE_CHECKING:
    from stackview.study import Study

_MARK = 4.0
"""Greatest length of an index mark, inwards from the edge [mm]; a tenth of the way to the axis at most."""
_ABOUT_AXIS = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class IndexMark:
    """Where a part has to point to the front of the lamp: a short line inwards from its edge.

    ``line`` : (2, 2) from the edge inwards [mm]; ``names`` are the copies that it is for.
    """

    letter: str
    names: tuple[str, ...]
    line: Floats


@dataclass(frozen=True, slots=True, eq=False)
class PartSheet:
    """One different part, ready to be drawn."""

    layer: Layer
    names: tuple[str, ...]
    """The layers that are cut so, from the bottom up."""
    title: str
    """All names in short."""
    count: int
    """How many pieces one lamp has."""
    turned_over: tuple[str, ...]
    """Those that are turned over in the stack."""
    cuts: tuple[DrawnCut, ...]
    marks: tuple[IndexMark, ...]
    aside: tuple[str, ...] = ()
    """Copies of which nothing lies towards the lamp's front, so that they have no mark there."""

    @property
    def is_cut_from_below(self) -> bool:
        """Whether anything but a bevel is cut into its underside, so that it has to be seen from there."""
        return any(cut.face == "underside" and isinstance(cut.of, Recess | Groove) for cut in self.cuts)

    @property
    def from_below(self) -> "PartSheet":
        """The same seen from below, turned over about the line from front to back: x becomes −x."""
        cuts = tuple(
            replace(cut, paths=tuple(mirrored_path(path) for path in cut.paths)) for cut in self.cuts
        )
        marks = tuple(replace(mark, line=mark.line * np.array((-1.0, 1.0))) for mark in self.marks)
        layer = replace(self.layer, grain=-self.layer.grain % 360.0)
        return replace(self, layer=layer, cuts=cuts, marks=marks)

    @property
    def below_alone(self) -> tuple[DrawnCut, ...]:
        """What of ``from_below`` is cut with the underside up: its own cuts, and outline and openings to line it up by."""
        return tuple(
            cut for cut in self.from_below.cuts if cut.face != "top" and not isinstance(cut.of, Bore)
        )


def index_marks(
    cuts: Sequence[DrawnCut], fronts: Sequence[tuple[str, float]], *, figured: bool = False
) -> tuple[IndexMark, ...]:
    """Marks for copies by name and the part's own bearing [°] that faces the lamp's front.

    Copies that face it alike share a mark. None for a part whose cuts are circles about the axis,
    which is the same however it is turned, unless it is ``figured``: then its grain shows the turn; and
    none for copies of which nothing lies towards the front.
    """
    if not figured and all(_is_about_axis(cut) for cut in cuts):
        return ()
    alike: dict[float, list[str]] = {}
    for name, bearing in fronts:
        alike.setdefault(round(bearing % 360.0, 6) % 360.0, []).append(name)
    outer = cuts[0].paths[0]
    marks: list[IndexMark] = []
    for bearing, names in alike.items():
        cos, sin = cos_sin(bearing)
        entry = edge_at(outer, bearing)
        if entry is None:
            continue
        ends = np.outer((entry, max(entry - _MARK, 0.9 * entry)), (sin, -cos))
        ends.setflags(write=False)
        marks.append(IndexMark(_letters(len(marks)), tuple(names), ends))
    return tuple(marks)


def _is_about_axis(cut: DrawnCut) -> bool:
    rounds = [circle_of(path) for path in cut.paths]
    return all(found is not None and float(np.hypot(*found[0])) <= _ABOUT_AXIS for found in rounds)


def _letters(index: int) -> str:
    """Letters from a to z, then aa, ab and so on.

    >>> _letters(0), _letters(25), _letters(26)
    ('a', 'z', 'aa')
    """
    more, last = divmod(index, 26)
    return (_letters(more - 1) if more else "") + chr(ord("a") + last)


def part_sheets(study: "Study") -> tuple[PartSheet, ...]:
    """Every different part of a lamp, ready to be drawn, from the bottom of the stack up.

    Index marks are set where any layer of the lamp is turned. Raises LampError where the lamp
    cannot be built.
    """
    layers = {layer.name: layer for layer in study.lamp.layers}
    is_turned = any(layer.turn % 360.0 for layer in layers.values())
    sheets = []
    for part in cut_parts(study):
        cuts = drawn_cuts(part.layer)
        fronts = [(copy.name, _front(copy, layers[copy.name])) for copy in part.copies]
        figured = part.material.is_figured
        marks: tuple[IndexMark, ...] = ()
        aside: tuple[str, ...] = ()
        if is_turned and part.layer.around is None:
            marks = index_marks(cuts, fronts, figured=figured)
            outer = cuts[0].paths[0]
            aside = tuple(name for name, bearing in fronts if edge_at(outer, bearing) is None)
        sheets.append(
            PartSheet(part.layer, part.names, part.title, part.count, part.turned_over, cuts, marks, aside)
        )
    return tuple(sheets)


def _front(copy: EqualCopy, layer: Layer) -> float:
    """The bearing of the part's own frame that faces the lamp's front in this copy [°].

    The copy is the part, turned over where it is (x → −x, a bearing becomes its negative), then
    turned; and it stands in the lamp turned by its layer's turn.
    """
    bearing = -layer.turn - copy.turn
    return -bearing if copy.turned_over else bearing
