"""Standing and hanging: how far it can lean before it falls, how askew it hangs, and the pull on its cord."""

from collections.abc import Iterator
from math import radians, sin, tan

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from stackview.arrays import Floats
from stackview.checks.held import TENTH, over, under
from stackview.checks.hung import hung
from stackview.checks.proposals import larger, thicker_wires
from stackview.checks.subject import Check, Subject
from stackview.checks.tilting import hanging_angle, nearest_edge, tip_angle
from stackview.curves.arcs import cos_sin, turned
from stackview.curves.fit import overlapping
from stackview.description.lamp import Cord, Lamp, Surface
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle
from stackview.findings import Bound, Finding, Level, Way
from stackview.in_figures import figure
from stackview.solids.level_faces import FINE
from stackview.solids.measure import centre_of_mass, volume
from stackview.stack.assembly import Stack

_GRAVITY = 9.81
_LEVEL = 1e-6
_ON_THE_EDGE = 2.0 * FINE
_STATICS = "statics of rigid bodies, masses from the solids' volumes"


def standing(subject: Subject) -> tuple[Finding, ...]:
    """Faults and cautions of tipping for a lamp that stands; of tilt and pull for one that hangs."""
    if subject.lamp.hangs_at is None:
        return (*_tips(subject), *_on_the_surface(subject))
    if subject.lamp.cord is None:
        return tuple(hung(subject))
    return (*hung(subject), *_hangs(subject, subject.lamp.cord), *_pulls(subject, subject.lamp.cord))


def weight(stack: Stack) -> tuple[float, tuple[float, float, float]]:
    """Mass [g] and centre of mass [mm] of the lamp without cord and wiring."""
    total, moment = 0.0, np.zeros(3)
    for part in stack.placed:
        if part.is_cord:
            continue
        grams = volume(part.solid) * part.material.density * 1e-6
        total += grams
        moment += grams * np.array(centre_of_mass(part.solid))
    x, y, z = (moment / total).tolist()
    return total, (x, y, z)


def support(stack: Stack) -> Floats:
    """Corners (n, 2) of what the lamp stands within, counter-clockwise: the hull of all lowest points [mm].

    Feet count one by one, and only those that the lowest layer lies on with their own middle.
    """
    feet = [foot.solid for foot in stack.supports.feet if foot.margin >= -_ON_THE_EDGE]
    solids = feet or [part.solid for part in stack.placed if not part.is_foot]
    lowest = min(float(solid.vertices[:, 2].min()) for solid in solids)
    touching = [solid.vertices[solid.vertices[:, 2] < lowest + _LEVEL][:, :2] for solid in solids]
    hull = shapely.convex_hull(shapely.multipoints(np.concatenate(touching)))
    return np.asarray(shapely.get_coordinates(shapely.normalize(hull).exterior.reverse()))[:-1]


def _tips(subject: Subject) -> Iterator[Finding]:
    grams, (x, y, height) = weight(subject.stack)
    half, bearing = nearest_edge(support(subject.stack), (x, y))
    angle = tip_angle(half, height)
    adult, child = subject.limits["tip"], subject.limits["tip_child"]
    units = subject.lamp.units
    where = f"towards bearing {round(bearing) % 360}°"
    centre = f"{figure(grams / 1000.0, 2)} kg, centre of mass {units.show(height)} up"
    if under(angle, child.value, TENTH):
        falls = under(angle, adult.value, TENTH)
        limit = adult if falls else child
        wider = height * tan(radians(limit.value)) - half
        what = f"it falls over at {angle:.1f}°" if half > 0.0 else "it falls over by itself"
        guidance = "" if falls else f"; for a lamp within a child's reach the guidance is {child.value:g}°"
        yield Finding(
            check="standing",
            level=Level.FAULT if falls else Level.NOTE,
            where=where,
            what=f"{what} ({centre}){guidance}",
            value=angle,
            unit="°",
            limit=limit.value,
            bound=limit.bound,
            source=f"{_STATICS}; {limit.source}",
            advice=(
                f"{'Make' if falls else 'If children can reach it, make'} the base reach further there, or put weight "
                "low down."
            ),
            ways=_wider_base(subject, wider) if falls else (),
        )
        return
    yield Finding(
        check="standing",
        level=Level.FACT,
        where=where,
        what=f"it falls over at {angle:.1f}° ({centre})",
        value=angle,
        unit="°",
        limit=child.value,
        bound=child.bound,
        source=f"{_STATICS}; {child.source}",
    )


