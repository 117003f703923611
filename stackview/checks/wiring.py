"""Wiring: whether a wire gets from the bore, or from the cord, to every light's solder joint."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi, sqrt

import numpy as np
import shapely
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from stackview.arrays import Floats
from stackview.checks.alike import together
from stackview.checks.bore_exit import Exit, exits
from stackview.checks.facets import AT_LARGE
from stackview.checks.strip_openings import strip_sections
from stackview.checks.subject import Subject
from stackview.checks.wire_way import Reached, Ways
from stackview.curves.arcs import polygon
from stackview.description.lamp import Bore, Layer
from stackview.description.outline import around, path_of
from stackview.findings import Finding, Level
from stackview.light.faces import outwards
from stackview.light.layout import Lit
from stackview.stack.placed import Placed

_SHEATH = 0.5
"""Insulation of a single wire [mm]; common practice for extra-low voltage."""
_BESIDE = 3.0
"""A wire that comes as near as this to a strip's end is soldered to it [mm]; common practice."""
_BOARD = 10.0
"""And as near as this to the middle of a diode's board."""
_SOURCE = "free area of every level shrunk by the wire's radius, plane geometry"


@dataclass(frozen=True, slots=True)
class End:
    """Where a light can be soldered: a place seen from above, and the heights beside it [mm]."""

    place: BaseGeometry
    low: float
    high: float


def wire_diameter(mm2: float) -> float:
    """Outside of one insulated wire [mm]: copper 2√(A/π), and its insulation.

    >>> round(wire_diameter(0.34), 2)
    1.66
    """
    return 2.0 * sqrt(mm2 / pi) + 2.0 * _SHEATH


class WireWays:
    """Where the wires of one lamp get to, from its bore or its cord, and out of the core by holes in its wall.

    ``blocked`` are faults of bores that let no cable out; where nothing is fed, or all is blocked, ``ways`` is None.
    """

    def __init__(self, subject: Subject) -> None:
        lamp = subject.lamp
        found: list[Finding] = []
        starts: list[tuple[BaseGeometry, float]] = []
        self.subject, self.where, self.wide = subject, "cord", 0.0
        if lamp.cord is not None:
            top = subject.stack.part(lamp.layers[-1].name)
            hole = shapely.Point(lamp.cord.at).buffer(lamp.cord.diameter / 2.0)
            starts.append((hole, top.underside))
            mm2 = lamp.cord.wire_mm2
            self.wide = wire_diameter(mm2) if mm2 is not None else lamp.cord.diameter / 2.0
        elif lamp.cable is not None:
            self.wide = wire_diameter(lamp.cable.wire_mm2)
            for layer in lamp.layers:
                for bore in layer.bores:
                    self.where = f"{layer.name}, bore"
                    out, blocked = _out_of(subject, layer, bore, lamp.cable.diameter)
                    foot, turn = subject.stack.part(layer.name).underside, layer.turn
                    starts += [(rotate(one.area, turn, origin=(0.0, 0.0)), foot + one.height) for one in out]
                    found += blocked
        self.blocked = tuple(found)
        self.ways: Ways | None = None
        self._reached: tuple[Reached, ...] = ()
        if starts and not found:
            self.ways = Ways(subject, self.wide / 2.0)
            inside = self.ways.reached(starts)
            self._reached = (inside, _out_of_the_core(subject, self.ways, inside, self.wide))

    def gets_to(self, end: End) -> bool:
        """Whether a wire gets to an end of a light."""
        return any(one.gets_to(end.place, end.low, end.high) for one in self._reached)

    def unreached(self) -> Iterator[Finding]:
        """Lights that no wire gets to."""
        told: set[str] = set()
        if self.ways is None:
            return
        for lit, ends in ends_of(self.subject, self.wide / 2.0):
            if lit.light.name in told or any(map(self.gets_to, ends)):
                continue
            told.add(lit.light.name)
            inside = self._reached[0]
            if _in_the_tube(self.subject, inside, ends):
                yield _by_the_tube(lit)
            else:
                yield _no_way(self.subject, self.ways, inside, self.where, self.wide, lit)


def wiring(subject: Subject) -> tuple[Finding, ...]:
    """Faults of bores that let no cable out, and of lights that no wire gets to."""
    ways = WireWays(subject)
    return (*ways.blocked, *ways.unreached())


