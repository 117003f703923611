"""Which layers are cut to the same shape, so that each shape is drawn and counted once."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from stackview.description.lamp import Layer
from stackview.description.material import Finish
from stackview.shop.cut_curves import cut_curves, turned_over
from stackview.shop.cut_part import CutPart, EqualCopy
from stackview.shop.laid_on import SAME, Template, template, turn_onto
from stackview.shop.stock import of_one_stock

if TYPE_CHECKING:
    from stackview.study import Study


def cut_parts(study: "Study") -> tuple[CutPart, ...]:
    """Every different part that is cut for a lamp, in the order of the stack from the bottom up.

    Layers are one part where one of them, shifted, turned in its plane or turned over, lies on the other
    with no point and no depth off by more than 0.00001 mm, its faces are finished alike, and its grain
    runs the same way. Names and how a layer stands in the stack do not matter. Posts, core and feet are
    cut from rods and are no parts here. Raises LampError where the lamp cannot be built.
    """
    return parts_of_layers(study.stack.lamp.layers)


def parts_of_layers(layers: Iterable[Layer]) -> tuple[CutPart, ...]:
    """The different parts among layers, as ``cut_parts`` has them; raises SolidError for what cannot be made."""
    found: list[tuple[Layer, Template, list[EqualCopy]]] = []
    for layer in layers:
        cuts = cut_curves(layer)
        upright = template(cuts, _grain(layer))
        for first, known, copies in found:
            turn = turn_onto(known, upright) if same_stuff(first, layer) else None
            if turn is not None:
                copies.append(EqualCopy(layer.name, _pieces(layer), False, turn))
                break
        else:
            over = _over(layer)
            # laid on the first of them once it is turned over, as the first would be on it
            flipped = template(turned_over(cuts, layer.thickness), _grain(over))
            for first, known, copies in found:
                turn = turn_onto(known, flipped) if same_stuff(first, over) else None
                if turn is not None:
                    copies.append(EqualCopy(layer.name, _pieces(layer), True, -turn % 360.0))
                    break
            else:
                found.append((layer, upright, [EqualCopy(layer.name, _pieces(layer), False, 0.0)]))
    return tuple(CutPart(layer, tuple(copies)) for layer, _, copies in found)


def same_stuff(one: Layer, other: Layer) -> bool:
    """Whether two layers are as thick as each other, of the same material and finished alike, face by face."""
    return (
        abs(one.thickness - other.thickness) <= SAME
        and one.finish == other.finish
        and of_one_stock(one.material) == of_one_stock(other.material)
        and one.material.optics == other.material.optics
    )


def _over(layer: Layer) -> Layer:
    """The layer's faces and grain when it is turned over."""
    finish = layer.finish
    return replace(
        layer, finish=Finish(finish.underside, finish.top, finish.edge), grain=-layer.grain % 360.0
    )


def _grain(layer: Layer) -> float | None:
    """Bearing of the grain of one piece [°], as an angle that grows counter-clockwise; None without a grain."""
    return layer.grain if layer.material.is_figured else None


def _pieces(layer: Layer) -> int:
    return 1 if layer.around is None else layer.around.count
