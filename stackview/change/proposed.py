"""Mends for what a check has found: the numbers that it proposes, tried on the rebuilt lamp.

A proposed number is rounded to the safe side and typed into the file; then the lamp is checked again.
Where the finding is still there, or something new has come, the number goes on by printed steps.
"""

from collections.abc import Iterator

from stackview.change.handles import Handle, handles_of
from stackview.change.mend import Mend, Mended, NewNumber
from stackview.change.trial import Bench, is_same, new_findings
from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import run_checks
from stackview.findings import Finding, Level, Way
from stackview.study import Study

_STEPS_ON = 16
"""Printed numbers that are tried, at most, until the finding is gone."""
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
    found = [
        mend
        for handles in _alternatives(bench.study, finding)
        if (mend := _tried(bench, finding, handles, before)) is not None
    ]
    good = [mend for mend in found if not mend.new]
    mends = tuple((good or found[:1])[:_MOST_TOLD])
    return Mended(
        mends, "" if mends else "Changed one by one, none of the file's numbers tried for it clears it."
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
) -> Mend | None:
    """The first printed numbers from the guess on that clear the finding, and bring nothing new if any do."""
    costly, after = None, 0
    last: set[tuple[str, str]] = set()
    most = 1 if all(handle.given is not None for handle in handles) else _STEPS_ON
    for more in range(_first_to_try(bench, finding, handles, before), most):
        numbers = _numbers(handles, more)
        if numbers is None:
            continue
        variant = _changed(bench, numbers)
        if variant is None or not _is_gone(finding, variant, before):
            continue
        new = new_findings(before, variant.findings)
        if not any(each.level == Level.FAULT for each in new):
            mend = _mend(bench.study, numbers, variant, new)
            if not new:
                return mend
            costly = mend if costly is None or len(new) < len(costly.new) else costly
        came = {(each.check, each.where) for each in new}
        after += 1
        if after == _AFTER or came == last or handles[0].given is not None:
            break  # going on does not take it away
        last = came
    return costly


def _first_to_try(
    bench: Bench, finding: Finding, handles: tuple[Handle, ...], before: tuple[Finding, ...]
) -> int:
    """Steps from the guess at which to begin: none, or fewer where it may ask for more than it takes.

    Then steps from the old number grow by half until the finding is gone, and the last of them is halved.
    """
    if not any(handle.rough for handle in handles):
        return 0
    lead = handles[0]
    whole = abs(lead.first() - lead.steps.beyond(lead.now, -lead.towards))

    def clears(steps: int) -> bool:
        numbers = _numbers(handles, steps - whole)
        variant = None if numbers is None else _changed(bench, numbers)
        return variant is not None and _is_gone(finding, variant, before)

    short, steps = 0, 1
    while not clears(steps):
        if steps >= whole + _STEPS_ON:
            return 0
        short, steps = steps, min(steps + max(steps // 2, 1), whole + _STEPS_ON)
    while steps - short > 1:
        middle = (short + steps) // 2
        short, steps = (short, middle) if clears(middle) else (middle, steps)
    return steps - whole


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


def _changed(bench: Bench, numbers: tuple[NewNumber, ...]) -> Study | None:
    return bench.changed({number.path: number.typed for number in numbers})


def _mend(study: Study, numbers: tuple[NewNumber, ...], variant: Study, new: tuple[Finding, ...]) -> Mend:
    taller = variant.stack.height - study.stack.height
    heavier = variant.stack.grams - study.stack.grams
    return Mend(numbers, "clears it", taller, heavier, new)


def _is_gone(finding: Finding, variant: Study, before: tuple[Finding, ...]) -> bool:
    """Whether the check that found it finds nothing of it any more, nor anything new of its parts."""
    own = tuple(check for check in ALL_CHECKS if finding.check in (check.name, *check.also))
    others = [known for known in before if known is not finding]
    return not any(
        each.check == finding.check
        and each.level >= Level.CAUTION
        and not any(is_same(each, known) for known in others)
        for each in run_checks(variant, own)
    )
