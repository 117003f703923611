"""Every number of a lamp at the least and the most that it may be, one at a time: ``python -m tests.whole.extremes``.

How far a number may go is asked of the program itself: a number far beyond is refused with the
limit, which is typed in then, and so on until it is taken. What is taken is answered wholly; what
is refused without a limit must at least be refused clearly. Files, or numbers of random lamps, may be
named; else the demos are asked.
"""

import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from stackview.description.lamp_file import LampFile
from stackview.description.numbers_written import Number
from stackview.errors import LampError
from stackview.findings import Level
from stackview.study import Study
from tests.whole.random_lamps import FOLDER, random_lamp
from tests.whole.refusals import check_refusal, offers
from tests.whole.solids_true import check_solids

_DEMOS = Path(__file__).parents[2] / "demos"
_STEPS = 8
"""Limits that are met one after the other on the way to a number that is taken."""
_BEARINGS = 8
_LEAST, _MOST = -1, 1


def ask_extremes(file: LampFile, tally: Counter[str]) -> Iterator[str]:
    """Put every number of a lamp to its least and its most; says in a line what should not have happened."""
    for number in file.numbers():
        for way in (_LEAST, _MOST):
            try:
                tally[_ask(file, number, way)] += 1
            except Exception as wrong:
                tally["wrong"] += 1
                words = " ".join(str(wrong).split())[:300]
                side = "least" if way == _LEAST else "most"
                yield f"{file.file}: {number.path}, {side}: {type(wrong).__name__}: {words}"


def _ask(file: LampFile, number: Number, way: int) -> str:
    value: object = f"{way * 10**6} m" if number.is_length else way * 10**12
    tried: list[object] = []
    while len(tried) < _STEPS:
        tried.append(value)
        try:
            study = _whole(file.changed({number.path: value}))
        except LampError as refused:
            check_refusal(refused, file.file)
            offered = _offered(refused, number, way, tried)
            if offered is None:
                return "refused"
            value = offered
            continue
        _check_answer(study)
        return "answered" if len(tried) > 1 else "unbounded"
    raise AssertionError(f"{_STEPS} limits one after the other, and none holds: {tried}")


def _whole(file: LampFile) -> Study:
    study = Study(file, bearings=_BEARINGS)
    _ = study.stack, study.light, study.sightlines
    return study


def _offered(refused: LampError, number: Number, way: int, tried: list[object]) -> object | None:
    """The limit on this side that a refusal tells, as it would be typed in; None where it tells none."""
    found: list[tuple[float, object]] = []
    for fault in refused.faults:
        for words in offers(fault):
            if number.is_length:
                found.append((0.0, words))
            elif not any(sign.isalpha() and sign != "e" for sign in words):
                given = float(words)
                found.append(
                    (way * given, round(given) if number.is_whole and given == round(given) else given)
                )
    new = [one for one in found if one[1] not in tried]
    return max(new, key=lambda one: one[0])[1] if new else None


def _check_answer(study: Study) -> None:
    check_solids(study)
    for finding in (*study.findings, *study.facts):
        assert finding.level <= Level.FAULT
        assert "could not be made" not in finding.what, finding
        assert str(finding).isprintable(), finding
        assert not {"nan", "inf", "None"} & set(str(finding).replace(",", " ").split()), finding


def main() -> int:
    tally: Counter[str] = Counter()
    for named in sys.argv[1:] or map(str, sorted(_DEMOS.glob("*.toml"))):
        file = (
            LampFile.from_text(random_lamp(int(named)), f"random {named}", FOLDER)
            if named.isdecimal()
            else LampFile.read(named)
        )
        try:
            _ = _whole(file)
        except LampError:
            tally["refused as they are"] += 1
            continue
        for line in ask_extremes(file, tally):
            print(line, flush=True)
        told = ", ".join(f"{many} {what}" for what, many in sorted(tally.items()))
        print(f"to {named}: {told}; {time.process_time():.0f} s of CPU", flush=True)
    return int(tally["wrong"] > 0)


if __name__ == "__main__":
    sys.exit(main())
