"""The bodies of a lamp to hand on: the whole lamp as it stands, or every different part as it lies on the bench."""

from dataclasses import replace
from typing import TYPE_CHECKING

from stackview.description.lamp import Layer
from stackview.shop.copies import cut_parts
from stackview.shop.rods import feet_of, posts_and_core
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
    for rod_ in (*posts_and_core(study), *((feet,) if (feet := feet_of(study)) else ())):
        body = rod(rod_.stock.outline, None, rod_.long, rod_.stock.wall, lamp.chord_error)
        alone = _alone(rod_.part, body)
        found.append(replace(alone, name="foot") if alone.is_foot else alone)
    return tuple(found)


def _layer(study: "Study", layer: Layer) -> Placed:
    one = solid_of(replace(layer, around=None), study.lamp.chord_error)
    return _alone(study.stack.part(layer.name), one)


def _alone(part: Placed, solid: Solid) -> Placed:
    """The part by itself, as it is made."""
    return replace(part, solid=solid, underside=0.0, top=part.top - part.underside, turn=0.0)
