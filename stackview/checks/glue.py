"""Glue: what each joint takes, what is squeezed out and seen, and whether the glue holds at all."""

from collections.abc import Iterable
from dataclasses import dataclass

from stackview.checks.alike import together
from stackview.checks.elevations import elevations, ranges_joined
from stackview.checks.glue_bead import bead_diameter, fillet_size, squeezed_out
from stackview.checks.held import over
from stackview.checks.proposals import deeper_groove
from stackview.checks.squeeze_seen import AllParts, Onlookers, Shows, shows
from stackview.checks.subject import Check, Subject
from stackview.description.lamp import Groove, Lamp
from stackview.description.material import Material
from stackview.description.service import Glue
from stackview.findings import Bound, Finding, Level
from stackview.stack.joints import Joint, JointPiece, glue_of, glued_joints

_LIP = 0.3
"""A piece beside a groove that is narrower than this share of the widest one is the groove's lip."""
_ALIKE = 0.5
"""Beads whose lengths differ by less are told as one [mm]."""
_VOLUME = "volume of the film, area × thickness; a bead is a cylinder of the same volume"


def glue(subject: Subject) -> tuple[Finding, ...]:
    """Faults of glues that do not hold, cautions where they harm acrylic or overflow, notes of amounts."""
    glued = glued_joints(subject.stack)
    return (*_grave(subject), *_amounts(subject, glued), *_seen(subject, glued))


def _grave(subject: Subject) -> tuple[Finding, ...]:
    glued = glued_joints(subject.stack)
    return (*_kinds(subject.lamp, glued), *_overflows(subject, glued))


@dataclass(frozen=True, slots=True)
class Laid:
    """Glue as it is laid in one joint: glued area [mm²], length of the bead [mm], and what comes out.

    ``meant`` and ``most`` leave the inner edge, ``into`` goes into a groove at most [mm²];
    ``banded`` says that only a band along the outer edge is glued.
    """

    area: float
    length: float
    meant: float
    most: float
    into: float
    banded: bool


def _glued_strips(joint: Joint) -> tuple[JointPiece, ...]:
    """The pieces of a joint that take glue: all but the narrow lip beyond a groove."""
    broadest = max(strip.width for strip in joint.strips)
    return tuple(s for s in joint.strips if not s.to_groove or s.width >= _LIP * broadest)


def laid(joint: Joint, film: float, band: float, excess: float, spread: float) -> Laid:
    """How a joint is glued: all over, or where it is wider than ``band`` [mm] in a band along its outer edge.

    The narrow lip beyond a groove is left dry.
    """
    area = length = into = 0.0
    widest, banded = (0.0, 0.0), False
    for strip in _glued_strips(joint):
        along = strip.within(band) if strip.width > band else None
        banded = banded or along is not None
        glued, run = along or (strip.area, strip.length)
        out = squeezed_out(min(glued / run, band) * film, excess, spread)
        area, length, widest = area + glued, length + run, max(widest, out)
        into += out[1] if strip.to_groove else 0.0
    return Laid(area, length, *widest, into, banded)


def laid_in(subject: Subject, joint: Joint) -> Laid:
    """A joint of a lamp as its own glue and limits have it laid."""
    names = ("glue_band", "bead_excess", "bead_spread")
    return laid(joint, glue_of(subject.lamp, joint).film, *(subject.limits.value(name) for name in names))


def _kinds(lamp: Lamp, glued: Iterable[Joint]) -> tuple[Finding, ...]:
    bad: dict[tuple[str, Material], tuple[Glue, list[str]]] = {}
    for joint in glued:
        used = glue_of(lamp, joint)
        for part in (joint.lower, joint.upper):
            bad.setdefault((used.name, part.material), (used, []))[1].append(joint.name)
    found = []
    for (_, material), (used, names) in bad.items():
        where = together(names)
        if material.kind not in used.grips:
            found.append(_does_not_hold(used, material, where))
        elif material.is_acrylic and used.on_acrylic != "clean":
            found.append(_harms(used, material, where))
    return tuple(found)


def _does_not_hold(used: Glue, material: Material, where: str) -> Finding:
    return Finding(
        check="glue",
        level=Level.FAULT,
        where=where,
        what=f"{used.full} does not hold {material.name} ({material.kind}); it grips {', '.join(used.grips)}",
        short=f"{used.full} does not hold {material.name}",
        source=used.source,
        advice="Take a glue that grips both, such as neutral silicone or epoxy, under [glue].",
    )


