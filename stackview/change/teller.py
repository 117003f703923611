"""Numbers that hide light, confirmed as they are printed: what they do for every eye, and what they cost."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from stackview.change.candidates import Step, typed
from stackview.change.hidden import Goal, faces_bare
from stackview.change.mend import Mend, new_number
from stackview.change.trial import Rebuilt, new_findings
from stackview.findings import Finding, Level
from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen

_STEPS_ON = 12
"""Printed steps that the last number goes on, at most, until all is confirmed."""
_GOING_ON = 4
"""Printed steps that the second number of a pair goes on, at most, to be rid of new findings."""


@dataclass(frozen=True, slots=True)
class Teller:
    """Confirms printed numbers, and says what they do and cost."""

    goal: Goal
    seen: tuple[Seen, ...]
    """What the eyes see of the lamp as it is."""
    before: tuple[Finding, ...]

    def without_cost(self, steps: tuple[Step, ...]) -> Mend | None:
        """The mend that brings nothing new: the last number steps on until it holds; None where none does.

        What a pair brings may go when its second number goes on a little.
        """
        costly, cost = 0, None
        for each, variant in self._that_hold(steps):
            last, cost = cost, next(variant.brings(self.before, cost), None)
            if cost is not None:
                costly += 1
                if len(steps) == 1 or costly > _GOING_ON:
                    return None
                continue
            cost = last
            looks = self.goal.is_confirmed(typed(each))
            if looks is not None:
                return self._told(each, variant, looks)
        return None

    def at_a_cost(self, steps: tuple[Step, ...]) -> Mend | None:
        """The first printed numbers that are confirmed, with the cautions that they bring; None with a fault."""
        for each, variant in self._that_hold(steps):
            looks = self.goal.is_confirmed(typed(each))
            if looks is not None:
                faulty = any(finding.level == Level.FAULT for finding in variant.brings(self.before))
                return None if faulty else self._told(each, variant, looks)
        return None

    def again(self, mend: Mend) -> Mend | None:
        """A mend that is known, as this eye sees it; None where it does not hide the light from it."""
        looks = self.goal.is_confirmed(mend.changes)
        return None if looks is None else replace(mend, does=says(self.goal, self.seen, looks))

    def faults(self, variant: Rebuilt) -> tuple[Finding, ...]:
        """Faults of the assembly that the lamp did not have."""
        new = new_findings(self.before, variant.study.stack.findings)
        return tuple(finding for finding in new if finding.level == Level.FAULT)

    def _that_hold(self, steps: tuple[Step, ...]) -> Iterator[tuple[tuple[Step, ...], Rebuilt]]:
        """The last number going on, where it hides the light at the first look and the parts go together."""
        *fixed, last = steps
        for more in range(_STEPS_ON):
            each = (*fixed, last.further(more))
            variant = self.goal.bench.changed(typed(each))
            if variant is None or self.faults(variant):
                return
            if self.goal.holds(typed(each)):
                yield each, variant

    def _told(self, steps: tuple[Step, ...], variant: Rebuilt, looks: tuple[Seen, ...]) -> Mend:
        study = self.goal.bench.study
        numbers = tuple(
            new_number(
                step.candidate.path,
                step.candidate.now,
                step.printed,
                step.candidate.layers,
                study.lamp.units,
            )
            for step in steps
        )
        stack, was = variant.study.stack, study.stack
        does, new = says(self.goal, self.seen, looks), variant.brought(self.before)
        height, grams, worse = (
            stack.height - was.height,
            stack.grams - was.grams,
            variant.worsened(self.before),
        )
        return Mend(numbers, does, height, grams, new, worse=worse)


def says(goal: Goal, before: tuple[Seen, ...], after: tuple[Seen, ...]) -> str:
    """What a mend hides from its eye, and what it does for the others."""
    own = next(seen for seen in before if seen.eye == goal.eye)
    most = int(own.counts(Kind.BARE).max())
    it = "it" if len(own.kind) == 1 else f"all {most}" if most > 1 else "it"
    name = f'eye "{goal.eye.name}"'
    words = [
        f"hides {it} from {name}, all round"
        if goal.corners
        else f"hides the middle of {it} from {name}, all round; corners still show"
    ]
    for was, seen in zip(before, after, strict=True):
        left, had = int(seen.counts(Kind.BARE).max()), int(was.counts(Kind.BARE).max())
        if seen.eye == goal.eye or not (left or had):
            continue
        still = "still sees" if had else "then sees"
        if not left:
            corners = int(faces_bare(seen).sum(axis=0).max())
            left_words = f"still sees a corner of {corners}" if corners else "sees none any more"
        else:
            left_words = f"{still} {left}"
        words.append(f'eye "{seen.eye.name}" {left_words}')
    return "; ".join(words)
