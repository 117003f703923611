"""What hangs from the cord: whether every layer and the core of a pendant is held by something."""

from collections.abc import Iterator

from stackview.checks.alike import together
from stackview.checks.subject import Subject
from stackview.description.units import shown
from stackview.findings import Bound, Finding, Level
from stackview.in_figures import figure
from stackview.solids.measure import volume
from stackview.stack.assembly import Stack
from stackview.stack.joints import Joint, joints

_SOURCE = (
    "glued joints, screws, pins and what rests on what, followed down from the layer that the cord leaves"
)


def hung(subject: Subject) -> Iterator[Finding]:
    """A fault where a part of a pendant hangs from a joint that nothing holds: a fact where all of several are held."""
    held = carried(subject.stack)
    parts = [part for part in subject.stack.placed if part.is_jointed]
    fall = [part for part in parts if part.name not in held]
    if len(parts) == 1:
        return
    if not fall:
        yield Finding(
            check="hanging",
            level=Level.FACT,
            where="lamp",
            what="every layer is held from above by glue, screws or pins, or rests on one that is",
            source=_SOURCE,
        )
        return
    grams = sum(volume(part.solid) * part.material.density * 1e-6 for part in fall)
    names = tuple(part.name for part in fall)
    open_joints = [
        joint for joint in joints(subject.stack) if joint.upper.name in held and joint.lower.name not in held
    ]
    yield Finding(
        check="hanging",
        level=Level.FAULT,
        where=together(names),
        what=f"nothing holds {'it' if len(names) == 1 else 'them'} up: {_why(open_joints)}; {figure(grams)} g would fall",
        short=f"nothing holds {'it' if len(names) == 1 else 'them'} up: {figure(grams)} g would fall",
        value=grams,
        unit="g",
        limit=0.0,
        bound=Bound.MOST,
        source=_SOURCE,
        advice=_advice(subject, open_joints),
        parts=names,
        cause="hangs from nothing",
    )


def carried(stack: Stack) -> frozenset[str]:
    """Names of layers and core that the top layer of a pendant bears, itself among them.

    A glued joint bears either way, and so do screws between their two layers and all that they clamp, and
    pins between their ends where those are glued; a core is fastened to the layer that it hangs from, glue or
    not. What touches without glue bears only what rests on it.
    """
    lamp = stack.lamp
    order = [layer.name for layer in lamp.layers]
    both: dict[str, set[str]] = {}
    on: dict[str, set[str]] = {}
    for joint in joints(stack):
        lower, upper = joint.lower.name, joint.upper.name
        on.setdefault(lower, set()).add(upper)
        if lamp.gluing.holds(lower, upper):
            both.setdefault(lower, set()).add(upper)
            both.setdefault(upper, set()).add(lower)
    clamped = [sorted(map(order.index, (one.through, one.into))) for one in lamp.screws]
    groups = [order[first : last + 1] for first, last in clamped]
    groups += [[post.start, post.end] for post in lamp.posts if lamp.gluing.holds(post.start, post.end)]
    if lamp.core is not None and lamp.core.hangs_from is not None:
        groups += [[lamp.core.hangs_from, *(part.name for part in stack.placed if part.is_core)]]
    for group in groups:
        for one in group:
            both.setdefault(one, set()).update(group)
    held, reached = {order[-1]}, [order[-1]]
    for name in reached:
        new = (both.get(name, set()) | on.get(name, set())) - held
        held |= new
        reached.extend(sorted(new))
    return frozenset(held)


def _why(open_joints: list[Joint]) -> str:
    if not open_joints:
        return "no glued joint, screw or pin leads there from the layer that the cord leaves"
    joint = open_joints[-1]
    return f"{joint.lower.name} stays unglued under {joint.upper.name}, and no screw holds it"


def _advice(subject: Subject, open_joints: list[Joint]) -> str:
    if not open_joints:
        return "Hold it by screws, and write them as [[screw]]."
    upper, lower = open_joints[-1].upper.name, open_joints[-1].lower.name
    loose = [name for name in subject.lamp.gluing.loose or () if name in (upper, lower)]
    return (
        f"Hold {lower} to {upper} by screws that bear what hangs below, and write them as [[screw]], or let "
        f"{' and '.join(map(shown, loose))} be glued: not under loose of [glue]."
    )
