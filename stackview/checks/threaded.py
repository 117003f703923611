"""Layers threaded over the core: how far what is above and below is wider than the opening that each has.

A layer around the core can be threaded over the core's upper end where all that is wider above it
passes its opening, or over the lower end where all below it does.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.checks.strip_openings import out_of_opening, strip_sections
from stackview.checks.subject import Subject
from stackview.curves.arcs import Path
from stackview.description.lamp import Core, Layer
from stackview.description.outline import path_of

TOUCH = 1e-6
"""What is wider by no more than this passes [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class StripStretch:
    """Between two heights [mm], what stands upright is as wide as these curves."""

    light: str
    """Name of the light whose strip it is."""
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
        return self.above <= TOUCH

    @property
    def over_the_foot(self) -> bool:
        """Whether it can be threaded over the core's lower end."""
        return self.below <= TOUCH


def around_the_core(subject: Subject) -> list[Threaded]:
    """Every layer that the core passes or ends in, bottom up, unless the strip clashes with it at its own height."""
    core = subject.lamp.core
    return [] if core is None else threaded_past(subject, tuple(strips_on(subject, core)))


def threaded_past(subject: Subject, strips: tuple[StripStretch, ...]) -> list[Threaded]:
    """The same with some strips alone on the core."""
    core = subject.lamp.core
    parts = {part.name: part for part in subject.stack.placed}
    if core is None or "core" not in parts:
        return []
    standing = parts["core"]
    own = path_of(core.outline)
    found = []
    for layer in subject.lamp.layers:
        part = parts[layer.name]
        if part.underside >= standing.top - TOUCH or part.top <= standing.underside + TOUCH:
            continue
        if layer.name in (core.stands_on, core.hangs_from):
            continue
        here = [one for one in strips if one.low < part.top - TOUCH and one.high > part.underside + TOUCH]
        if any(_out(layer, one.sections) > TOUCH for one in here) or _out(layer, (own,)) > TOUCH:
            continue  # a clash, and told as one
        above, below = (
            max((_out(layer, one.sections) for one in some), default=0.0)
            for some in (
                [one for one in strips if one.low >= part.top - TOUCH],
                [one for one in strips if one.high <= part.underside + TOUCH],
            )
        )
        found.append(Threaded(layer, above, below))
    return found


def strips_on(subject: Subject, core: Core) -> Iterator[StripStretch]:
    """Where strips lie on the core: what core, tape and strip take there together."""
    first = 0
    for lit in subject.light.lit:
        ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
        first += len(ribbons)
        layout = lit.light.on_core
        if layout is not None and ribbons:
            z = np.concatenate([np.concatenate((one.low, one.high)) for one in ribbons])[:, 2]
            yield StripStretch(lit.light.name, float(z.min()), float(z.max()), strip_sections(layout, core))


def _out(layer: Layer, sections: tuple[Path, ...]) -> float:
    """How far curves reach out of the opening that takes them best [mm]; infinite where there is none."""
    by = out_of_opening(layer, sections)
    return float("inf") if by is None else by
