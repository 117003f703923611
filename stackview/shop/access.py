"""Till when things can be reached: strips, solder joints and the cable's end, as the lamp is put together.

A thing lies open while nothing that is in its place covers it, seen from the end at which the lamp is
still open: from above, or from below where it is put together upside down. Around a solder joint an
iron and two fingers need room.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from stackview.checks.alike import together
from stackview.checks.assembly_order import AssemblyOrder
from stackview.checks.bore_exit import exits
from stackview.checks.slabs import Slab, slabs_of_parts
from stackview.checks.wiring import End, WireWays, ends_of

if TYPE_CHECKING:
    from stackview.study import Study

_IRON = 10.0
"""Room that an iron needs on every side of a solder joint [mm]; common practice."""
_LEVEL = 1e-6
_COVERED = 0.02
"""A thing is out of reach where this share of the room that it needs is covered."""
CABLE = "the cable's end"
"""What the place is called where the cable comes out of its bore, or the cord out of the lid."""


@dataclass(frozen=True, slots=True, eq=False)
class ToReach:
    """A thing to be reached: its name, the part that carries it, and the places that it needs open [mm].

    Each place is an area seen from above and the heights beside it. It is within reach while all of them are.
    """

    name: str
    carrier: str
    places: tuple[tuple[BaseGeometry, float, float], ...]
    own: bool = True
    """Whether its own carrier is not in the way: it stands upright, or the thing lies on its open side."""


def things_to_reach(study: "Study") -> tuple[ToReach, ...]:
    """Every light's strip or board, its joints with the wires, and the cable's end."""
    return (*_lights(study), *_cable(study))


def strip_thing(light: str) -> str:
    """What a light is called where it has to be reached."""
    return f'light "{light}"'


def joint_thing(light: str) -> str:
    """What the solder joints of a light are called."""
    return f'joints of light "{light}"'


def things_said(things: Sequence[str]) -> str:
    """Things that can be reached or not, as a maker would list them: a light and its joints as one.

    >>> things_said(['light "a"', 'joints of light "a"', 'joints of light "b"'])
    'light "a" with its joints and joints of light "b"'
    """
    known = set(things)
    said = [
        f"{thing} with its joints" if f"joints of {thing}" in known else thing
        for thing in things
        if thing.removeprefix("joints of ") == thing or thing.removeprefix("joints of ") not in known
    ]
    return together(said)


def _lights(study: "Study") -> Iterator[ToReach]:
    ways = WireWays(study)
    radius = ways.wide / 2.0 or 1.0
    ends: dict[str, list[tuple[BaseGeometry, float, float]]] = {}
    first = 0
    for lit, found in ends_of(study, radius):
        end = _soldered(study, ways, found)
        # whatever reaches past the middle of the joint on its open side is in the iron's way
        middle = (end.low + end.high) / 2.0
        ends.setdefault(lit.light.name, []).append((end.place.buffer(_IRON - radius), middle, middle))
    for lit in study.light.lit:
        name, carrier = lit.light.name, lit.light.layout.carrier
        ribbons = study.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        joints = tuple(ends.get(name, ()))
        lies: tuple[tuple[BaseGeometry, float, float], ...] = joints
        if ribbons:
            edges = [np.concatenate((one.low - one.normal, one.high - one.normal)) for one in ribbons]
            heights = np.concatenate(edges)[:, 2]
            spots = shapely.union_all([shapely.multipoints(each[:, :2]).buffer(1.0) for each in edges])
            lies = ((spots, float(heights.min()), float(heights.max())),)
        yield ToReach(strip_thing(name), carrier, lies, own=bool(ribbons))
        yield ToReach(joint_thing(name), carrier, joints, own=bool(ribbons))


def _soldered(study: "Study", ways: WireWays, ends: Sequence[End]) -> End:
    """The end that the wires are soldered to: one that they get to, the nearest to where they come in."""
    lamp = study.lamp
    host = (
        lamp.layers[-1]
        if lamp.cord is not None
        else next((one for one in lamp.layers if one.bores), lamp.layers[0])
    )
    comes_in = study.stack.part(host.name).underside
    return min(ends, key=lambda end: (not ways.gets_to(end), abs((end.low + end.high) / 2.0 - comes_in)))


def _cable(study: "Study") -> Iterator[ToReach]:
    """Where the cable comes out of its bore, or the cord out of the lid, with room for fingers."""
    lamp = study.lamp
    if lamp.cord is not None:
        host = lamp.layers[-1].name
        hole = shapely.Point(lamp.cord.at).buffer(lamp.cord.diameter / 2.0 + _IRON)
        under = study.stack.part(host).underside
        yield ToReach(CABLE, host, ((hole, under - 1.0, under),), own=False)
    elif lamp.cable is not None:
        for layer in lamp.layers:
            foot = study.stack.part(layer.name).underside
            for bore in layer.bores:
                for way in exits(layer, bore, lamp.cable.diameter)[:1]:
                    area = rotate(way.area, layer.turn, origin=(0.0, 0.0)).buffer(_IRON)
                    yield ToReach(CABLE, layer.name, ((area, foot + way.height, foot + way.height),))
                    return


@dataclass(frozen=True, slots=True)
class Sealed:
    """When a thing is out of reach: with which of the order's moves, and what covers it then."""

    thing: str
    carrier: str
    move: int
    by: str


def sealed_when(study: "Study", order: AssemblyOrder, things: Sequence[ToReach]) -> tuple[Sealed, ...]:
    """For every thing the move with which it is shut in; none for what stays open in the finished lamp."""
    slabs = slabs_of_parts(study)
    found = (_shut_in(thing, order, slabs) for thing in things)
    return tuple(one for one in found if one is not None)


def _shut_in(thing: ToReach, order: AssemblyOrder, slabs: Mapping[str, Sequence[Slab]]) -> Sealed | None:
    """A block by itself is closed by its own parts; set on the others, by all that are there."""
    there: dict[int, list[str]] = {}
    # what covers it does so at every move: each part is asked once from each side, each plan once
    covered = lru_cache(maxsize=None)(_is_covered)
    covers = lru_cache(maxsize=None)(
        lambda name, from_top: _covers(thing, slabs.get(name, ()), from_top, covered)
    )
    for number, move in enumerate(order.moves):
        body = there.setdefault(0 if move.joins else move.block, [])
        body += move.names
        if thing.carrier not in body:
            continue
        others = (name for name in reversed(body) if not (thing.own and name == thing.carrier))
        last = next((name for name in others if covers(name, move.from_top)), None)
        if last is not None:
            return Sealed(thing.name, thing.carrier, number, last)
    return None


def _covers(
    thing: ToReach,
    slabs: Sequence[Slab],
    from_top: bool,
    covered: Callable[[BaseGeometry, BaseGeometry], bool],
) -> bool:
    """Whether a part of these slabs covers a place of a thing, seen from the open end."""
    return any(
        (slab.low < low - _LEVEL if from_top else slab.high > high + _LEVEL) and covered(slab.area, place)
        for place, low, high in thing.places
        for slab in slabs
    )


def _is_covered(area: BaseGeometry, place: BaseGeometry) -> bool:
    return bool(shapely.intersection(area, place).area > _COVERED * place.area)
