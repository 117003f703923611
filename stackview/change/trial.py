"""One change of a lamp's file, tried: the lamp rebuilt, and what then is otherwise."""

import operator
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stackview.change.closely import finely_built, looked_closely
from stackview.change.printed import Typed
from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import Check, grave_findings, run_checks
from stackview.description.lamp import Eye
from stackview.errors import LampError
from stackview.findings import Bound, Finding, Level
from stackview.kept import keep
from stackview.light.points import LightPoints
from stackview.sight.beams import untraced
from stackview.sight.eyes import Seen
from stackview.sight.summary import sightlines
from stackview.stack.assembly import Stack
from stackview.study import Study

Changes = Mapping[str, Typed]
"""Values by their paths in the lamp's file, as they are typed."""


class NoTrialsLeftError(Exception):
    """As many variants have been tried as one lamp may cost."""


_Key = tuple[tuple[str, Typed], ...]
_HALF_AGAIN, _HARDLY = 1.5, 0.02
"""What is past its limit by this much more counts as worse; not by less than this, or this share of the limit."""
_MOST_PARTS = 6000
"""Parts of all rebuilt lamps that are kept for being asked once more: some 0.1 MB each. Others are rebuilt again."""


@dataclass(slots=True, eq=False)
class Rebuilt:
    """The lamp rebuilt with a change, asked one check after another, each once."""

    study: Study
    _found: dict[str, tuple[Finding, ...]] = field(default_factory=dict)
    _grave: dict[str, tuple[Finding, ...]] = field(default_factory=dict)
    _fine: Stack | None = None
    _looks: dict[Eye, Seen] = field(default_factory=dict)

    def closely(self, eye: Eye) -> Seen:
        """What an eye sees of it, looked at closely."""
        if eye not in self._looks:
            self._fine = self._fine or finely_built(self.study)
            self._looks[eye] = looked_closely(self._fine, eye)
        return self._looks[eye]

    def found(self, check: Check) -> tuple[Finding, ...]:
        """What one check finds of it."""
        if check.name not in self._found:
            self._found[check.name] = run_checks(self.study, (check,))
        return self._found[check.name]

    def grave(self, check: Check) -> tuple[Finding, ...]:
        """What one check finds of it; notes and facts may be left out."""
        if check.name not in self._grave:
            whole = check.grave is None or check.name in self._found
            self._grave[check.name] = self.found(check) if whole else grave_findings(self.study, check)
        return self._grave[check.name]

    def brings(self, before: tuple[Finding, ...], likely: Finding | None = None) -> Iterator[Finding]:
        """Cautions and faults that the lamp did not have, or has much worse now, as they are found.

        What costs least to ask comes first.
        Where one is ``likely`` to come, for it came with a change like this, its check is asked before all others.
        """
        for check in sorted(ALL_CHECKS, key=lambda check: 0 if _is_by(likely, check) else _costs(check)):
            yield from new_findings(before, self.grave(check))
            yield from made_worse(before, self.grave(check))

    def brought(self, before: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """Those that the lamp did not have, in the order in which they would be told."""
        found = (each for check in ALL_CHECKS for each in new_findings(before, self.grave(check)))
        return tuple(sorted(found, key=lambda each: -each.level))

    def worsened(self, before: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """Those that the lamp has much worse now, in the order in which they would be told."""
        found = (each for check in ALL_CHECKS for each in made_worse(before, self.grave(check)))
        return tuple(sorted(found, key=lambda each: -each.level))


_DEAR = ("line-up", "heat", "cable", "glue", "light", "bare light", "light leaks")
"""Checks that cost most, the dearest last: most follow lines of light."""


def _costs(check: Check) -> int:
    return _DEAR.index(check.name) + 2 if check.name in _DEAR else 1


def _is_by(finding: Finding | None, check: Check) -> bool:
    return finding is not None and finding.check in (check.name, *check.also)


def is_again(one: Finding | None, other: Finding | None) -> bool:
    """Whether a change brings what one before it brought."""
    return one is not None and other is not None and (one.check, one.where) == (other.check, other.where)


@dataclass(slots=True)
class Bench:
    """Where changes of one lamp are tried; ``left`` is how many more trials it may cost."""

    study: Study
    left: int
    as_it_stands: bool = True
    """Whether each layer has to rest on the one that it rests on now, and as many light points have to shine."""
    _known: dict[_Key, Rebuilt | None] = field(default_factory=dict)
    """Those asked for last stand last."""
    _tried: set[_Key] = field(default_factory=set)

    def changed(self, changes: Changes) -> Rebuilt | None:
        """The lamp rebuilt; None where the file's rules refuse it, or where it stands otherwise than before.

        Layers then rest on the same ones, and as many light points shine.

        Raises
        ------
        NoTrialsLeftError
            the lamp has had its trials
        """
        key = tuple(sorted(changes.items()))
        if key not in self._tried:
            if not self.left:
                raise NoTrialsLeftError
            self.left -= 1
            self._tried.add(key)
        self._known[key] = self._known.pop(key) if key in self._known else self._rebuilt(changes)
        self._let_go()
        return self._known[key]

    def _let_go(self) -> None:
        """Let those go that were asked for longest ago, where all hold more parts than is fair to keep."""
        parts = {key: len(made.study.stack.placed) for key, made in self._known.items() if made is not None}
        held = sum(parts.values())
        for key in list(parts)[:-1]:
            if held <= _MOST_PARTS:
                return
            held -= parts[key]
            del self._known[key]

    def _rebuilt(self, changes: Changes) -> Rebuilt | None:
        try:
            study = self.study.changed(changes)
            same = not self.as_it_stands or (
                study.stack.rests_on == self.study.stack.rests_on
                and len(study.light.points) == len(self.study.light.points)
            )
            _ = study.stack, study.light
        except LampError:
            return None
        if not same:
            return None
        if _looks_alike(study, self.study):
            keep(study, sightlines=self.study.sightlines)
            return Rebuilt(study)
        # Checks ask for the middles of faces alone. Light through clear acrylic makes notes, no cautions, and is
        # not traced.
        lines = sightlines(study.stack, study.light.points.middles(), bearings=study.bearings)
        keep(lines, beams=untraced(lines.scene, lines.points))
        keep(study, sightlines=lines)
        return Rebuilt(study)


def _looks_alike(one: Study, other: Study) -> bool:
    """Whether two studies have the same bodies and light points in the same places, and the same eyes."""
    bodies = ([(part.name, part.finish, part.film) for part in each.stack.placed] for each in (one, other))
    # Solids are compared by what they are: one kept for long may have been let go, and made anew since.
    solids = zip(*([part.solid for part in each.stack.placed] for each in (one, other)), strict=False)
    points = (each.light.points for each in (one, other))
    places = ((each.stack.floor, each.lamp.surface, each.lamp.eyes) for each in (one, other))
    return (
        operator.eq(*places)
        and operator.eq(*bodies)
        and all(solid.is_alike(before) for solid, before in solids)
        and all(np.array_equal(*pair) for pair in zip(*map(_where, points), strict=True))
    )


def _where(points: LightPoints) -> tuple[NDArray[np.float64], ...]:
    return points.centres, points.directions, points.beams, points.corners


def without_numbers(finding: Finding) -> str:
    """What a finding says, its numbers left out."""
    return re.sub(r"[-+]?\d[\d./-]*", "#", finding.what)


def is_same(one: Finding, other: Finding) -> bool:
    """Whether two findings, of a lamp and of a variant, are one: of one level and cause, or of the same words and parts."""
    if (one.check, one.level) != (other.check, other.level):
        return False
    if one.is_bare_light and other.is_bare_light:
        return one.where == other.where
    if one.where == other.where:
        return _cause(one) == _cause(other) if one.cause else without_numbers(one) == without_numbers(other)
    return bool(_parts(one) & _parts(other)) and (
        _cause(one) == _cause(other) if one.cause else _words(one) == _words(other)
    )


def _cause(finding: Finding) -> str:
    """What brings it about, without how much: a clearance, or a volume by which parts overlap."""
    return re.sub(r"\b(clearance|by) [\d.e+-]+", r"\1", finding.cause)


def _parts(finding: Finding) -> set[str]:
    return set(finding.parts) or set(re.split(r"; (?:and )?|, (?:to )?| and | on | in ", finding.where))


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


def made_worse(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Cautions and faults that the lamp had, and that a variant has much worse: past their limit by half as much again."""
    return tuple(
        each
        for each in after
        if each.level >= Level.CAUTION
        and not each.is_bare_light
        and _is_worse(each, [known for known in before if is_same(each, known)])
    )


def _is_worse(each: Finding, known: list[Finding]) -> bool:
    """Whether a finding is past its limit by much more than all that are the same, of its own place where there are."""
    known = [one for one in known if one.where == each.where] or known
    past, were = _past(each), [_past(one) for one in known]
    if past is None or each.limit is None or not were:
        return False
    least = max(_HARDLY * abs(each.limit), _HARDLY)
    return all(was is not None and past > _HALF_AGAIN * was and past - was > least for was in were)


def _past(finding: Finding) -> float | None:
    """How far a finding's value is past its limit; None where it has none."""
    if finding.value is None or finding.limit is None:
        return None
    by = {Bound.LEAST: finding.limit - finding.value, Bound.MOST: finding.value - finding.limit}
    return None if finding.bound is None else by.get(finding.bound)


def _shows_more(one: Finding, known: Finding) -> bool:
    return one.is_bare_light and (one.value or 0.0) > (known.value or 0.0)