# --- out of the bore ---


def _out_of(
    subject: Subject, layer: Layer, bore: Bore, cable: float
) -> tuple[Sequence[Exit], tuple[Finding, ...]]:
    """Where the cable leaves the bore; or why it does not."""
    units = subject.lamp.units
    across = _across(subject, layer, bore, cable)
    taken = shapely.union_all(list(across.values())) if across else None
    out = exits(layer, bore, cable, taken)
    if out:
        return out, ()
    alone = exits(layer, bore, cable)
    if alone:
        culprits = [name for name, one in across.items() if not exits(layer, bore, cable, one)] or list(
            across
        )
        what = f"{together(culprits)} {'stands' if len(culprits) == 1 else 'stand'} across it: the cable does not get past"
        advice = "Turn the bore to another bearing, or move what stands in it."
    else:
        what = "it ends in solid material: no opening or recess of the layer lets the wires up"
        if exits(layer, bore, 0.05):
            what = (
                f"it only grazes the opening or recess that it ends in: a cable of {units.show(cable)} does not "
                "come out there"
            )
        advice = (
            "Add an opening as wide as the cable where the bore ends, or let the bore end in one (length)."
        )
    finding = Finding(
        check="cable",
        level=Level.FAULT,
        where=f"{layer.name}, bore",
        what=what,
        short="the cable does not get through its bore",
        value=cable,
        unit="mm",
        source=_SOURCE,
        advice=advice,
        parts=(layer.name,),
    )
    return (), (finding,)


def _across(subject: Subject, layer: Layer, bore: Bore, cable: float) -> dict[str, BaseGeometry]:
    """What stands so far in the bore that no cable gets past above or below it, by name, in the layer's own frame."""
    lamp, parts = subject.lamp, {part.name: part for part in subject.stack.placed}
    foot = parts[layer.name].underside
    low, high = foot + bore.height - bore.diameter / 2.0, foot + bore.height + bore.diameter / 2.0

    def there(name: str) -> bool:
        # what only grazes the bore leaves the cable room above or below it
        if name not in parts:
            return False
        return max(parts[name].underside - low, high - parts[name].top) < min(cable, bore.diameter) - 1e-6

    found: dict[str, BaseGeometry] = {}
    for post in lamp.posts:
        if there(post.name):
            rods = [
                shapely.Polygon(polygon(path, AT_LARGE))
                for path in around(path_of(post.outline), post.around)
            ]
            found[post.name] = shapely.union_all(rods)
    if lamp.core is not None and there("core"):
        solid: BaseGeometry = shapely.Polygon(polygon(path_of(lamp.core.outline), AT_LARGE))
        if lamp.core.wall is not None:
            inner = shapely.Polygon(polygon(path_of(lamp.core.outline.grown(-lamp.core.wall)), AT_LARGE))
            solid = solid.difference(inner)
        found["core"] = solid
        for lit, ends in _strips(subject):
            layout = lit.light.on_core
            room = max(ends[0] - low, high - ends[1])
            if layout is not None and room < min(cable, bore.diameter) - 1e-6:
                boxes = [
                    shapely.Polygon(polygon(path, AT_LARGE)) for path in strip_sections(layout, lamp.core)
                ]
                found[f'the strip of light "{lit.light.name}"'] = shapely.union_all(boxes)
    return {name: rotate(one, -layer.turn, origin=(0.0, 0.0)) for name, one in found.items()}


def _strips(subject: Subject) -> Iterator[tuple[Lit, tuple[float, float]]]:
    """Each light with strips, and the heights between which they lie [mm]."""
    first = 0
    for lit in subject.light.lit:
        ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        if ribbons:
            z = np.concatenate([np.concatenate((one.low, one.high)) for one in ribbons])[:, 2]
            yield lit, (float(z.min()), float(z.max()))


# --- to the light ---


