"""Mends for bare light: what, changed in the file, hides every light point from a named eye, all round.

A mend holds where no face of a light point is bare to the eye, corners included, from any of 2,880
bearings, on curves whose facets lie within 0.01 mm. It is looked for by the keys of the file, on the
lamp rebuilt each time: steps, bisection at 180 bearings, then the printed number.
"""

from collections.abc import Callable, Container, Iterable

from stackview.change.candidates import Candidate, Step, candidates, typed
from stackview.change.closing import Promise, hardest, promising
from stackview.change.hidden import EVENLY, Goal, faces_bare
from stackview.change.least import GREATEST_CHANGE, least_that_holds
from stackview.change.mend import Mend, Mended
from stackview.change.teller import Teller
from stackview.change.trial import Bench, NoTrialsLeftError
from stackview.description.lamp import Eye
from stackview.findings import Finding
from stackview.sight.bands import Kind
from stackview.sight.eyes import look_straight

_PAIRED = 4
"""Numbers that are tried two by two where no single one serves."""
_TO_CONFIRM = 24
"""Trials that are left for confirming what was found when all others are spent."""


def mend_bare(
    bench: Bench,
    eye: Eye,
    before: tuple[Finding, ...],
    told_already: Iterable[Mend] = (),
    paths: Container[str] | None = None,
) -> Mended:
    """At most three mends that hide all light points from an eye; ``before`` are the lamp's findings.

    Those ``told_already`` for another eye come first: where they hide the light from this one too,
    one change does for both. Where ``paths`` are given, no other numbers are tried.

    Raises
    ------
    NoTrialsLeftError
        before anything was found
    """
    study = bench.study
    seen = look_straight(
        study.stack, study.light.points, bearings=len(EVENLY), whole_faces=True, scene=study.sightlines.scene
    )
    own = seen[study.lamp.eyes.index(eye)]
    goal = Goal(bench, eye, corners=True)
    goal.remember(faces_bare(own))
    told = Teller(goal, seen, before)
    both = tuple(filter(None, map(told.again, told_already)))
    if both:
        return Mended(both, "Found for another eye; it serves for this one too.")
    lines = hardest(study, own)
    chosen = tuple(each for each in candidates(study, lines.parts) if paths is None or each.path in paths)
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

        def holds(steps: int, way: Promise = way) -> bool:
            return goal.holds(typed([way.candidate.by(steps, way.towards)]))

        one = float(way.candidate.steps.step)
        try:
            steps = least_that_holds(holds, int(way.first / one), int(GREATEST_CHANGE / one))
        except NoTrialsLeftError:
            if not found:
                raise
            goal.bench.left = _TO_CONFIRM
            break
        if steps is not None:
            found.append(way.candidate.by(steps, way.towards))
    return sorted(found, key=lambda step: step.amount)


def _chosen(told: Teller, found: list[Step], bench: Bench) -> tuple[Mend, ...]:
    """The least without new findings, one that keeps the height, one at the light; else the least with its cost."""
    kinds: tuple[Callable[[Step], bool], ...] = (
        lambda _: True,
        lambda step: not step.candidate.at_the_light and _keeps_height(step, bench),
        lambda step: step.candidate.at_the_light,
    )
    tried: dict[Step, Mend | None] = {}
    for suits in kinds:
        if any(suits(step) for step, mend in tried.items() if mend is not None):
            continue
        for step in filter(suits, found):
            if step not in tried:
                tried[step] = told.without_cost((step,))
                if tried[step] is not None:
                    break
    mends = tuple(mend for mend in tried.values() if mend is not None)
    return mends or tuple(filter(None, (told.at_a_cost((step,)) for step in found)))[:1]


def _keeps_height(step: Step, bench: Bench) -> bool:
    variant = bench.changed(typed([step]))
    return variant is not None and abs(variant.study.stack.height - bench.study.stack.height) < 0.005


def _repaired(told: Teller, found: list[Step], chosen: tuple[Candidate, ...]) -> tuple[Mend, ...]:
    """A number that hides the light but brings a fault, with a second one that takes the fault away."""
    for step in found:
        variant = told.goal.bench.changed(typed([step]))
        faults = told.faults(variant) if variant is not None else ()
        # a part's own number comes before one that moves others too
        for second in sorted(chosen, key=lambda each: len(each.layers)):
            if second.path != step.candidate.path and _is_named(second, faults):
                for towards in second.towards:
                    mend = _with_second(told, step, second, towards)
                    if mend is not None:
                        return (mend,)
    return ()


def _with_second(told: Teller, step: Step, second: Candidate, towards: int) -> Mend | None:
    def holds(steps: int) -> bool:
        changes = typed([step, second.by(steps, towards)])
        variant = told.goal.bench.changed(changes)
        return variant is not None and not told.faults(variant) and told.goal.holds(changes)

    one = float(second.steps.step)
    steps = least_that_holds(holds, int(step.amount / 2.0 / one), int(4.0 * step.amount / one))
    return None if steps is None else _either(told, (step, second.by(steps, towards)))


def _either(told: Teller, steps: tuple[Step, ...]) -> Mend | None:
    return told.without_cost(steps) or told.at_a_cost(steps)


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
    for pair in sorted(pairs, key=lambda pair: max(pair[0].first, pair[1].first))[:_PAIRED]:
        one = max(float(way.candidate.steps.step) for way in pair)

        def by(steps: int, pair: tuple[Promise, Promise] = pair, one: float = one) -> tuple[Step, ...]:
            return tuple(way.candidate.past(steps * one, way.towards) for way in pair)

        def holds(steps: int, by: Callable[[int], tuple[Step, ...]] = by) -> bool:
            return told.goal.holds(typed(by(steps)))

        first = max(way.first for way in pair)
        steps = least_that_holds(holds, int(first / one), int(GREATEST_CHANGE / one))
        mend = None if steps is None else _either(told, by(steps))
        if mend is not None:
            return (mend,)
    return ()
