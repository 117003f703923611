"""Cautions and faults of a lamp, with the mends that were tried and hold."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from stackview.change.bare import mend_bare
from stackview.change.mend import Mend, Mended
from stackview.change.proposed import mend_as_proposed
from stackview.change.trial import Bench, NoTrialsLeftError
from stackview.description.lamp import Eye
from stackview.findings import Finding, Level
from stackview.study import Study

MOST_TRIALS = 240
"""Variants of a lamp that are rebuilt for one finding, at most."""
_RAN_OUT = f"None found: not looked further after {MOST_TRIALS} variants of the lamp."


@dataclass(slots=True)
class Mending:
    """Looks for the mends of one lamp's findings, each when it is asked for."""

    study: Study
    _bench: Bench | None = None
    _bare: dict[Finding, Mended] = field(default_factory=dict)

    def of(self, finding: Finding) -> Mended | None:
        """What mends a finding; None for notes, for what no number of the file could mend, and without a file."""
        if self.study.file is None or finding.level < Level.CAUTION:
            return None
        if finding.check == "bare light":
            self._look_for_bare()
            return self._bare[finding]
        if finding.ways:
            try:
                return mend_as_proposed(
                    Bench(self.study, MOST_TRIALS, as_it_stands=False), finding, self.study.findings
                )
            except NoTrialsLeftError:
                return Mended((), _RAN_OUT)
        return None

    def _look_for_bare(self) -> None:
        """The eye that sees most comes first: what serves it may serve the others."""
        if self._bare:
            return
        told: dict[Mend, None] = {}
        for finding in sorted(self.study.findings, key=lambda each: -(each.value or 0.0)):
            if finding.check == "bare light" and finding.level >= Level.CAUTION:
                self._bare[finding] = found = self._mended(finding, tuple(told))
                told.update(dict.fromkeys(found.mends))

    def _mended(self, finding: Finding, told: tuple[Mend, ...]) -> Mended:
        bench = self._fresh()
        try:
            return mend_bare(bench, _eye(self.study, finding), self.study.findings, told)
        except NoTrialsLeftError:
            return Mended((), _RAN_OUT)

    def _fresh(self) -> Bench:
        """The lamp's bench, with trials enough for one more finding: variants that it has seen cost nothing."""
        self._bench = self._bench or Bench(self.study, 0)
        self._bench.left = MOST_TRIALS
        return self._bench


def mends(study: Study) -> Iterator[tuple[Finding, Mended]]:
    """Findings that could be mended, worst first, each with what was found.

    A lamp that comes from no file has no numbers to change, and one without cautions and faults is not
    rebuilt at all.
    """
    mending = Mending(study)
    for finding in study.findings:
        found = mending.of(finding)
        if found is not None:
            yield finding, found


def _eye(study: Study, finding: Finding) -> Eye:
    return next(eye for eye in study.lamp.eyes if finding.where == f'eye "{eye.name}"')
