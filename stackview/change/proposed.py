"""Mends for what a check has found: the numbers that it proposes, tried on the rebuilt lamp.

A proposed number is rounded to the safe side and typed into the file; then the lamp is checked again.
Where the finding is still there, or something new has come, the number goes on by printed steps.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from stackview.change.mend import Mend, Mended, NewNumber
from stackview.change.printed import Printed, Steps, steps_for
from stackview.change.trial import Bench, is_same, new_findings
from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import run_checks
from stackview.description.field_path import spelt
from stackview.description.lamp_file import LampFile
from stackview.errors import LampError
from stackview.findings import Finding, Level, Way
from stackview.study import Study

_STEPS_ON = 16
"""Printed numbers that are tried, at most, until the finding is gone."""
_AFTER = 6
"""Printed numbers that are tried, at most, once it is gone, to be rid of what came in its place."""
_MOST_TOLD = 3


@dataclass(frozen=True, slots=True)
class _Key:
    """Where a way leads in the file."""

    path: str
    layers: tuple[str, ...]
    steps: Steps


def mend_as_proposed(bench: Bench, finding: Finding, before: tuple[Finding, ...]) -> Mended:
    """At most three mends of a finding by the ways that its check proposes; those without a cost first.

    Raises
    ------
    NoTrialsLeftError
        before anything was found
    """
    found = [mend for way in finding.ways if (mend := _tried(bench, finding, way, before)) is not None]
    good = [mend for mend in found if not mend.new]
    mends = tuple((good or found[:1])[:_MOST_TOLD])
    return Mended(
        mends, "" if mends else "Changed one by one, none of the file's numbers tried for it clears it."
    )


def _tried(bench: Bench, finding: Finding, way: Way, before: tuple[Finding, ...]) -> Mend | None:
    study = bench.study
    assert study.file is not None
    key = _key(study.file, study, way)
    if key is None:
        return None
    costly, after = None, 0
    last: set[tuple[str, str]] = set()
    for printed in _numbers(key, way):
        variant = bench.changed({key.path: printed.typed})
        if variant is None or not _is_gone(finding, variant, before):
            continue
        new = new_findings(before, variant.findings)
        if not any(each.level == Level.FAULT for each in new):
            number = NewNumber(key.path, _said(way.now, way, study), printed.text, printed.typed, key.layers)
            stack = variant.stack
            mend = Mend(
                (number,),
                "clears it",
                stack.height - study.stack.height,
                stack.grams - study.stack.grams,
                new,
            )
            if not new:
                return mend
            costly = mend if costly is None or len(new) < len(costly.new) else costly
        came = {(each.check, each.where) for each in new}
        after += 1
        if after == _AFTER or came == last:
            break  # going on does not take it away
        last = came
    return costly


def _numbers(key: _Key, way: Way) -> Iterator[Printed]:
    """What is to be typed: the number proposed, on its safe side, and the printed ones past it."""
    if isinstance(way.guess, str) or isinstance(way.now, str) or not way.is_length:
        text = way.guess if isinstance(way.guess, str) else f"{way.guess:g}"
        yield Printed(0.0, way.guess, text)
        return
    towards = 1 if way.guess > way.now else -1
    first = key.steps.beyond(way.guess, towards)
    for more in range(_STEPS_ON):
        printed = key.steps.at(first + towards * more)
        if (printed.mm - way.now) * towards > 1e-9:
            yield printed


def _said(value: float | str, way: Way, study: Study) -> str:
    if isinstance(value, str):
        return value
    return study.lamp.units.show(value) if way.is_length else f"{value:g}"


def _key(file: LampFile, study: Study, way: Way) -> _Key | None:
    """The key of the file that a way means, the layers that move with it, and its steps; None where it has none."""
    names = [layer.name for layer in study.lamp.layers]
    if way.part in names:
        entry = file.entry_of(way.part)
        path = _in_recess(file, entry, way.key) if way.key.startswith("recess ") else f"{entry}.{way.key}"
        layers = tuple(name for name in names if file.entry_of(name) == entry)
    else:
        top = spelt(["light", way.part.removeprefix("light.")]) if way.part.startswith("light.") else way.part
        path, layers = f"{top}.{way.key}" if top else way.key, ()
    if path is None:
        return None
    try:
        written = file.value(path) if file.is_written(path) else 0.0
    except LampError:
        return None
    fit = way.key.endswith("clearance")
    return _Key(
        path,
        layers,
        steps_for(written if isinstance(written, int | float | str) else 0.0, study.lamp.units, fit=fit),
    )


def _in_recess(file: LampFile, entry: str, key: str) -> str | None:
    """``recess top clearance``: the path of the recess in that face that is fitted to its neighbour."""
    _, face, last = key.split()
    written = file.value(f"{entry}.recess")
    recesses = written if isinstance(written, list) else [written]
    fitted = [
        index
        for index, each in enumerate(recesses)
        if isinstance(each, Mapping) and "outline" not in each and each.get("face", "top") == face
    ]
    if len(fitted) != 1:
        return None
    return f"{entry}.recess.{fitted[0]}.{last}" if isinstance(written, list) else f"{entry}.recess.{last}"


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