def _harms(used: Glue, material: Material, where: str) -> Finding:
    how = "can craze" if used.on_acrylic == "crazes" else "fogs"
    return Finding(
        check="glue",
        level=Level.CAUTION,
        where=where,
        what=f"{used.full} {how} {material.name}, the more so where its vapour is shut in",
        source=used.source,
        advice='Take one that leaves acrylic clean, such as acrylic = "neutral silicone" under [glue].',
    )


def _parts(some: Iterable[Joint]) -> tuple[str, ...]:
    """The parts of some joints, each once."""
    return tuple(dict.fromkeys(part.name for joint in some for part in (joint.lower, joint.upper)))


def _grooves(lamp: Lamp, joint: Joint) -> tuple[Groove, ...]:
    """The grooves cut into either face of a joint that a piece of it looks at."""
    if not any(strip.to_groove for strip in joint.strips):
        return ()
    layers = {layer.name: layer for layer in lamp.layers}
    found: list[Groove] = []
    for part, face in ((joint.lower, "top"), (joint.upper, "underside")):
        layer = layers.get(part.name)
        found.extend(groove for groove in (layer.grooves if layer else ()) if groove.face == face)
    return tuple(found)


def _overflows(subject: Subject, glued: Iterable[Joint]) -> tuple[Finding, ...]:
    """A groove that cannot hold what is pressed into it, per length of the joint."""
    found: dict[tuple[float, ...], tuple[Groove, list[str]]] = {}
    for joint in glued:
        into = laid_in(subject, joint).into
        for groove in _grooves(subject.lamp, joint):
            if over(into, groove.width * groove.depth):
                key = (round(into, 3), groove.width, groove.depth)
                found.setdefault(key, (groove, []))[1].append(joint.name)
    units = subject.lamp.units
    return tuple(
        Finding(
            check="glue",
            level=Level.CAUTION,
            where=together(names),
            what=f"up to {units.area(into)} of glue is squeezed into a groove that holds {units.area(width * depth)}",
            value=into,
            unit="mm²",
            limit=width * depth,
            bound=Bound.MOST,
            source=f"{_VOLUME}; excess and spread: {subject.limits['bead_excess'].source}",
            advice="Cut the groove deeper, or lay a thinner bead.",
            ways=deeper_groove(subject.lamp, groove, into / width),
        )
        for (into, width, depth), (groove, names) in found.items()
    )


def _amounts(subject: Subject, glued: Iterable[Joint]) -> tuple[Finding, ...]:
    """What each joint takes; joints of one glue and one width are told together."""
    same: dict[tuple[object, ...], list[tuple[Joint, Laid]]] = {}
    for joint in glued:
        here = laid_in(subject, joint)
        used = glue_of(subject.lamp, joint)
        width = round(here.area / here.length, 1)
        same.setdefault((used.name, width, here.banded, _holds(subject.lamp, joint)), []).append(
            (joint, here)
        )
    return tuple(_amount(subject, alike) for alike in same.values())


def _holds(lamp: Lamp, joint: Joint) -> float:
    """What the joint's grooves hold [mm²]."""
    return sum(groove.width * groove.depth for groove in _grooves(lamp, joint))


