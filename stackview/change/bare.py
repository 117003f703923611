"""Mends for bare light: what, changed in the file, hides every light point from a named eye, all round.

A mend holds where no face of a light point is bare to the eye, corners included, from any of 2,880
bearings, on curves whose facets lie within 0.01 mm. It is looked for by the keys of the file, on the
lamp rebuilt each time: steps, bisection at 180 bearings, then the printed number.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from stackview.change.candidates import Candidate, candidates
from stackview.change.closing import Promise, hardest, promising
from stackview.change.hidden import EVENLY, Goal, faces_bare
from stackview.change.least import bracketed, confirmed
from stackview.change.mend import Mend, Mended, new_number
from stackview.change.printed import Printed, millimetres
from stackview.change.trial import Bench, NoTrialsLeftError, new_findings
from stackview.description.lamp import Eye
from stackview.findings import Finding, Level
from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen, look_straight
from stackview.study import Study

MOST_TOLD = 3
_PAIRED = 4
"""Numbers that are tried two by two where no single one serves."""


_GOING_ON = 4
"""Printed steps that the second number of a pair goes on, at most, to be rid of new findings."""
_TO_CONFIRM = 24
"""Trials that are left for confirming what was found when all others are spent."""


@dataclass(frozen=True, slots=True)
class Step:
    """One candidate with a value [mm] at which the goal holds on the file's own curves."""

    candidate: Candidate
    towards: int
    value: float

    @property
    def by(self) -> float:
        """How far it is from the number as it stands [mm]."""
        return abs(self.value - self.candidate.now)


def mend_bare(
    bench: Bench, eye: Eye, before: tuple[Finding, ...], told_already: Iterable[Mend] = ()
) -> Mended:
    """At most three mends that hide all light points from an eye; ``before`` are the lamp's findings.

    Those ``told_already`` for another eye come first: where they hide the light from this one too,
    one change does for both.

    Raises
    ------
    NoTrialsLeftError
        before anything was found
    """
    study = bench.study
    seen = look_straight(study.stack, study.light.points, bearings=len(EVENLY), whole_faces=True)
    own = seen[study.lamp.eyes.index(eye)]
    goal = Goal(bench, eye, corners=True)
    goal.remember(faces_bare(own))
    told = Teller(goal, seen, before)
    both = tuple(filter(None, map(told.again, told_already)))
    if both:
        return Mended(both, "Found for another eye; it serves for this one too.")
    lines = hardest(study, own)
    chosen = candidates(study, lines.parts)
    hopeful = promising(bench, lines, chosen)
    alone = [promise for promise in hopeful if promise.closes_all]
    found = _singles(goal, alone)
    mends = _chosen(told, found, bench)
    if mends:
        return Mended(mends)
    mends = _repaired(told, found, chosen) or _in_pairs(told, hopeful)
    if mends:
        return Mended(mends, "No single number does it.")
    goal = Goal(bench, eye, corners=False)
    goal.remember(own.kind == Kind.BARE)
    mends = _chosen(Teller(goal, seen, before), _singles(goal, alone), bench)
    if mends:
        return Mended(
            mends, "Of what was tried, up to 10 mm, nothing hides whole faces; this hides their middles."
        )
    return Mended((), "Of what was tried, one number or two by up to 10 mm, nothing hides them all.")


def _singles(goal: Goal, ways: Iterable[Promise]) -> list[Step]:
    """Each number by itself: where the goal is reached, the least change first."""
    found: list[Step] = []
    for way in ways:

        def holds(value: float, path: str = way.candidate.path) -> bool:
            return goal.holds({path: millimetres(value)})

        try:
            value = bracketed(holds, way.candidate.now, way.towards, way.first, fine=way.candidate.steps.fine)
        except NoTrialsLeftError:
            if not found:
                raise
            goal.bench.left = _TO_CONFIRM
            break
        if value is not None:
            found.append(Step(way.candidate, way.towards, value))
    return sorted(found, key=lambda step: step.by)


