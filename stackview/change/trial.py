"""One change of a lamp's file, tried: the lamp rebuilt, and what then is otherwise."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from stackview.change.printed import Typed
from stackview.errors import LampError
from stackview.findings import Finding, Level
from stackview.kept import keep
from stackview.sight.summary import sightlines
from stackview.study import Study

Changes = Mapping[str, Typed]
"""Values by their paths in the lamp's file, as they are typed."""


class NoTrialsLeftError(Exception):
    """As many variants have been tried as one lamp may cost."""


@dataclass(slots=True)
class Bench:
    """Where changes of one lamp are tried; ``left`` is how many more trials it may cost."""

    study: Study
    left: int
    as_it_stands: bool = True
    """Whether each layer has to rest on the one that it rests on now."""
    _known: dict[tuple[tuple[str, Typed], ...], Study | None] = field(default_factory=dict)

    def changed(self, changes: Changes) -> Study | None:
        """The lamp rebuilt; None where the file's rules refuse it, or where it stands otherwise than before.

        Layers rest on the same ones, and as many light points shine.

        Raises
        ------
        NoTrialsLeftError
            the lamp has had its trials
        """
        key = tuple(sorted(changes.items()))
        if key not in self._known:
            if not self.left:
                raise NoTrialsLeftError
            self.left -= 1
            self._known[key] = self._rebuilt(changes)
        return self._known[key]

    def _rebuilt(self, changes: Changes) -> Study | None:
        try:
            study = self.study.changed(changes)
            stands = not self.as_it_stands or study.stack.rests_on == self.study.stack.rests_on
            same = stands and len(study.light.points) == len(self.study.light.points)
        except LampError:
            return None
        if not same:
            return None
        # finalists are asked for findings: from the middles of faces, each part only when a check asks for it
        keep(study, sightlines=sightlines(study.stack, study.light.points.middles(), bearings=study.bearings))
        return study


def without_numbers(finding: Finding) -> str:
    """What a finding says, its numbers left out."""
    return re.sub(r"[-+]?\d[\d./-]*", "#", finding.what)


def is_same(one: Finding, other: Finding) -> bool:
    """Whether two findings, of a lamp and of a variant, are one: of one level and cause, or of the same words and parts."""
    if (one.check, one.level) != (other.check, other.level):
        return False
    if one.check == "bare light":
        return one.where == other.where
    if one.where == other.where:
        return one.cause == other.cause if one.cause else without_numbers(one) == without_numbers(other)
    return bool(_parts(one) & _parts(other)) and (
        one.cause == other.cause if one.cause else _words(one) == _words(other)
    )


def _parts(finding: Finding) -> set[str]:
    return set(finding.parts) or set(re.split(r", (?:to )?| and | on | in ", finding.where))


def _words(finding: Finding) -> str:
    """What it says without numbers and without the part that is the worst of several."""
    return re.sub(r"(grain of) [^;]*|\(the worst of .*", r"\1", without_numbers(finding))


def new_findings(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Cautions and faults of a variant that the lamp did not have, and light that shows more than it did."""
    return tuple(
        each
        for each in after
        if each.level >= Level.CAUTION
        and not any(is_same(each, known) and not _shows_more(each, known) for known in before)
    )


def _shows_more(one: Finding, known: Finding) -> bool:
    return one.check == "bare light" and (one.value or 0.0) > (known.value or 0.0)