def _amount(subject: Subject, alike: list[tuple[Joint, Laid]]) -> Finding:
    lamp, (joint, here) = subject.lamp, alike[0]
    used, units = glue_of(lamp, joint), lamp.units
    over = used.film * (1.0 + subject.limits.value("bead_excess"))
    areas, lengths = [one.area for _, one in alike], [one.length for _, one in alike]
    volumes = [one.area * over for _, one in alike]
    narrow = [s.narrowest for one, _ in alike for s in _glued_strips(one) if s.narrowest is not None]
    ledge = f", {units.show(units.settled(min(narrow)))} at its narrowest" if narrow else ""
    if here.banded:
        ledge = f" in a band {units.show(subject.limits.value('glue_band'))} wide along the outer edge"
    groove = f"; the groove holds {units.area(_holds(lamp, joint))} of it" if _holds(lamp, joint) else ""
    long = units.show(units.settled(min(lengths)))
    if max(lengths) - min(lengths) > _ALIKE:
        long = f"{long} to {units.show(units.settled(max(lengths)))}"
    return Finding(
        check="glue",
        level=Level.FACT,
        where=together([one.name for one, _ in alike]),
        what=(
            f"{'each ' if len(alike) > 1 else ''}{_range([units.area(area) for area in sorted(areas)])}{ledge}: "
            f"{_range([f'{volume / 1000.0:.2f}' for volume in sorted(volumes)])} ml of {used.name} in a bead "
            f"{units.show(units.settled(bead_diameter(volumes[0], lengths[0])))} thick and {long} long, for a film of "
            f"{units.show(used.film)}; {units.area(here.meant)}, at most {units.area(here.most)}, comes out along "
            f"each edge{groove}"
        ),
        value=sum(volumes) / 1000.0,
        unit="ml",
        source=f"{_VOLUME}; glue: {used.source}",
        parts=_parts(one for one, _ in alike),
    )


def _range(words: list[str]) -> str:
    """``24.0 to 27.4``, or one number where they round alike; ``words`` from the least to the most."""
    return words[0] if words[0] == words[-1] else f"{words[0]} to {words[-1]}"


def _seen(subject: Subject, glued: Iterable[Joint]) -> tuple[Finding, ...]:
    """Inner edges from which so much comes out that it is seen, and whence; alike ones together."""
    least, lamp = subject.limits.value("squeeze_out"), subject.lamp
    room = Onlookers(lamp.eyes, subject.stack.floor, lamp.surface)
    comes_out: list[tuple[Joint, float]] = []
    for joint in glued:
        as_laid = laid_in(subject, joint)
        stands = fillet_size(as_laid.most)
        if not as_laid.banded and over(stands, least):
            comes_out.append((joint, stands))
    if not comes_out:
        return ()
    among = AllParts(subject.sightlines.scene, subject.stack.placed)
    seen: dict[tuple[float, bool], list[tuple[Joint, Shows]]] = {}
    for joint, stands in comes_out:
        found = shows(among, joint, room)
        if found is not None:
            seen.setdefault((round(stands, 2), found.glazed), []).append((joint, found))
    return tuple(_seen_together(subject, stands, pairs) for (stands, _), pairs in seen.items())


def _seen_together(subject: Subject, stands: float, pairs: list[tuple[Joint, Shows]]) -> Finding:
    units, least = subject.lamp.units, subject.limits["squeeze_out"]
    views = [view for _, view in pairs]
    names = [f'"{eye.name}"' for eye in subject.lamp.eyes if any(eye.name in view.eyes for view in views)]
    whom = f", as by eye {together(names)}" if names else ""
    roughly = "roughly " if any(view.high - view.low >= 1.0 for view in views) else ""
    whence = together([elevations(*each) for each in ranges_joined((view.low, view.high) for view in views)])
    most = laid_in(subject, pairs[0][0]).most
    return Finding(
        check="glue",
        level=Level.NOTE,
        where=together([joint.name for joint, _ in pairs]),
        what=(
            f"glue squeezed out of the inner edge stands up to {units.show(stands)} out and is seen"
            f"{' through clear acrylic' if views[0].glazed else ''} from elevations {roughly}{whence}{whom}"
        ),
        value=stands,
        unit="mm",
        limit=least.value,
        bound=least.bound,
        source=f"quarter round of what is squeezed out, sightlines from places along the edge; {least.source}",
        advice=(
            "Lay the bead nearer to the outer edge and wipe at once, or cut a groove along the opening that holds "
            f"{units.area(most)} of its section."
        ),
        parts=_parts([joint for joint, _ in pairs]),
        cause="seen through clear acrylic" if views[0].glazed else "seen",
    )


CHECK = Check(
    name="glue",
    question="How much glue does each joint take, does it hold, and is squeezed-out glue caught or seen?",
    formula="V = A·t·(1 + excess); bead d = √(4V/πL); out of each edge w·t·((1 + excess)(1 + spread) − 1)/2",
    source="geometry of the meshes; the glues' table",
    limits=("glue_band", "bead_excess", "bead_spread", "squeeze_out"),
    run=glue,
    asks_sight=True,
    grave=_grave,
)
