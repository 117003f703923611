"""The order of work as a value: numbered steps, each with what must come before it and why."""

from dataclasses import dataclass, field
from itertools import groupby
from typing import Literal

from stackview.findings import Finding
from stackview.one_line import one_line
from stackview.shop.cutting_figures import CuttingFigures

Phase = Literal["cut", "sand", "finish", "fit", "wire", "test", "glue", "join", "feet", "hang", "run in"]
"""The kind of work that a step is; the cautions' table has the same words."""


@dataclass(frozen=True, slots=True)
class After:
    """A step that has to come before another, by its key, and why."""

    key: str
    why: str


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One thing to do."""

    key: str
    """Its name for other steps; the number is its place in the order."""
    phase: Phase
    title: str
    """What is done, in a line."""
    parts: tuple[str, ...]
    """Names of the parts that it is done to or with, as they stand in the lamp."""
    brief: str = ""
    """What it is done to, where steps of one kind are told together."""
    tools: tuple[str, ...] = ()
    do: tuple[str, ...] = ()
    """How it is done, a sentence each."""
    after: tuple[After, ...] = ()
    places: tuple[str, ...] = ()
    """The parts that are in their place in the lamp from this step on."""
    needs: tuple[str, ...] = ()
    """Things that have to be within reach: strips, solder joints, the cable's end."""
    seals: tuple[str, ...] = ()
    """Things that are out of reach from this step on."""
    minutes: float = 0.0
    """How long it keeps the bench waiting: glue under clamps, coats that dry [min]."""
    glue_ml: float = 0.0
    """Glue that it takes [ml], nothing to spare."""
    findings: tuple[Finding, ...] = field(default=(), compare=False)
    """What `stackview check` says that matters here, told at the first step that it concerns."""
    cautions: tuple[str, ...] = ()

    __repr__ = one_line

    @property
    def told_with(self) -> str:
        """What steps are told together: those that cut, and those that set a part in its place; empty for others."""
        return (
            "cut" if self.phase == "cut" else "set" if self.places and self.phase in ("glue", "fit") else ""
        )


_HEADINGS: dict[Phase, str] = {
    "cut": "Cut",
    "sand": "Sand",
    "fit": "Fit",
    "finish": "Finish",
    "wire": "Wire",
    "test": "Test",
    "glue": "Glue",
    "join": "Set together",
    "feet": "Feet",
    "hang": "Hang",
    "run in": "Run in",
}


@dataclass(frozen=True, slots=True)
class Spell:
    """Steps of one kind of work, one after the other; ``first`` is the number of the first of them."""

    phase: Phase
    first: int
    steps: tuple[WorkStep, ...]

    @property
    def heading(self) -> str:
        """The kind of work in a word or two."""
        return _HEADINGS[self.phase]

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of all of them, each once."""
        return tuple(dict.fromkeys(words for step in self.steps for words in step.cautions))


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """All steps of one lamp in their order; none where the lamp goes together in no order.

    ``faults`` are what has to be mended first; ``figures`` how to cut each material with each cutter.
    """

    lamp: str
    steps: tuple[WorkStep, ...]
    faults: tuple[Finding, ...]
    figures: tuple[CuttingFigures, ...]
    from_top: bool = False

    __repr__ = one_line

    @property
    def spells(self) -> tuple[Spell, ...]:
        """Its steps by kinds of work, in their order."""
        found, first = [], 1
        for phase, steps in groupby(self.steps, key=lambda step: step.phase):
            found.append(Spell(phase, first, tuple(steps)))
            first += len(found[-1].steps)
        return tuple(found)

    def number(self, key: str) -> int:
        """The number of a step, from 1."""
        return next(number for number, step in enumerate(self.steps, 1) if step.key == key)

    @property
    def runs(self) -> tuple[tuple[int, int], ...]:
        """Steps of one kind in a row, first and last number; a step after which something is out of reach ends one."""
        found: list[tuple[int, int]] = []
        for number, step in enumerate(self.steps, 1):
            before = self.steps[number - 2] if number > 1 else None
            if before is not None and not before.seals and step.told_with == before.told_with != "":
                found[-1] = (found[-1][0], number)
            else:
                found.append((number, number))
        return tuple(found)

    @property
    def hours_waiting(self) -> float:
        """Hours under clamps and between coats, each waited for by itself [h]."""
        return sum(step.minutes for step in self.steps) / 60.0
