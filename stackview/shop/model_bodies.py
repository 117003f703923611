"""The bodies of a lamp to hand on: the whole lamp as it stands, or every different part as it lies on the bench."""

from dataclasses import replace
from typing import TYPE_CHECKING

from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.shop.copies import cut_parts
from stackview.shop.stock import core_stock, post_stock
from stackview.solids.build import rod, solid_of
from stackview.solids.solid import Solid
from stackview.stack.placed import Placed

if TYPE_CHECKING:
    from stackview.study import Study


def whole_lamp(study: "Study") -> tuple[Placed, ...]:
    """Every part where it stands in the lamp, the cord of a pendant left out. Raises LampError."""
    return tuple(part for part in study.stack.placed if not part.is_cord)


def single_parts(study: "Study") -> tuple[Placed, ...]:
    """Every different part once, in its own frame: its underside at z = 0, its own middle on the axis.

    Equal copies are one body; posts of one stock and length, and feet, too. Raises LampError.
    """
    lamp = study.stack.lamp
    found = [_layer(study, part.layer) for part in cut_parts(study)]
    seen = set()
    for post in lamp.posts:
        part, stock = study.stack.part(post.name), post_stock(post)
        long = part.top - part.underside
        if (stock, round(long, 5)) not in seen:
            seen.add((stock, round(long, 5)))
            found.append(_alone(part, rod(stock.outline, None, long, None, lamp.chord_error)))
    if lamp.core is not None:
        part, stock = study.stack.part("core"), core_stock(lamp.core)
        long = part.top - part.underside
        found.append(_alone(part, rod(stock.outline, None, long, stock.wall, lamp.chord_error)))
    if lamp.feet is not None:
        foot = rod(Outline(Circle(lamp.feet.diameter)), None, lamp.feet.height, None, lamp.chord_error)
        found.append(replace(_alone(study.stack.part("feet"), foot), name="foot"))
    return tuple(found)


def _layer(study: "Study", layer: Layer) -> Placed:
    one = solid_of(replace(layer, around=None), study.lamp.chord_error)
    return _alone(study.stack.part(layer.name), one)


def _alone(part: Placed, solid: Solid) -> Placed:
    """The part by itself, as it is made."""
    return replace(part, solid=solid, underside=0.0, top=part.top - part.underside, turn=0.0)
