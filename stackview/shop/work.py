"""What is cut into each face of a part, in words, and whether it has to be turned over for it."""

from collections import Counter
from dataclasses import dataclass
from typing import Literal

from stackview.description.lamp import Chamfer, FaceSide, Groove, Layer
from stackview.description.outline import Outline
from stackview.description.units import Units
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

    Round holes narrower than the ``cutter`` [mm] are said to be drilled.
    """
    into = {side: (*_recesses(layer, side, units, cutter), *_grooves(layer, side, units)) for side in _SIDES}
    busy = [side for side in _SIDES if into[side] or any(_is_on(one, side) for one in layer.chamfers)]
    openings: list[str] = []
    for opening in layer.openings:
        count = 1 if opening.around is None else opening.around.count
        openings += [
            f"opening {shape_words(opening.outline, units)}{_drilled(opening.outline, cutter)}"
        ] * count
    return Work(
        through=_counted(openings),
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
    return ", drilled" if radius is not None and 2.0 * radius < cutter - 1e-9 else ""


def _recesses(layer: Layer, side: FaceSide, units: Units, cutter: float) -> tuple[str, ...]:
    return _counted(
        [
            f"recess {units.show(one.depth)} deep, {shape_words(one.outline, units)}{_drilled(one.outline, cutter)}"
            for one in layer.recesses
            if one.face == side
        ]
    )


def _grooves(layer: Layer, side: FaceSide, units: Units) -> tuple[str, ...]:
    return tuple(_groove(one, units) for one in layer.grooves if one.face == side)


def _groove(groove: Groove, units: Units) -> str:
    return (
        f"groove {_AT[groove.along]}, {units.show(groove.distance)} from its edge, "
        f"{units.show(groove.width)} wide, {units.show(groove.depth)} deep"
    )


def _counted(words: list[str]) -> tuple[str, ...]:
    """The same words are told once, with how often."""
    return tuple(one if count == 1 else f"{count} × {one}" for one, count in Counter(words).items())