def _wider_base(subject: Subject, by: float) -> tuple[Way, ...]:
    """The circle of the feet, or the lowest layer where it stands on none, so much wider per side [mm]."""
    feet = subject.lamp.feet
    if feet is None:
        return (larger(subject.lamp.layers[0].name, by, rough=True),)
    circle = feet.around.circle
    base = larger(subject.lamp.layers[0].name, by, "base and feet", rough=True)
    further = circle + 2.0 * by
    return (
        Way("feet", "circle", circle, further, rough=True),
        base,
        Way("feet", "circle", circle, further, along="base and feet", rough=True),
    )


def table(surface: Surface) -> BaseGeometry:
    """The surface as seen from above, in the lamp's frame: its axis stands ``at`` from the surface's middle."""
    x, y = -surface.at[0], -surface.at[1]
    if len(surface.size) == 1:
        return shapely.Point(x, y).buffer(surface.size[0] / 2.0, quad_segs=256)
    wide, deep = surface.size[0] / 2.0, surface.size[1] / 2.0
    return shapely.box(x - wide, y - deep, x + wide, y + deep)


def _on_the_surface(subject: Subject) -> Iterator[Finding]:
    """A foot that reaches past the edge of what the lamp stands on, or a lamp that falls off it."""
    if subject.lamp.surface is None:
        return
    top, units = table(subject.lamp.surface), subject.lamp.units
    _, (x, y, _) = weight(subject.stack)
    stands = shapely.Polygon(support(subject.stack))
    carried = stands.intersection(top)
    falls = (
        carried.is_empty
        or carried.area <= 0.0
        or not carried.buffer(_ON_THE_EDGE).covers(shapely.Point(x, y))
    )
    corners = shapely.points(support(subject.stack))
    over_by = float(shapely.distance(corners, top).max())
    if not falls and not over(over_by, 0.0):
        yield from _overhangs(subject, top)
        return
    yield Finding(
        check="standing",
        level=Level.FAULT if falls else Level.CAUTION,
        where="surface",
        what=(
            f"what it stands on reaches {units.show(over_by)} past the edge of the surface"
            + (", and its weight lies past it too: it falls off" if falls else "")
        ),
        short=f"it reaches {units.show(over_by)} past the edge of the surface"
        + (" and falls off" if falls else ""),
        value=over_by,
        unit="mm",
        limit=0.0,
        bound=Bound.MOST,
        source=f"{_STATICS}; the surface as described",
        advice="Stand it further in (at), on a larger surface, or on a smaller foot.",
    )


def _overhangs(subject: Subject, top: BaseGeometry) -> Iterator[Finding]:
    """A note where the lamp stands on the surface but its body reaches past the edge."""
    units = subject.lamp.units
    reach = {
        part.name: float(shapely.distance(shapely.points(part.solid.vertices[:, :2]), top).max())
        for part in subject.stack.placed
        if not part.is_cord
    }
    name, most = max(reach.items(), key=lambda pair: pair[1])
    if not over(most, 0.0):
        return
    yield Finding(
        check="standing",
        level=Level.NOTE,
        where=name,
        what=f"it reaches {units.show(most)} past the edge of the surface, where it is knocked in passing",
        value=most,
        unit="mm",
        limit=0.0,
        bound=Bound.MOST,
        source="the surface as described",
        advice="Stand it further in (at), or on a larger surface.",
        parts=(name,),
    )


