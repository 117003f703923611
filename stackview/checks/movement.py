"""Movement: wood with humidity, acrylic with temperature and moisture, at each joint and in each recess."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.checks.alike import briefly, together
from stackview.checks.climate_strain import ClimateSlip, slips, strain_of
from stackview.checks.core_movement import against_the_core
from stackview.checks.held import over, under
from stackview.checks.proposals import wider_recess
from stackview.checks.subject import Check, Subject
from stackview.checks.wood_movement import equilibrium_moisture
from stackview.description.service import Climate
from stackview.description.service_tables import USUAL_GLUES
from stackview.findings import Bound, Finding, Level, Way
from stackview.in_figures import percent
from stackview.stack.joints import Joint, glue_of, glued_joints
from stackview.stack.placed import Placed
from stackview.stack.seating import Seat

_FORMULA = "Wood Handbook FPL-GTR-190, Eq. 4-5 (moisture from air) and Eq. 13-2 (movement)"
_CROSSED = 20.0
"""Grains that cross at less than this [°] move almost as one."""


@dataclass(frozen=True, slots=True)
class Worst:
    """The climate in which two parts differ most, and by how much."""

    climate: Climate
    slip: ClimateSlip


def movement(subject: Subject) -> tuple[Finding, ...]:
    """Cautions for joints and recesses that movement overtaxes, and a note of how far the wood moves."""
    return (
        *_recesses(subject),
        *_joints(subject),
        *_crossed(subject),
        *against_the_core(subject),
        *_widest(subject),
    )


def _away(subject: Subject) -> Iterator[tuple[Climate, Climate]]:
    rooms = subject.lamp.rooms
    for climate in rooms.lives_in:
        yield rooms.workshop, climate


def _worst_slip(subject: Subject, one: Placed, other: Placed, corners: Floats) -> Worst:
    """The greatest difference between two parts in any climate, whichever way."""
    found = [
        Worst(after, slip)
        for before, after in _away(subject)
        for slip in slips(strain_of(one, before, after), strain_of(other, before, after), corners)
    ]
    return max(found, key=lambda worst: abs(worst.slip.by))


# --- recesses ---


def _recesses(subject: Subject) -> tuple[Finding, ...]:
    """Plates that the wood around them closes on: less clearance left than none.

    Where the recess has less play than any plate needs, and with that play would stand the
    movement too, the play is the cause, and is told as such.
    """
    least = subject.limits.value("clearance_least")
    found = []
    pieces = {layer.name for layer in subject.lamp.layers if layer.around is not None}
    for seat in subject.stack.seats:
        if {seat.layer, seat.host} & pieces:
            continue
        layer, host = subject.stack.part(seat.layer), subject.stack.part(seat.host)
        worst = _closing(subject, host, layer)
        if worst is None or not over(worst.slip.by, 2.0 * _play(subject, seat)):
            continue
        if under(seat.clearance, least) and not over(worst.slip.by, 2.0 * least):
            continue
        found.append(_too_tight(subject, seat, worst))
    return tuple(found)


def _closing(subject: Subject, host: Placed, layer: Placed) -> Worst | None:
    """Where the seated layer grows most against its host."""
    corners = layer.solid.vertices[:, :2]
    found = [
        Worst(after, slips(strain_of(host, before, after), strain_of(layer, before, after), corners)[0])
        for before, after in _away(subject)
    ]
    return max(found, key=lambda worst: worst.slip.by) if found else None


def _play(subject: Subject, seat: Seat) -> float:
    """Play per side along the straight walls [mm]: as the recess was given it, for corners may be tighter."""
    host = next((layer for layer in subject.lamp.layers if layer.name == seat.host), None)
    given = [recess.clearance for recess in host.recesses if recess.fitted_to == seat.layer] if host else []
    return max(given, default=seat.clearance)


def _too_tight(subject: Subject, seat: Seat, worst: Worst) -> Finding:
    units, host = subject.lamp.units, subject.stack.part(seat.host)
    needed = worst.slip.by / 2.0
    radial = host.material.movement.radial / max(host.material.movement.across, 1e-12)
    quarter = ""
    if host.material.is_solid_wood and radial < 1.0:
        quarter = f" (quarter-sawn stock closes by about {units.show(worst.slip.by * radial)})"
    return Finding(
        check="movement",
        level=Level.CAUTION,
        where=f"{seat.layer} in {seat.host}",
        what=(
            f'in climate "{worst.climate.name}" the recess closes on it by {units.show(worst.slip.by)} over '
            f"{units.show(worst.slip.extent)} {_way(host, worst.slip)}; it has {units.show(2.0 * _play(subject, seat))} "
            "of clearance in all"
        ),
        short=f"the seasons close its recess by {units.show(worst.slip.by)}; "
        f"it has {units.show(2.0 * _play(subject, seat))} of play",
        value=worst.slip.by,
        unit="mm",
        limit=2.0 * _play(subject, seat),
        bound=Bound.MOST,
        source=f"{_FORMULA}; {host.material.movement.source}",
        advice=f"Give the recess more clearance per side{quarter}.",
        ways=wider_recess(subject.lamp, seat, needed),
        parts=(seat.layer, seat.host),
        cause=f"{subject.stack.part(seat.layer).material.name} in {host.material.name}",
    )


def _way(part: Placed, slip: ClimateSlip) -> str:
    if not part.material.is_solid_wood:
        return f"along bearing {slip.bearing:.0f}°"
    off = abs((slip.bearing - part.grain + 90.0) % 180.0 - 90.0)
    way = "across" if off > 70.0 else "along" if off < 20.0 else f"at {off:.0f}° to"
    return f"{way} the grain of {part.name}"


# --- glued joints ---


def _joints(subject: Subject) -> tuple[Finding, ...]:
    """Glued joints whose two sides move farther against each other than the glue stands; crossed grain is told apart."""
    same: dict[tuple[object, ...], list[tuple[Joint, Worst]]] = {}
    for joint in glued_joints(subject.stack):
        if _cross(joint.lower, joint.upper) >= _CROSSED:
            continue
        worst = max(
            (_worst_slip(subject, joint.lower, joint.upper, corners) for corners in _extents(subject, joint)),
            key=lambda found: abs(found.slip.by),
        )
        if over(abs(worst.slip.by), _stands(subject, joint)):
            materials = frozenset(
                part.material.name if part.material.is_solid_wood else part.material.kind
                for part in (joint.lower, joint.upper)
            )
            same.setdefault((materials, worst.climate.name), []).append((joint, worst))
    return tuple(_overtaxed(subject, alike) for alike in same.values())


def _extents(subject: Subject, joint: Joint) -> list[Floats]:
    """Corners of the joint; of each piece alone where a layer is of several pieces, free of each other."""
    pieces = {layer.name for layer in subject.lamp.layers if layer.around is not None}
    if pieces & {joint.lower.name, joint.upper.name}:
        return [shapely.get_coordinates(piece) for piece in shapely.get_parts(joint.area)]
    return [shapely.get_coordinates(joint.area)]


def _stands(subject: Subject, joint: Joint) -> float:
    """Difference in movement over a whole joint that its glue stands [mm].

    Hard glue: the limit. Glue that stretches: each end of the joint takes half of it, sheared by
    ``stretch`` times the film.
    """
    used = glue_of(subject.lamp, joint)
    return max(subject.limits.value("joint_slip"), 2.0 * used.stretch * used.film)


def _overtaxed(subject: Subject, alike: list[tuple[Joint, Worst]]) -> Finding:
    """One caution for all joints of the same two materials, with the numbers of the worst."""
    joint, worst = max(alike, key=lambda pair: abs(pair[1].slip.by))
    units, slip, used = subject.lamp.units, worst.slip, glue_of(subject.lamp, joint)
    stands = _stands(subject, joint)
    wood = joint.lower if joint.lower.material.is_solid_wood else joint.upper
    if used.stretch > 0.0:
        mend = "Make the glue line thicker (spacer dots keep it open)"
    else:
        mend = f"Take a glue that stretches, such as {USUAL_GLUES['acrylic']} in a thick line"
    share = stands / abs(slip.by)
    most = "up to " if len(alike) > 1 else ""
    return Finding(
        check="movement",
        level=Level.CAUTION,
        where=together([one.name for one, _ in alike]),
        where_brief=briefly([one.name for one, _ in alike]),
        parts=tuple(dict.fromkeys(part.name for one, _ in alike for part in (one.lower, one.upper))),
        what=(
            f'in climate "{worst.climate.name}" the two sides move {most}{units.show(abs(slip.by))} against each other '
            f"over {units.show(slip.extent)} {_way(wood, slip)}; {used.name} with a film of "
            f"{units.show(used.film)} stands {units.show(stands)}"
        ),
        short=f"the sides move {most}{units.show(abs(slip.by))}; the glue stands {units.show(stands)}",
        value=abs(slip.by),
        unit="mm",
        limit=stands,
        bound=Bound.MOST,
        source=f"{_FORMULA}; {wood.material.movement.source}; glue: {used.source}",
        advice=f"{mend}, or glue only a stretch of up to {units.show(share * slip.extent)} across the grain.",
    )


# --- cross-grain ---


def _crossed(subject: Subject) -> tuple[Finding, ...]:
    """Neighbouring layers of solid wood whose grains cross, plates between them or not."""
    limit, holds = subject.limits["joint_slip"], subject.lamp.gluing.holds
    layers = [part for part in subject.stack.placed if part.is_layer]
    rigid = [part for part in layers if not part.material.is_acrylic]
    found: list[tuple[tuple[str, str], float, Worst]] = []
    for lower, upper in pairwise(rigid):
        angle = _cross(lower, upper)
        if angle < _CROSSED or not holds(lower.name, upper.name):
            continue
        shared = _shared_corners(lower, upper)
        if not len(shared):
            continue  # spacers, say, that stand beside the layer below
        worst = _worst_slip(subject, lower, upper, shared)
        if over(abs(worst.slip.by), limit.value):
            found.append(((lower.name, upper.name), angle, worst))
    return (_crossing(subject, found),) if found else ()


def _cross(lower: Placed, upper: Placed) -> float:
    """Angle at which the grains of two parts of solid wood cross [°]; 0 where one is of something else."""
    if not (lower.material.is_solid_wood and upper.material.is_solid_wood):
        return 0.0
    return abs((upper.grain - lower.grain + 90.0) % 180.0 - 90.0)


def _crossing(subject: Subject, found: list[tuple[tuple[str, str], float, Worst]]) -> Finding:
    limit, units = subject.limits["joint_slip"], subject.lamp.units
    _, _, most = max(found, key=lambda pair: abs(pair[2].slip.by))
    by = abs(most.slip.by)
    return Finding(
        check="movement",
        level=Level.CAUTION,
        where=together([" and ".join(names) for names, _, _ in found]),
        where_brief=briefly([" on ".join(reversed(names)) for names, _, _ in found]),
        parts=tuple(dict.fromkeys(name for names, _, _ in found for name in names)),
        what=(
            f'their grains cross at up to {max(turn for _, turn, _ in found):.0f}°: in climate "{most.climate.name}" one '
            f"moves {units.show(by)} against the other over {units.show(most.slip.extent)}"
        ),
        short=f"crossed grain moves {units.show(by)} with the seasons",
        value=by,
        unit="mm",
        limit=limit.value,
        bound=limit.bound,
        source=f"{_FORMULA}; difference of two plane strains; {limit.source}",
        advice="Turn their grain the same way, or hold them by pins in slots.",
        ways=_laid_alike(subject, [names for names, _, _ in found]),
    )


def _laid_alike(subject: Subject, pairs: list[tuple[str, str]]) -> tuple[Way, ...]:
    """The grain of all these layers turned to that of the lowest, as they stand."""
    names = list(dict.fromkeys(name for pair in pairs for name in pair))
    lie = subject.stack.part(names[0]).grain
    ways = []
    for layer in subject.lamp.layers:
        off = (lie - subject.stack.part(layer.name).grain) % 180.0
        if layer.name in names and min(off, 180.0 - off) > 1e-6:
            new = (layer.grain + off) % 180.0
            ways.append(Way(layer.name, "grain", layer.grain, new, is_length=False))
    return tuple(ways)


def _shared_corners(lower: Placed, upper: Placed) -> Floats:
    """Corners (n, 2) of the outline that two layers share, from above; none where they stand beside each other."""
    hulls = [shapely.convex_hull(shapely.multipoints(part.solid.vertices[:, :2])) for part in (lower, upper)]
    return np.asarray(shapely.get_coordinates(shapely.intersection(*hulls)))


# --- how far it all moves ---


def _widest(subject: Subject) -> tuple[Finding, ...]:
    """A note: moisture in each climate, and how much the widest wooden layer changes across its grain."""
    wooden = [part for part in subject.stack.placed if part.is_layer and part.material.is_solid_wood]
    if not wooden:
        return ()
    rooms, units = subject.lamp.rooms, subject.lamp.units
    by, extent, part = max((_seasonal(subject, part) for part in wooden), key=lambda found: found[0])
    moist = ", ".join(
        f'{percent(equilibrium_moisture(c.celsius, c.humidity) / 100.0, 1)} in climate "{c.name}" '
        f"({c.celsius:g} °C, {percent(c.humidity)})"
        for c in (rooms.workshop, *rooms.lives_in)
    )
    return (
        Finding(
            check="movement",
            level=Level.FACT,
            where=part.name,
            parts=(part.name,),
            what=(
                f"{part.material.name} comes to {moist}; {units.show(extent)} across the grain move by "
                f"{units.show(by)} between them"
            ),
            value=by,
            unit="mm",
            source=f"{_FORMULA}; {part.material.movement.source}",
        ),
    )


def _seasonal(subject: Subject, part: Placed) -> tuple[float, float, Placed]:
    """Change of a part's width across the grain between the climates [mm], that width, and the part."""
    rooms = subject.lamp.rooms
    strains = [strain_of(part, rooms.workshop, climate).across for climate in rooms.lives_in]
    across = radians(part.grain + 90.0)
    reach = part.solid.vertices[:, 0] * sin(across) - part.solid.vertices[:, 1] * cos(across)
    extent = float(np.ptp(reach))
    return (max(strains) - min(strains)) * extent, extent, part


CHECK = Check(
    name="movement",
    question="Do glued joints and recesses stand the wood's movement between two climates?",
    formula=(
        "M(T, h) by Eq. 4-5; ΔD = D·C·(M_F − M_I), Eq. 13-2; ε(δ) = ε_along cos²δ + ε_across sin²δ; "
        "acrylic α·ΔT + β·Δh; the glue line stands 2·stretch·film"
    ),
    source="Wood Handbook FPL-GTR-190, ch. 4 and 13, Table 13-5; acrylic as printed by sheet makers",
    limits=("joint_slip", "flush"),
    run=movement,
)
