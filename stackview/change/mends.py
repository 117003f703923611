"""Cautions and faults of a lamp, and spots on its acrylic, with the mends that were tried and hold."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from math import inf

from stackview.at_once import AtOnce
from stackview.change.bare import mend_bare
from stackview.change.evening import by_light_and_shape, by_sheets, is_spotty, seen_by_all
from stackview.change.mend import Mend, Mended, NewNumber
from stackview.change.proposed import mend_as_proposed
from stackview.change.second import with_light_hidden
from stackview.change.trial import Bench, NoTrialsLeftError
from stackview.findings import Finding, Level
from stackview.glow.spot_words import SOFT
from stackview.spots.eye_spots import EyeSpots
from stackview.study import Study

_MOST_TRIALS = 240
"""Variants of a lamp that are rebuilt for one finding, at most."""
_ENOUGH = 2
"""No further change that evens out spots is looked for once so many hold."""
_RAN_OUT = f"None found: not looked further after {_MOST_TRIALS} variants of the lamp."


@dataclass(slots=True)
class _Looked:
    """Mends that are found one by one, each looked for when it is asked for, and kept."""

    found: list[Mend]
    more: Iterator[Mend]

    def __iter__(self) -> Iterator[Mend]:
        at = 0
        while True:
            if at == len(self.found):
                mend = next(self.more, None)
                if mend is None:
                    return
                self.found.append(mend)
            yield self.found[at]
            at += 1


@dataclass(slots=True)
class Mending:
    """Looks for the mends of one lamp's findings, each when it is asked for."""

    study: Study
    _bench: Bench | None = None
    _bare: dict[Finding, Mended] = field(default_factory=dict)
    _proposed: dict[Finding, Mended] = field(default_factory=dict)
    _others: dict[Finding, Mended] = field(default_factory=dict)
    _evened_by_sheets: dict[str, _Looked] = field(default_factory=dict)
    _evened_by_shape: dict[str, _Looked] = field(default_factory=dict)
    _told: dict[tuple[NewNumber, ...], Mend] = field(default_factory=dict)
    """Changes that even spots out, with what they do for all eyes."""

    def of(self, finding: Finding) -> Mended | None:
        """What mends a finding; None for notes, for what no number of the file could mend, and without a file."""
        if not self.is_looked_for(finding):
            return None
        if finding.is_bare_light:
            self._look_for_bare()
            return self._bare[finding]
        if finding not in self._others:
            if finding not in self._proposed:
                self._proposed[finding] = self.proposed(finding)
            self._others[finding] = self._hiding(self._proposed[finding])
        return self._others[finding]

    def is_looked_for(self, finding: Finding) -> bool:
        """Whether there are numbers to try for a finding."""
        if self.study.file is None or finding.level < Level.CAUTION:
            return False
        return finding.is_bare_light or bool(finding.ways)

    def spotty(self) -> tuple[EyeSpots, ...]:
        """Eyes that see spots or single LEDs on acrylic, the worst first; none without a file to change."""
        if self.study.file is None:
            return ()
        found = [(worst.ratio, own) for own in self.study.spots if (worst := own.worst) and is_spotty(own)]
        return tuple(own for _, own in sorted(found, key=lambda each: -each[0]))

    def evening(self, own: EyeSpots) -> Iterator[Mend]:
        """What evens out the spots that an eye sees, as it is found: sheets and finishes, then light and shape.

        Each says what it does for every eye. Where mends that were told for another one serve this one too, they are
        all that is told. No further
        one is looked for once two hold and one of them leaves no spots; the best sheet goes with what follows
        where it alone leaves some.
        """
        sheets = list[Mend]()
        for mend in map(self._seen_by_all, self.evening_by_sheets(own)):
            sheets.append(mend)
            yield mend
        left = {mend: after.ratio for mend in sheets if (after := mend.after_for(own.eye.name)) is not None}
        best = min(sheets, key=lambda mend: left.get(mend, inf), default=None)
        leaves_spots = best is not None and left.get(best, inf) >= SOFT
        if len(sheets) < _ENOUGH or leaves_spots:
            found = by_light_and_shape(
                self._evener(), own, self.study.findings, best if leaves_spots else None
            )
            most = 1 if leaves_spots else _ENOUGH - len(sheets)
            yield from map(self._seen_by_all, self._for_eye(self._evened_by_shape, own, islice(found, most)))

    def evening_by_sheets(self, own: EyeSpots, at_once: AtOnce | None = None) -> Iterator[Mend]:
        """The same by sheets and finishes alone, the best first, each with what it does for this eye.

        ``at_once`` does the first looks at them, perhaps beside other works; else the study's own does.
        """
        found = by_sheets(self._evener(), own, self.study.findings, at_once or self.study.at_once)
        return self._for_eye(self._evened_by_sheets, own, found)

    def _for_eye(self, kept: dict[str, _Looked], own: EyeSpots, found: Iterator[Mend]) -> Iterator[Mend]:
        """What is kept for an eye, or holds for it of what is kept for others, or else is found now."""
        name = own.eye.name
        if name not in kept:
            known = {mend.numbers: None for looked in kept.values() for mend in looked.found}
            told = [self._told[numbers] for numbers in known if numbers in self._told]
            mends = [mend for mend in told if mend.is_for(name)]
            kept[name] = _Looked(mends, iter(()) if mends else found)
        return iter(kept[name])

    def _seen_by_all(self, mend: Mend) -> Mend:
        """A mend for one eye with what it does for the others, who look once."""
        if mend.numbers not in self._told:
            self._told[mend.numbers] = seen_by_all(self.study, mend)
        return self._told[mend.numbers]

    def _evener(self) -> Bench:
        return Bench(self.study, _MOST_TRIALS, as_it_stands=False)

    def proposed(self, finding: Finding) -> Mended:
        """What mends a finding other than of bare light, whatever light then shows."""
        bench = Bench(self.study, _MOST_TRIALS, as_it_stands=False)
        try:
            return mend_as_proposed(bench, finding, self.study.findings)
        except NoTrialsLeftError:
            return Mended((), _RAN_OUT)

    def has_proposed(self, finding: Finding, found: Mended) -> None:
        """Know what :meth:`proposed` gave, so that it is not looked for again."""
        self._proposed[finding] = found

    def has_light_to_hide(self, finding: Finding) -> bool:
        """Whether what is known to be proposed for a finding lets in bare light, so that more is looked for."""
        mends = self._proposed[finding].mends if finding in self._proposed else ()
        return any(new.is_bare_light for mend in mends for new in mend.new)

    def _hiding(self, found: Mended) -> Mended:
        """Where a mend lets in bare light, the numbers that keep it out are sought too."""
        shown = [finding for mend in found.mends for finding in mend.new if finding.is_bare_light]
        if not shown:
            return found
        self._look_for_bare()
        known = tuple(mend for bare in self._bare.values() for mend in bare.mends)
        mends = tuple(with_light_hidden(self.study, mend, known) or mend for mend in found.mends)
        if any(finding.is_bare_light for mend in mends for finding in mend.new):
            return Mended(mends, "Of what was tried, no second number keeps that light hidden.")
        return Mended(mends, found.note)

    def _look_for_bare(self) -> None:
        """The eye that sees most comes first: what serves it may serve the others."""
        if self._bare:
            return
        told: dict[Mend, None] = {}
        for finding in sorted(self.study.findings, key=lambda each: -(each.value or 0.0)):
            if finding.is_bare_light and finding.level >= Level.CAUTION:
                self._bare[finding] = found = self._mended(finding, tuple(told))
                told.update(dict.fromkeys(found.mends))

    def _mended(self, finding: Finding, told: tuple[Mend, ...]) -> Mended:
        bench = self._fresh()
        eye = next(eye for eye in self.study.lamp.eyes if finding.where == f'eye "{eye.name}"')
        try:
            return mend_bare(bench, eye, self.study.findings, told)
        except NoTrialsLeftError:
            return Mended((), _RAN_OUT)

    def _fresh(self) -> Bench:
        """The lamp's bench, with trials enough for one more finding: variants that it has seen cost nothing."""
        self._bench = self._bench or Bench(self.study, 0)
        self._bench.left = _MOST_TRIALS
        return self._bench