def ends_of(subject: Subject, radius: float) -> Iterator[tuple[Lit, tuple[End, ...]]]:
    """Each length of strip by its two ends, and each light on a layer by its light points."""
    first, points = 0, subject.light.points
    for index, lit in enumerate(subject.light.lit):
        ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        for ribbon in ribbons:
            found = []
            for k in (0, -1):
                middle, out = (ribbon.low[k] + ribbon.high[k]) / 2.0, ribbon.normal[k]
                half = abs(float(ribbon.high[k][2] - ribbon.low[k][2])) / 2.0 + radius + _BESIDE
                beside = middle[:2] + radius * out[:2]
                place = shapely.Point(beside).buffer(radius + _BESIDE)
                found.append(End(place, float(middle[2]) - half, float(middle[2]) + half))
            yield lit, tuple(found)
        if not ribbons:
            carrier = subject.stack.part(lit.light.layout.carrier)
            places = points.centres[points.source == index]
            yield (
                lit,
                tuple(
                    _on_layer(carrier, lit.light.layout.on_top, place, _BOARD + radius) for place in places
                ),
            )


def _on_layer(carrier: Placed, on_top: bool, place: Floats, about: float) -> End:
    """About a light point, but not from the other side of the layer that it sits on."""
    x, y, z = place.tolist()
    low, high, middle = z - about, z + about, (carrier.underside + carrier.top) / 2.0
    if on_top:
        low = max(low, min(middle, z))
    else:
        high = min(high, max(middle, z))
    return End(shapely.Point(x, y).buffer(about), low, high)


def _out_of_the_core(subject: Subject, ways: Ways, reached: Reached, wide: float) -> Reached:
    """What a wire gets to outside the core by the holes in its wall that it gets to from inside."""
    core, starts = subject.lamp.core, []
    if core is not None and core.wall is not None:
        tube, foot = (
            shapely.Polygon(polygon(path_of(core.outline), AT_LARGE)),
            subject.stack.part("core").underside,
        )
        hollow = shapely.Polygon(polygon(path_of(core.outline.grown(-core.wall)), AT_LARGE))
        for hole in core.holes:
            height, half = foot + hole.height, hole.diameter / 2.0
            if hole.diameter < wide or not reached.gets_to(hollow, height - half, height + half):
                continue
            away = outwards(np.array([hole.bearing]))[0, :2]
            far = 2.0 * core.outline.outer_reach
            ray = shapely.LineString([core.outline.at, (np.array(core.outline.at) + far * away).tolist()])
            x, y = ray.intersection(tube).coords[-1]
            beside = shapely.Point(x + wide / 2.0 * away[0], y + wide / 2.0 * away[1]).buffer(wide / 2.0)
            starts.append((beside, height))
    return ways.reached(starts)


def _in_the_tube(subject: Subject, reached: Reached, ends: Sequence[End]) -> bool:
    core = subject.lamp.core
    if core is None or core.wall is None:
        return False
    hollow = shapely.Polygon(polygon(path_of(core.outline.grown(-core.wall)), AT_LARGE))
    return any(reached.gets_to(hollow, end.low, end.high) for end in ends)


def _by_the_tube(lit: Lit) -> Finding:
    return Finding(
        check="cable",
        level=Level.NOTE,
        where=f'light "{lit.light.name}"',
        what="its wires come up inside the core, and nothing leads from there to the strip outside",
        short="no way for the wires out of the core to the strip",
        source=_SOURCE,
        advice="Drill the core through beside an end of the strip, deburr the hole, and write it under [core] as hole.",
        parts=("core",),
    )


def _no_way(subject: Subject, ways: Ways, reached: Reached, where: str, wide: float, lit: Lit) -> Finding:
    units, heights = subject.lamp.units, reached.heights
    bored = [layer.name for layer in subject.lamp.layers if layer.bores] if where != "cord" else []
    over: list[str] = []
    if heights is None:
        far = "nothing leaves room for it where it comes out"
    else:
        over = [block.name for block in ways.blocks if abs(block.low - heights[1]) < 0.1]
        under = f", under {together(over)}" if over else ""
        far = f"it gets to heights of {units.plain(max(heights[0], 0.0))} to {units.show(heights[1])} only{under}"
    return Finding(
        check="cable",
        level=Level.FAULT,
        where=f'{where} and light "{lit.light.name}"',
        what=f"no wire of {units.show(wide)} gets from there to an end of the light: {far}",
        short="no wire gets from the opening to the light",
        value=wide,
        unit="mm",
        source=_SOURCE,
        advice="Move the opening clear of what stands on it, or cut a channel for the wires.",
        parts=tuple(dict.fromkeys((*bored, *over))),
    )
