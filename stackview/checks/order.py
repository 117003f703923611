"""Order of assembly: whether core and strips go past every layer around them, from above or from below.

Layers are set down one upon the other, so each of them reaches its place (that is how they are seated).
What stands upright goes past them. A layer around the core can be threaded over the core's upper
end where all that is wider above it passes its opening, or over the lower end where all below it does;
the layer that the core ends in, from its open side alone. An order exists if and only if no layer
that needs the upper end lies below one that needs the lower end, nor is itself both.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.checks.alike import together
from stackview.checks.strip_openings import openings_for, out_of_opening, strip_sections
from stackview.checks.subject import Check, Subject
from stackview.curves.arcs import Path
from stackview.description.lamp import Core, Layer
from stackview.description.outline import path_of
from stackview.findings import Bound, Finding, Level

_TOUCH = 1e-6
_SOURCE = "exact distance of the strips' sections from the opening's edge"


@dataclass(frozen=True, slots=True, eq=False)
class _Stretch:
    """Between two heights [mm], what stands upright is as wide as these curves."""

    low: float
    high: float
    sections: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Threaded:
    """A layer around the core: how far what is above it, and what is below, is wider than its opening [mm]."""

    layer: Layer
    above: float
    below: float

    @property
    def over_the_top(self) -> bool:
        """Whether it can be threaded over the core's upper end."""
        return self.above <= _TOUCH

    @property
    def over_the_foot(self) -> bool:
        """Whether it can be threaded over the core's lower end."""
        return self.below <= _TOUCH


def goes_together(subject: Subject) -> tuple[Finding, ...]:
    """A caution where no order of assembly brings core, strips and layers together; a note where but one does."""
    core = subject.lamp.core
    found = around_the_core(subject)
    if core is None or not found:
        return ()
    shut = _shut_in(found)
    if shut:
        return (_no_order(subject, core, shut),)
    return tuple(_in_order(core, found))


def around_the_core(subject: Subject) -> list[Threaded]:
    """Every layer that the core passes or ends in, bottom up, unless the strip clashes with it at its own height."""
    core = subject.lamp.core
    parts = {part.name: part for part in subject.stack.placed}
    if core is None or "core" not in parts:
        return []
    standing, strips = parts["core"], list(_strips(subject, core))
    own = path_of(core.outline)
    found = []
    for layer in subject.lamp.layers:
        part = parts[layer.name]
        if part.underside >= standing.top - _TOUCH or part.top <= standing.underside + _TOUCH:
            continue
        if layer.name in (core.stands_on, core.hangs_from):
            continue
        here = [one for one in strips if one.low < part.top - _TOUCH and one.high > part.underside + _TOUCH]
        if any(_out(layer, one.sections) > _TOUCH for one in here) or _out(layer, (own,)) > _TOUCH:
            continue  # a clash, and told as one
        above, below = (
            max((_out(layer, one.sections) for one in some), default=0.0)
            for some in (
                [one for one in strips if one.low >= part.top - _TOUCH],
                [one for one in strips if one.high <= part.underside + _TOUCH],
            )
        )
        found.append(Threaded(layer, above, below))
    return found


def _strips(subject: Subject, core: Core) -> Iterator[_Stretch]:
    """Where strips lie on the core: what core, tape and strip take there together."""
    first = 0
    for lit in subject.light.lit:
        ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        layout = lit.light.on_core
        if layout is not None and ribbons:
            z = np.concatenate([np.concatenate((one.low, one.high)) for one in ribbons])[:, 2]
            yield _Stretch(float(z.min()), float(z.max()), strip_sections(layout, core))


def _out(layer: Layer, sections: tuple[Path, ...]) -> float:
    """How far curves reach out of the opening that takes them best [mm]; infinite where there is none."""
    by = out_of_opening(layer, sections)
    return float("inf") if by is None else by


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
    by = min(way for one in shut for way in (one.above, one.below) if way > _TOUCH)
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
