"""Order of assembly: whether core and strips go past every layer around them, from above or from below.

Layers are set down one upon the other, so each of them reaches its place (that is how they are seated).
What stands upright goes past them. Whether an order exists is ``assembly_order``'s to say.
"""

from collections.abc import Iterator

from stackview.checks.alike import together
from stackview.checks.assembly_order import assembly_order
from stackview.checks.befores import Before
from stackview.checks.strip_openings import openings_for
from stackview.checks.subject import Check, Subject
from stackview.checks.threaded import TOUCH, Threaded, around_the_core
from stackview.description.lamp import Core
from stackview.description.outline import path_of
from stackview.findings import Bound, Finding, Level

_SOURCE = "exact distance of the strips' sections from the opening's edge"


def goes_together(subject: Subject) -> tuple[Finding, ...]:
    """A fault where nothing can be put together in any order; a caution where it can with a strip stuck on last."""
    core, order = subject.lamp.core, assembly_order(subject)
    if order.blocked:
        return (_blocked(order.blocked),)
    if core is None:
        return ()
    found = around_the_core(subject)
    if order.in_place:
        return (_no_order(subject, core, _shut_in(found)),)
    return tuple(_in_order(core, found))


def _blocked(waits: tuple[Before, ...]) -> Finding:
    """The pair that waits for one another, and by way of what."""
    names = tuple(dict.fromkeys(one.first for one in waits))
    first, other = names[0], names[1]
    return Finding(
        check="assembly",
        level=Level.FAULT,
        where=together((first, other)),
        what=f"each has to be in its place before the other: {'; '.join(one.why for one in waits)}",
        short="each has to be in its place before the other",
        source="areas of slabs between level faces, shrunk by 0.15 mm; a cycle in what lies over what",
        advice=f"Cut {first} or {other} in two, or make the opening wider that the other has to pass.",
        parts=names,
        cause="no order of any parts",
    )


def _shut_in(found: list[Threaded]) -> list[Threaded]:
    """Layers that keep one another, or themselves, from going on: bottom up, those that need the upper end first."""
    stuck = []
    for number, lower in enumerate(found):
        for upper in found[number:]:
            if not lower.over_the_foot and not upper.over_the_top:
                stuck += [lower, upper]
    return [one for one in found if any(one is each for each in stuck)]


def _no_order(subject: Subject, core: Core, shut: list[Threaded]) -> Finding:
    units, names = subject.lamp.units, tuple(one.layer.name for one in shut)
    by = min(way for one in shut for way in (one.above, one.below) if way > TOUCH)
    them, their, do = ("they", "their", "do") if len(names) > 1 else ("it", "its", "does")
    play = subject.limits.value("line_up_least")
    return Finding(
        check="assembly",
        level=Level.CAUTION,
        where=together(names),
        what=(
            f"strips on the core above and below reach {units.show(by)} or more past the edge of {their} opening: with "
            f"all strips on, {them} {do} not get to {their} place from either end"
        ),
        short="with all strips on the core, it does not get to its place",
        value=by,
        unit="mm",
        limit=0.0,
        bound=Bound.MOST,
        source=_SOURCE,
        advice="Stick one of the strips on when the layer is in its place, or make the opening wider.",
        parts=("core", *names),
        cause="no order of core and layers",
        ways=openings_for(subject, (path_of(core.outline),), list(names), by + play),
    )


def _in_order(core: Core, found: list[Threaded]) -> Iterator[Finding]:
    """Layers that have to be round the core before it is set in its place with its strips."""
    hangs = core.stands_on is None
    first = [one for one in found if not (one.over_the_foot if hangs else one.over_the_top)]
    if not first:
        return
    names = tuple(one.layer.name for one in first)
    host = core.hangs_from if hangs else core.stands_on
    yield Finding(
        check="assembly",
        level=Level.NOTE,
        where=together(names),
        what=f"the strip does not pass the opening there: once the core is on {host} with its strip, the layer does "
        "not go on",
        short="the core with its strip does not pass the opening",
        source=_SOURCE,
        advice="Lay it before the core is put in, or stick the strip on afterwards.",
        parts=names,
        cause="order of core and layers",
    )


CHECK = Check(
    name="assembly",
    question="Can everything be put in its place, one part after the other?",
    formula="layers are set down from above, as they are seated; one around the core goes over its upper end where all "
    "that is wider above it passes its opening, or over its lower end; no layer that needs the upper end lies "
    "below one that needs the lower",
    source="plane geometry on the exact curves",
    limits=("line_up_least",),
    run=goes_together,
)
