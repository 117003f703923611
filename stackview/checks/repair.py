"""Repair: whether the lamp opens where it is said to, and what lights it comes out there once it is glued up."""

from collections.abc import Iterator

import numpy as np
import shapely

from stackview.checks.strip_openings import all_strips, out_of_opening
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import Path
from stackview.description.lamp import Core, Lamp
from stackview.description.outline import path_of
from stackview.description.units import shown
from stackview.findings import Finding, Level
from stackview.light.layout import Lit
from stackview.stack.joints import glued_joints

_TOUCH = 1e-6
_EXACT = "exact fit of core and strip, or of the faces of the light points, in the openings on their way out"


def repair(subject: Subject) -> tuple[Finding, ...]:
    """Cautions of a lamp that cannot be opened, or not where its lights get out; a note where the file does not say."""
    lamp = subject.lamp
    if not lamp.lights:
        return ()
    loose = lamp.gluing.loose
    if loose is None:
        return (_told(subject, Level.NOTE, "it does not say which layers stay unglued"),)
    if not loose:
        return (_told(subject, Level.CAUTION, "every joint is glued"),)
    past = {name: glued_past(subject, name) for name in loose}
    opens = tuple(name for name, pair in past.items() if pair is None)
    shut = tuple(_shut_in(name, pair) for name, pair in past.items() if pair is not None)
    return shut if shut and not opens else (*shut, *_kept_in(subject, opens))


def glued_past(subject: Subject, name: str) -> tuple[str, str] | None:
    """Two parts glued to one another past a loose layer, the upper one first; None where the lamp opens there.

    It opens if no chain of glued joints leads from what lies above the layer to what lies below it.
    """
    names = [layer.name for layer in subject.lamp.layers]
    below, above = names[: names.index(name)], names[names.index(name) + 1 :]
    joints = [(joint.upper.name, joint.lower.name) for joint in glued_joints(subject.stack)]
    reached, came = list(above), dict.fromkeys(above, "")
    for part in reached:
        for upper, lower in joints:
            if part in (upper, lower):
                other = lower if part == upper else upper
                if other in below:
                    return part, other
                if other not in came:
                    came[other] = part
                    reached.append(other)
    return None


def _kept_in(subject: Subject, opens: tuple[str, ...]) -> Iterator[Finding]:
    """Lights that come out nowhere where the lamp opens: strips with their core, and each light on a layer."""
    core, lit = subject.lamp.core, subject.light.lit
    strips = core is not None and any(one.light.on_core is not None for one in lit)
    if core is not None and strips and not any(_core_comes_out(subject, core, name) for name in opens):
        what = "the core with its strip does not come out where the lamp opens"
        yield _told(subject, Level.CAUTION, what, by=_EXACT)
    for index, one in enumerate(lit):
        if one.light.on_core is None and not any(
            _light_comes_out(subject, one, index, name) for name in opens
        ):
            what = f'light "{one.light.name}" does not come out where the lamp opens'
            yield _told(subject, Level.CAUTION, what, on=one.light.layout.carrier, by=_EXACT)


def _core_comes_out(subject: Subject, core: Core, name: str) -> bool:
    """Whether core and strips pass every layer between them and a layer that lifts off."""
    names = [layer.name for layer in subject.lamp.layers]
    host, index = names.index(core.stands_on or core.hangs_from or names[0]), names.index(name)
    sections = (path_of(core.outline), *all_strips(subject.lamp))
    return _pass(subject, range(min(index, host) + 1, max(index, host)), sections)


def _light_comes_out(subject: Subject, lit: Lit, index: int, name: str) -> bool:
    """Whether the faces of a layer's light points pass every layer between them and a layer that lifts off."""
    names, points = [layer.name for layer in subject.lamp.layers], subject.light.points
    host, opened = names.index(lit.light.layout.carrier), names.index(name)
    own = points.source == index
    centres = points.centres[own]
    on_top = lit.light.layout.on_top
    if opened == host:
        return True
    # what lies on its other side is the layer that it sits on
    first, last = (host + 1, opened) if opened > host else (opened + 1, host)
    between = range(
        first if opened < host or on_top else host, last + 1 if opened < host and on_top else last
    )
    half = max(lit.light.emitter.face) / 2.0
    corners = [centres[:, :2] + half * np.array(side) for side in ((-1, -1), (-1, 1), (1, -1), (1, 1))]
    hull = shapely.convex_hull(shapely.multipoints(np.concatenate(corners)))
    ring = shapely.get_coordinates(shapely.normalize(hull).exterior.reverse())[:-1]
    return _pass(subject, between, (Path(np.column_stack((ring, np.zeros(len(ring))))),))


def _pass(subject: Subject, between: range, sections: tuple[Path, ...]) -> bool:
    ways = [out_of_opening(subject.lamp.layers[number], sections) for number in between]
    return all(way is not None and way <= _TOUCH for way in ways)


def _shut_in(name: str, pair: tuple[str, str]) -> Finding:
    upper, lower = pair
    return Finding(
        check="repair",
        level=Level.CAUTION,
        where=name,
        what=f"it is to stay loose, but {upper} is glued to {lower} past it: the lamp does not open there",
        source="joints of the stack that are glued, followed from what lies above it to what lies below",
        advice=f"Name {upper} or {lower} under loose as well, or another layer in place of {name}.",
        parts=(name, upper, lower),
        cause="loose, but shut in",
    )


def _told(
    subject: Subject, level: Level, what: str, *, on: str | None = None, by: str = "as described"
) -> Finding:
    core, top = subject.lamp.core, subject.lamp.layers[-1].name
    name = on or (core.stands_on or core.hangs_from if core is not None else None) or top
    return Finding(
        check="repair",
        level=level,
        where="[glue]",
        parts=(name,),
        what=f"{what}: a dead light cannot be replaced once the lamp is glued up",
        short=f"{what}: a dead light cannot be replaced",
        source=by,
        advice=f"Hold {name} by {held_by(subject.lamp)}, and write loose = [{shown(name)}] under [glue].",
        cause=what,
    )


def held_by(lamp: Lamp) -> str:
    """What may hold a layer that stays unglued: in a lamp that hangs, only what bears all that is below."""
    return "screws, magnets or pins" if lamp.hangs_at is None else "screws that bear all that hangs below"


CHECK = Check(
    name="repair",
    question="Does the lamp open where it is to stay loose, and does a dead light come out there?",
    formula="no chain of glued joints past a loose layer; exact fit of core and strip, or of the light points' faces, in "
    "every opening on the way out",
    source="plane geometry",
    limits=(),
    run=repair,
)
