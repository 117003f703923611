"""Mends for what a check has found: the numbers that it proposes, tried on the rebuilt lamp.

A proposed number is rounded to the safe side and typed into the file; then the lamp is checked again.
Where the finding is still there, or something new has come, the number goes on by printed steps.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from stackview.change.handles import Handle, handles_of
from stackview.change.least import least_that_holds
from stackview.change.mend import Mend, Mended, NewNumber
from stackview.change.trial import Bench, Rebuilt, is_again, is_same
from stackview.checks.all_checks import ALL_CHECKS
from stackview.findings import Finding, Level, Way
from stackview.study import Study

_STEPS_ON = 24
"""Printed steps from the guess, at most, until the finding is gone."""
_AFTER = 6
"""Printed numbers that are tried, at most, once it is gone, to be rid of what came in its place."""
_MOST_TOLD = 3


def mend_as_proposed(bench: Bench, finding: Finding, before: tuple[Finding, ...]) -> Mended:
    """At most three mends of a finding by the ways that its check proposes; those without a cost first.

    Raises
    ------
    NoTrialsLeftError
        before anything was found
    """
    good: list[Mend] = []
    costly: list[_Cleared] = []
    cost: Finding | None = None
    # a lamp that shows its light easily shows more of it
    likely = next((known for known in before if known.is_bare_light), None)
    for handles in _alternatives(bench.study, finding):
        for cleared in _tried(bench, finding, handles, before):
            last, cost = cost, next(cleared.variant.brings(before, cost or likely), None)
            if cost is None:
                good.append(cleared.mend(bench.study, before))
                cost = last
                break
            costly.append(cleared)
            if is_again(last, cost) or handles[0].given is not None:
                break  # going on does not take it away
        if len(good) == _MOST_TOLD:
            break
    if not good:
        bearable = (
            each for each in costly if all(new.level < Level.FAULT for new in each.variant.brings(before))
        )
        good = [each.mend(bench.study, before) for each in bearable][:1]
    return Mended(tuple(good), "" if good else _why_none(bench.study, costly, before))


def _why_none(study: Study, costly: list["_Cleared"], before: tuple[Finding, ...]) -> str:
    """Why no mend is told: no number clears it, or the least that does brings a fault, which is then named."""
    if not costly:
        return "Changed one by one, none of the file's numbers tried for it clears it."
    return f"What clears it is no mend alone: {costly[0].mend(study, before).brief}"


@dataclass(frozen=True, slots=True)
class _Cleared:
    """Numbers to type that clear the finding, and the lamp with them."""

    numbers: tuple[NewNumber, ...]
    variant: Rebuilt

    def mend(self, study: Study, before: tuple[Finding, ...]) -> Mend:
        """What they do and cost."""
        stack, was = self.variant.study.stack, study.stack
        return Mend(
            self.numbers,
            "clears it",
            stack.height - was.height,
            stack.grams - was.grams,
            self.variant.brought(before),
            len(self.variant.study.light.points) - len(study.light.points),
            worse=self.variant.worsened(before),
        )


def _alternatives(study: Study, finding: Finding) -> Iterator[tuple[Handle, ...]]:
    """What is changed together: the same key of all parts that the finding names."""
    together: dict[tuple[str, bool], list[Way]] = {}
    for way in finding.ways:
        numbers = isinstance(way.guess, int | float) and isinstance(way.now, int | float)
        grows = not way.along and numbers and way.guess > way.now  # type: ignore[operator]
        together.setdefault((way.along or way.key, grows), []).append(way)
    known = set()
    for ways in together.values():
        handles = handles_of(study, ways)
        taken = frozenset((handle.path, handle.by > 0.0) for handle in handles)
        if handles and taken not in known:
            known.add(taken)
            yield handles


def _tried(
    bench: Bench, finding: Finding, handles: tuple[Handle, ...], before: tuple[Finding, ...]
) -> Iterator[_Cleared]:
    """Printed numbers that clear the finding, the least first, and some further ones."""

    def cleared(more: int) -> _Cleared | None:
        numbers = _numbers(handles, more)
        variant = None if numbers is None else _changed(bench, numbers)
        gone = numbers is not None and variant is not None and _is_gone(finding, variant, before)
        return _Cleared(numbers, variant) if gone and numbers and variant else None

    def clears(more: int) -> bool:
        return cleared(more) is not None

    guessed = _numbers(handles, 0)
    if guessed is not None and _touches_it_not(finding, _changed(bench, guessed)):
        return
    first = _first_that_clears(handles, clears)
    if first is None:
        return
    for more in range(first, first + _AFTER):
        one = cleared(more)
        if one is not None:
            yield one


def _touches_it_not(finding: Finding, variant: Rebuilt | None) -> bool:
    """Whether its worst is just what it was: of several parts, one that the number does not move."""
    return variant is not None and any(
        (each.value, each.limit) == (finding.value, finding.limit) and is_same(each, finding)
        for check in ALL_CHECKS
        if finding.check in (check.name, *check.also)
        for each in variant.found(check)
        if each.value is not None
    )


def _first_that_clears(handles: tuple[Handle, ...], clears: Callable[[int], bool]) -> int | None:
    """Steps from the guess to the least number that clears: none, some on, or fewer where the guess is rough."""
    lead = handles[0]
    if lead.given is not None:
        return 0 if clears(0) else None
    if any(each.rough for each in handles):
        whole = abs(lead.first() - lead.steps.beyond(lead.now, -lead.towards))
        steps = least_that_holds(lambda steps: clears(steps - whole), 1, whole + _STEPS_ON)
        return None if steps is None else steps - whole
    return 0 if clears(0) else least_that_holds(clears, 1, _STEPS_ON)


def _numbers(handles: tuple[Handle, ...], more: int) -> tuple[NewNumber, ...] | None:
    """What is to be typed so many printed steps past the guess; None where that is no change."""
    lead, numbers = handles[0], []
    share = 1.0
    if lead.given is None:
        count = lead.first() + more * lead.towards
        share = (lead.steps.at(count).mm - lead.now) / lead.by
        if share * abs(lead.by) <= 1e-9:
            return None
    for handle in handles:
        printed = handle.at(share)
        numbers.append(NewNumber(handle.path, handle.said, printed.text, printed.typed, handle.layers))
    return tuple(numbers)


def _changed(bench: Bench, numbers: tuple[NewNumber, ...]) -> Rebuilt | None:
    return bench.changed({number.path: number.typed for number in numbers})


def _is_gone(finding: Finding, variant: Rebuilt, before: tuple[Finding, ...]) -> bool:
    """Whether the check that found it finds nothing of it any more, nor anything new of its parts.

    What stands where it stood is it, and no other that says the same of something else.
    """
    own = [check for check in ALL_CHECKS if finding.check in (check.name, *check.also)]
    others = [known for known in before if known is not finding]
    return not any(
        each.check == finding.check
        and each.level >= Level.CAUTION
        and not any(
            is_same(each, known)
            for known in others
            if finding.where in (known.where, "") or each.where != finding.where
        )
        for check in own
        for each in variant.found(check)
    )
