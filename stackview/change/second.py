"""Numbers to change beside a mend that lets in bare light, so that the light stays hidden."""

from collections.abc import Iterator

from stackview.change.bare import mend_bare
from stackview.change.mend import Mend, NewNumber
from stackview.change.trial import Bench, NoTrialsLeftError
from stackview.findings import Finding
from stackview.study import Study

_MOST_TRIALS = 120
"""Variants that are rebuilt for one eye, at most."""


def with_light_hidden(study: Study, mend: Mend, known: tuple[Mend, ...] = ()) -> Mend | None:
    """A mend together with numbers that hide the light which it lets in; None where none were found.

    Mends of the lamp's own bare light that are ``known`` are tried first; then it is looked for on the
    lamp as mended. Nothing else may come with them.
    """
    shown = next(finding for finding in mend.new if finding.is_bare_light)
    for more in {tuple(each.changes.items()): each for each in known}.values():
        if mend.changes.keys() & more.changes.keys():
            continue
        both = Bench(study, 1, as_it_stands=False).changed({**mend.changes, **more.changes})
        if both is not None and next(both.brings(study.findings, shown), None) is None:
            stack, was = both.study.stack, study.stack
            points = len(both.study.light.points) - len(study.light.points)
            return _together(mend, more.numbers, stack.height - was.height, stack.grams - was.grams, points)
    for more in _found_anew(study, mend, known):
        if not (more.new or more.worse) and not mend.changes.keys() & more.changes.keys():
            height, grams = mend.height + more.height, mend.grams + more.grams
            return _together(mend, more.numbers, height, grams, mend.points + more.points)
    return None


def _together(mend: Mend, numbers: tuple[NewNumber, ...], height: float, grams: float, points: int) -> Mend:
    does = f"{mend.does}, and its light stays hidden"
    return Mend(mend.numbers + numbers, does, height, grams, points=points)


def _found_anew(study: Study, mend: Mend, known: tuple[Mend, ...]) -> Iterator[Mend]:
    """Mends of the light on the lamp as mended, held against the lamp's own findings: known numbers first, then any."""
    mended = study.changed(mend.changes)
    paths = {path for each in known for path in each.changes}
    for eye in mended.lamp.eyes:
        if any(_is_of(finding, eye.name) for finding in mend.new):
            try:
                if paths:
                    yield from mend_bare(Bench(mended, _MOST_TRIALS), eye, study.findings, paths=paths).mends
                yield from mend_bare(Bench(mended, _MOST_TRIALS), eye, study.findings).mends
            except NoTrialsLeftError:
                return


def _is_of(finding: Finding, eye: str) -> bool:
    return finding.is_bare_light and finding.where == f'eye "{eye}"'
