"""One change of a lamp's file, tried: the lamp rebuilt, and what then is otherwise."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from stackview.errors import LampError
from stackview.findings import Finding, Level
from stackview.kept import keep
from stackview.sight.summary import sightlines
from stackview.study import Study

Changes = Mapping[str, float | str]
"""Values by their paths in the lamp's file, as they are typed."""


class NoTrialsLeftError(Exception):
    """As many variants have been tried as one lamp may cost."""


@dataclass(slots=True)
class Bench:
    """Where changes of one lamp are tried; ``left`` is how many more trials it may cost."""

    study: Study
    left: int
    _known: dict[tuple[tuple[str, float | str], ...], Study | None] = field(default_factory=dict)

    def changed(self, changes: Changes) -> Study | None:
        """The lamp rebuilt; None where the file's rules refuse it, or where it stands otherwise than before.

        Layers rest on the same ones, fit as they did, and as many light points shine.

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
            stands = study.stack.rests_on == self.study.stack.rests_on
            same = stands and len(study.light.points) == len(self.study.light.points)
        except LampError:
            return None
        if not same:
            return None
        # finalists are asked for findings: from the middles of faces, each part only when a check asks for it
        keep(study, sightlines=sightlines(study.stack, study.light.points.middles(), bearings=study.bearings))
        return study


def without_numbers(finding: Finding) -> tuple[str, Level, str, str]:
    """What makes a finding the same one in a variant: all but its numbers."""
    return finding.check, finding.level, finding.where, re.sub(r"[-+]?\d[\d./-]*", "#", finding.what)


def new_findings(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Cautions and faults of a variant that the lamp did not have."""
    known = {without_numbers(finding) for finding in before}
    return tuple(
        finding
        for finding in after
        if finding.level >= Level.CAUTION and without_numbers(finding) not in known
    )
