"""What is cut into each face of a part, in words, and whether it has to be turned over for it."""

from dataclasses import dataclass
from typing import Literal

from stackview.description.lamp import Chamfer, FaceSide, Groove, Layer, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.units import Units
from stackview.shop.cut_places import cut_place
from stackview.shop.drawn_cuts import DrawnCut, drawn_cuts
from stackview.shop.part_size import shape_words

_AT = {"outline": "inside the outer edge", "opening": "round the opening", "recess": "in the recess"}
_SIDES: tuple[FaceSide, FaceSide] = ("top", "underside")


@dataclass(frozen=True, slots=True)
class Work:
    """What is done to one part, in words: cut right through, cut into each face, bored from its edge."""

    through: tuple[str, ...]
    top: tuple[str, ...]
    underside: tuple[str, ...]
    chamfers: tuple[str, ...]
    """Bevels along its edges, whichever face they are cut from."""
    bores: tuple[str, ...]
    flips: int
    """How often it is turned over: once where recesses, grooves or chamfers lie on both faces."""
    face_up: Literal["top", "underside", "either"]
    """The face that lies up first."""


def work_on(layer: Layer, units: Units, cutter: float) -> Work:
    """Everything that is done to one piece of a layer, lengths in the lamp's own unit.

    Round holes no wider than the ``cutter`` [mm] are said to be drilled.
    """
    cuts = drawn_cuts(layer)
    into = {side: (*_recesses(cuts, side, units, cutter), *_grooves(layer, side, units)) for side in _SIDES}
    busy = [side for side in _SIDES if into[side] or any(_is_on(one, side) for one in layer.chamfers)]
    return Work(
        through=tuple(_cut_words(cut, units, cutter) for cut in cuts if isinstance(cut.of, Opening)),
        top=into["top"],
        underside=into["underside"],
        chamfers=tuple(
            f"{one.edge} edge {units.show(one.width)} wide at {one.angle:.6g}°" for one in layer.chamfers
        ),
        bores=tuple(
            f"{units.show(bore.diameter)} across, its middle {units.show(bore.height)} above the underside, "
            f"from bearing {bore.bearing % 360.0:.6g}° "
            + ("as far as the axis" if bore.length is None else f"{units.show(bore.length)} deep")
            for bore in layer.bores
        ),
        flips=int(len(busy) == len(_SIDES)),
        face_up=busy[0] if busy else "either",
    )


def _is_on(chamfer: Chamfer, side: FaceSide) -> bool:
    return chamfer.edge.startswith(side)


def _drilled(outline: Outline, cutter: float) -> str:
    radius = outline.radius
    return ", drilled" if radius is not None and 2.0 * radius <= cutter * (1.0 + 1e-9) else ""


def _cut_words(cut: DrawnCut, units: Units, cutter: float) -> str:
    """An opening or a recess: how many, how deep, how large, where, and whether it is drilled."""
    assert isinstance(cut.of, Opening | Recess)
    many = f"{len(cut.paths)} × " if len(cut.paths) > 1 else ""
    deep = f"recess {units.show(cut.of.depth)} deep," if isinstance(cut.of, Recess) else "opening"
    outline = cut.of.outline
    return f"{many}{deep} {shape_words(outline, units)}{cut_place(cut, units)}{_drilled(outline, cutter)}"


def _recesses(cuts: tuple[DrawnCut, ...], side: FaceSide, units: Units, cutter: float) -> tuple[str, ...]:
    return tuple(
        _cut_words(cut, units, cutter) for cut in cuts if isinstance(cut.of, Recess) and cut.face == side
    )


def _grooves(layer: Layer, side: FaceSide, units: Units) -> tuple[str, ...]:
    return tuple(_groove(one, units) for one in layer.grooves if one.face == side)


def _groove(groove: Groove, units: Units) -> str:
    return (
        f"groove {_AT[groove.along]}, {units.show(groove.distance)} from its edge, "
        f"{units.show(groove.width)} wide, {units.show(groove.depth)} deep"
    )