def _hangs(subject: Subject, cord: Cord) -> Iterator[Finding]:
    """Tilt of a pendant held where its cord leaves the top."""
    _, (x, y, z) = weight(subject.stack)
    top = subject.stack.height
    offset = (x - cord.at[0], y - cord.at[1])
    angle, limit, units = hanging_angle(offset, top - z), subject.limits["hanging_tilt"], subject.lamp.units
    corners = np.concatenate(
        [part.solid.vertices[:, :2] for part in subject.stack.placed if not part.is_cord]
    )
    along = np.array(offset) / max(float(np.hypot(*offset)), 1e-12)
    reach = float(np.ptp(corners @ along))
    lower = reach * sin(radians(angle))
    askew = over(angle, limit.value, TENTH)
    yield Finding(
        check="hanging",
        level=Level.CAUTION if askew else Level.FACT,
        where="cord",
        what=(
            f"the lamp hangs {angle:.1f}° askew: its centre of mass is {units.show(float(np.hypot(*offset)))} beside "
            f"the cord and {units.show(top - z)} below; one edge hangs {units.show(lower)} lower than the other"
        ),
        short=f"the lamp hangs {angle:.1f}° askew" if askew else "",
        value=angle,
        unit="°",
        limit=limit.value,
        bound=limit.bound,
        source=f"{_STATICS}; {limit.source}",
        advice=(
            f"Let the cord leave over the centre of mass, which lies at {units.at(round(x, 1), round(y, 1))}."
            if askew
            else ""
        ),
        ways=_cord_moved(subject.lamp, cord, (x, y)) if askew else (),
    )


def _cord_moved(lamp: Lamp, cord: Cord, to: tuple[float, float]) -> tuple[Way, ...]:
    """The cord let out at a place seen from above, and with it the hole that it passes in the top."""
    top = lamp.layers[-1]
    ways = [Way("cord", "at", cord.at, to, along="place of the cord")]
    leaves = turned(path_of(Outline(Circle(cord.diameter), at=cord.at)), -top.turn)
    for number, opening in enumerate(top.openings):
        if opening.around is None and overlapping(leaves, path_of(opening.outline, "opening")):
            here = opening.outline.at
            x, y = (new - old for new, old in zip(to, cord.at, strict=True))
            cos, sine = cos_sin(-top.turn)
            place = (here[0] + x * cos - y * sine, here[1] + x * sine + y * cos)
            ways.append(Way(top.name, f"place of opening {number}", here, place, along="place of the cord"))
    return tuple(ways)


def _pulls(subject: Subject, cord: Cord) -> Iterator[Finding]:
    """Weight on the cord, and on its copper."""
    kilograms = weight(subject.stack)[0] / 1000.0
    newtons = kilograms * _GRAVITY
    heaviest, stress = subject.limits["cord_mass"], subject.limits["cord_stress"]
    copper = 2.0 * cord.wire_mm2 if cord.wire_mm2 else None
    pull = newtons / copper if copper else 0.0
    text = f"the lamp pulls with {figure(newtons, 1)} N ({figure(kilograms, 2)} kg)"
    if over(kilograms, heaviest.value):
        yield Finding(
            check="hanging",
            level=Level.FAULT,
            where="cord",
            what=f"{text}, too much for a cord alone",
            value=kilograms,
            unit="kg",
            limit=heaviest.value,
            bound=heaviest.bound,
            source=heaviest.source,
            advice=f"Hang it from a steel wire or chain for at least {kilograms:.1f} kg, with the cord slack beside it.",
        )
        return
    strained = over(pull, stress.value, TENTH)
    each = newtons / stress.value / 2.0
    yield Finding(
        check="hanging",
        level=Level.CAUTION if strained else Level.FACT,
        where="cord",
        what=f"{text}" + (f", {pull:.1f} N/mm² on the copper of its two wires" if copper else ""),
        short=f"the wires carry {pull:.1f} N/mm²; copper stands {stress.value:g}" if strained else "",
        value=pull if copper else newtons,
        unit="N/mm²" if copper else "N",
        limit=stress.value if copper else None,
        bound=stress.bound if copper else None,
        source=f"weight over copper; {stress.source}",
        advice=(
            "Take thicker wires, or hang it from a steel wire with the cord slack beside it."
            if strained
            else ""
        ),
        ways=thicker_wires("cord", cord.wire_mm2 or 0.0, each, in_gauge=cord.in_gauge) if strained else (),
    )


CHECK = Check(
    name="standing",
    question="At what tilt does it fall over; is all of a pendant held, how askew does it hang, what pulls on its cord?",
    formula="tip angle atan(d/h), d to the nearest side of the support polygon; hanging tilt atan(offset/depth)",
    source="statics; IEC 60598-2-4 (6°), IEC 60598-2-10 (15°), second-hand; IEC 60598-1, from memory",
    limits=("tip", "tip_child", "hanging_tilt", "cord_stress", "cord_mass"),
    run=standing,
    also=("hanging",),
)
