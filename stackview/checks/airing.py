"""Airing: how much air the lamp's open gaps let through as it warms, and the heat that goes with it.

Warm air rises out of the upper openings and draws cool air in by the lower ones, against the
orifices on its way; a single opening breathes by itself. All of them go by √(ΔT/T), so that one
number says it: the flow at ΔT = T. The inside is taken as mixed, which an inside divided by
plates is not: with its gaps open the lamp lies between this and the same lamp shut.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import pi, sqrt

from stackview.checks.convection import GRAVITY, ZERO
from stackview.checks.subject import Subject
from stackview.curves.arcs import area, length
from stackview.description.lamp import Layer
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle
from stackview.stack.placed import Placed

_DISCHARGE = 0.6
"""Share of an opening's area that air from a sharp edge fills (BS 5925:1991, from memory: 0.61)."""
_HEAT_OF_AIR = 1006.0
"""[J/kgK], as in :func:`stackview.checks.convection.air_at`."""
_GAS = 287.05
_PRESSURE = 101325.0
_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Vent:
    """One opening to the room: free area [mm²], height of its middle [mm], and how tall it is (0 if level)."""

    area: float
    height: float
    tall: float


def flow_of(subject: Subject) -> float:
    """Air that the lamp's openings let through [m³/s] at ΔT = T; 0 for a lamp without any."""
    vents = vents_of(subject)
    alone = max((breathing(vent) for vent in vents), default=0.0)
    through = [
        chimney([low.area, *passages(subject, low.height, high.height), high.area], high.height - low.height)
        for low, high in combinations(sorted(vents, key=lambda vent: vent.height), 2)
    ]
    return max((alone, *through))


def chimney(areas: Sequence[float], rise: float) -> float:
    """Flow [m³/s at ΔT = T] through orifices one after another [mm²], over a rise [mm]: C·A·√(2gH).

    1/A² = Σ 1/A_i². ASHRAE Fundamentals, ch. "Ventilation and infiltration", stack effect;
    BS 5925:1991; both from memory.

    Two openings of 10 cm² 100 mm apart, the air inside 10 K over 300 K: 0.11 l/s.

    >>> round(1000.0 * chimney([1000.0, 1000.0], 100.0) * (10.0 / 300.0) ** 0.5, 2)
    0.11
    """
    if min(areas) <= 0.0 or rise <= 0.0:
        return 0.0
    whole = 1e-6 / sqrt(sum(1.0 / size**2 for size in areas))
    return _DISCHARGE * whole * sqrt(2.0 * GRAVITY * rise / 1000.0)


def breathing(vent: Vent) -> float:
    """Flow [m³/s at ΔT = T] of one opening alone, in and out by itself.

    Upright, of height h: (C/3)·A·√(gh) (BS 5925:1991, single opening, from memory). Level, of the
    circle's diameter D: 0.055·√(g·D⁵) (Epstein 1988, J. Heat Transfer 110, from memory).
    """
    if vent.tall > 0.0:
        return _DISCHARGE / 3.0 * vent.area * 1e-6 * sqrt(GRAVITY * vent.tall / 1000.0)
    across = sqrt(4.0 * vent.area * 1e-6 / pi)
    return 0.055 * sqrt(GRAVITY * across**5)


def heat_aired(flow: float, air: float, room: float) -> float:
    """Heat [W] that the air carries off: ρ·c·V·ΔT, with V = flow·√(ΔT/T), from a room [°C].

    1.164 kg/m³ · 1006 J/kgK · 0.6 l/s · √(10/303.15) · 10 K:

    >>> round(heat_aired(6e-4, 40.0, 30.0), 2)
    1.28
    """
    if air <= room:
        return 0.0
    kelvin = room + ZERO
    density = _PRESSURE / (_GAS * kelvin)
    return density * _HEAT_OF_AIR * flow * sqrt((air - room) / kelvin) * (air - room)


def vents_of(subject: Subject) -> list[Vent]:
    """Open gaps between layers, an open top, and an underside that air reaches."""
    layers = _standing(subject)
    return [*_gaps(layers), *_ends(subject, layers)]


def passages(subject: Subject, low: float, high: float) -> list[float]:
    """Free area [mm²] in each layer that lies between two heights [mm]."""
    return [
        _free_area(subject, layer, part)
        for layer, part in _standing(subject)
        if part.underside >= low - _ROUNDING and part.top <= high + _ROUNDING and layer.around is None
    ]


def _free_area(subject: Subject, layer: Layer, part: Placed) -> float:
    """Area of a layer's openings that no core, post or cord fills [mm²]."""
    lamp = subject.lamp
    filled = [(lamp.core.outline, 1, "core")] if lamp.core is not None else []
    if lamp.cord is not None:
        filled.append((Outline(Circle(lamp.cord.diameter)), 1, "cord"))
    filled += [(p.outline, p.around.count if p.around is not None else 1, p.name) for p in lamp.posts]
    standing = {p.name: p for p in subject.stack.placed if p.passes_openings}
    taken = sum(
        count * area(path_of(outline))
        for outline, count, name in filled
        if name in standing
        and standing[name].top > part.underside + _ROUNDING
        and standing[name].underside < part.top - _ROUNDING
    )
    holes = sum(
        area(path_of(one.outline)) * (one.around.count if one.around is not None else 1)
        for one in layer.openings
    )
    return max(holes - taken, 0.0)


def _standing(subject: Subject) -> list[tuple[Layer, Placed]]:
    parts = [part for part in subject.stack.placed if part.is_layer]
    return list(zip(subject.lamp.layers, parts, strict=True))


def _gaps(layers: list[tuple[Layer, Placed]]) -> Iterator[Vent]:
    """Heights at which nothing but spacers stands, as wide as the narrower of what bounds them."""
    marks = sorted({level for _, part in layers for level in (part.underside, part.top)})
    for low, high in pairwise(marks):
        here = [
            layer
            for layer, part in layers
            if part.underside < high - _ROUNDING and part.top > low + _ROUNDING
        ]
        if high - low <= _ROUNDING or not here or any(layer.around is None for layer in here):
            continue
        beside = [
            _way_in(layer)
            for layer, part in layers
            if layer.around is None
            and (abs(part.top - low) <= _ROUNDING or abs(part.underside - high) <= _ROUNDING)
        ]
        taken = sum(layer.around.count * 2.0 * layer.outline.outer_reach for layer in here if layer.around)
        wide = min(beside, default=0.0) - taken
        if wide > 0.0:
            yield Vent(wide * (high - low), (low + high) / 2.0, high - low)


def _way_in(layer: Layer) -> float:
    """Length of the edge over which air comes in past a layer [mm]: of its opening, or of its outside."""
    edges = [length(path_of(one.outline)) for one in layer.openings if one.around is None and one.main]
    return min((*edges, length(path_of(layer.outline))))


def _ends(subject: Subject, layers: list[tuple[Layer, Placed]]) -> Iterator[Vent]:
    """The top's own opening, and the underside's where it hangs or stands on feet."""
    (lowest, bottom), (highest, top) = layers[0], layers[-1]
    above, below = _free_area(subject, highest, top), _free_area(subject, lowest, bottom)
    if above > 0.0:
        yield Vent(above, top.top, 0.0)
    if below > 0.0 and subject.lamp.hangs_at is not None:
        yield Vent(below, bottom.underside, 0.0)
    elif below > 0.0 and subject.lamp.feet is not None:
        under = length(path_of(lowest.outline)) * subject.lamp.feet.height
        yield Vent(1.0 / sqrt(1.0 / below**2 + 1.0 / under**2), bottom.underside, 0.0)