@dataclass(frozen=True, slots=True)
class Teller:
    """Confirms printed numbers, and says what they do and cost."""

    goal: Goal
    seen: tuple[Seen, ...]
    """What the eyes see of the lamp as it is."""
    before: tuple[Finding, ...]

    def mend(self, steps: tuple[Step, ...]) -> Mend | None:
        """The mend with printed numbers, the last of them stepped on until it holds; None where none does."""
        looks: list[tuple[Seen, ...]] = []
        *fixed, last = steps
        held = [
            (step, step.candidate.steps.at(step.candidate.steps.beyond(step.value, step.towards)))
            for step in fixed
        ]

        def holds(to: Printed) -> bool:
            typed = {step.candidate.path: each.typed for step, each in held} | {last.candidate.path: to.typed}
            seen = self.goal.is_confirmed(typed)
            looks.extend([] if seen is None else [seen])
            return seen is not None

        to = confirmed(holds, last.candidate.steps, last.candidate.now, last.value, last.towards)
        if to is None:
            return None
        mend = self._told([*held, (last, to)], looks[-1])
        if mend is None or not mend.new or not held:
            return mend
        # what a pair brings may go when the second number goes on a little
        grid, towards = last.candidate.steps, last.towards
        for more in range(1, _GOING_ON + 1):
            further = grid.at(grid.beyond(to.mm, towards) + towards * more)
            if holds(further):
                better = self._told([*held, (last, further)], looks[-1])
                if better is not None and not better.new:
                    return better
        return mend

    def again(self, mend: Mend) -> Mend | None:
        """A mend that is known, as this eye sees it; None where it does not hide the light from it."""
        looks = self.goal.is_confirmed(mend.changes)
        return None if looks is None else replace(mend, does=says(self.goal, self.seen, looks))

    def _told(self, held: list[tuple[Step, Printed]], looks: tuple[Seen, ...]) -> Mend | None:
        bench, units = self.goal.bench, self.goal.bench.study.lamp.units
        study = bench.changed({step.candidate.path: to.typed for step, to in held})
        assert study is not None
        new = new_findings(self.before, study.findings)
        if any(finding.level == Level.FAULT for finding in new):
            return None
        numbers = tuple(
            new_number(step.candidate.path, step.candidate.now, to, step.candidate.layers, units)
            for step, to in held
        )
        stack, was = study.stack, bench.study.stack
        does = says(self.goal, self.seen, looks)
        return Mend(numbers, does, stack.height - was.height, stack.grams - was.grams, new)


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


def _chosen(told: Teller, found: list[Step], bench: Bench) -> tuple[Mend, ...]:
    """The least without new findings, one that keeps the height, one at the light; else the least with its cost."""
    kinds: tuple[Callable[[Step], bool], ...] = (
        lambda _: True,
        lambda step: not step.candidate.at_the_light and _keeps_height(step, bench),
        lambda step: step.candidate.at_the_light,
    )
    tried: dict[Step, Mend | None] = {}
    mends: list[Mend] = []
    costly: list[Mend] = []
    for suits in kinds:
        if any(suits(step) for step in found if tried.get(step) in mends):
            continue
        for step in filter(suits, found):
            if step not in tried:
                tried[step] = told.mend((step,))
            mend = tried[step]
            if mend is not None and mend not in mends:
                if not mend.new:
                    mends.append(mend)
                    break
                costly.append(mend)
    return tuple(mends or costly[:1])[:MOST_TOLD]


def _keeps_height(step: Step, bench: Bench) -> bool:
    study = bench.changed({step.candidate.path: millimetres(step.value)})
    return study is not None and abs(study.stack.height - bench.study.stack.height) < 0.005


def _repaired(told: Teller, found: list[Step], chosen: tuple[Candidate, ...]) -> tuple[Mend, ...]:
    """A number that hides the light but brings a fault, with a second one that takes the fault away."""
    for step in found:
        printed = step.candidate.steps.at(step.candidate.steps.beyond(step.value, step.towards))
        study = told.goal.bench.changed({step.candidate.path: printed.typed})
        faults = _faults(told, study) if study is not None else ()
        for second in chosen:
            if second.path != step.candidate.path and _is_named(second, faults):
                for towards in second.towards:
                    mend = _with_second(told, step, printed, second, towards)
                    if mend is not None:
                        return (mend,)
    return ()


def _with_second(told: Teller, step: Step, printed: Printed, second: Candidate, towards: int) -> Mend | None:
    def holds(value: float) -> bool:
        changes = {step.candidate.path: printed.typed, second.path: millimetres(value)}
        study = told.goal.bench.changed(changes)
        return study is not None and not _faults(told, study) and told.goal.holds(changes)

    value = bracketed(holds, second.now, towards, step.by / 2.0, 4.0 * step.by, second.steps.fine)
    return None if value is None else told.mend((step, Step(second, towards, value)))


def _faults(told: Teller, study: Study) -> tuple[Finding, ...]:
    """Faults of the assembly that the lamp did not have."""
    return tuple(f for f in new_findings(told.before, study.stack.findings) if f.level == Level.FAULT)


def _is_named(candidate: Candidate, faults: tuple[Finding, ...]) -> bool:
    """Whether a number belongs to a part that a fault names."""
    parts = candidate.layers or (candidate.path.partition(".")[0],)
    return any(part in fault.where for fault in faults for part in parts)


def _in_pairs(told: Teller, hopeful: list[Promise]) -> tuple[Mend, ...]:
    """Two numbers changed by the same amount, of which each closes what the other leaves open."""
    pairs = [
        (one, other)
        for index, one in enumerate(hopeful)
        for other in hopeful[index + 1 :]
        if one.candidate.path != other.candidate.path and one.with_(other)
    ]
    for one, other in sorted(pairs, key=lambda pair: max(pair[0].first, pair[1].first))[:_PAIRED]:

        def holds(by: float, one: Promise = one, other: Promise = other) -> bool:
            return told.goal.holds(
                {
                    way.candidate.path: millimetres(way.candidate.now + way.towards * by)
                    for way in (one, other)
                }
            )

        by = bracketed(holds, 0.0, 1, max(one.first, other.first))
        if by is not None:
            steps = (
                Step(way.candidate, way.towards, way.candidate.now + way.towards * by) for way in (one, other)
            )
            mend = told.mend(tuple(steps))
            if mend is not None:
                return (mend,)
    return ()
