"""Mends for spots: which change of the file evens out what an eye sees on the acrylic, tried on the lamp rebuilt.

An eye looks at the plates on which it sees spots, from the bearing at which most shows to it of the changed lamp, as
``Study.spots_from`` has it: whoever types the change in gets the same numbers from that, and from ``Study.spots``
numbers within the errors of both.
"""

from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import inf
from typing import Any

from stackview.at_once import AtOnce, one_by_one
from stackview.change.evened import Evened, LightAndPower
from stackview.change.eveners import Means, of_sheets, of_the_rest
from stackview.change.mend import Mend, NewNumber
from stackview.change.printed import Typed
from stackview.change.trial import Bench, NoTrialsLeftError, Rebuilt, new_findings
from stackview.findings import Finding, Level
from stackview.glow.flux import power_of
from stackview.glow.spot_words import SOFT
from stackview.kept import keep
from stackview.spots import eye_spots
from stackview.spots.eye_spots import NOT_KNOWN, EyeSpots, PlateSpots, seen_by_rounds
from stackview.spots.leaving import LightLeaving
from stackview.study import Study

_WORTH = 0.8
"""A change is worth rebuilding and checking where a first look gives less than this share of the ratio."""

_Change = tuple[NewNumber, ...]


def is_spotty(own: EyeSpots) -> bool:
    """Whether an eye sees spots or single LEDs on a plate, and that is known."""
    return bool(spotty_plates(own))


def spotty_plates(own: EyeSpots) -> list[str]:
    """Names of the plates that it sees spots on."""
    return [plate.layer for plate in own.known if plate.ratio >= SOFT]


def by_sheets(
    bench: Bench, own: EyeSpots, before: tuple[Finding, ...], at_once: AtOnce = one_by_one
) -> Iterator[Mend]:
    """Finishes and sheets of the plates that even out what an eye sees, as they are found, the best first.

    They make the ratio of the eye's spottiest plate less by more than its errors, and bring no fault;
    ``before`` are the lamp's findings; ``at_once`` may do several looks together.
    """
    each = [numbers for evener in of_sheets(bench.study, spotty_plates(own)) for numbers in evener.amounts]
    if not each:
        return
    # Opal, the last of them, mostly evens best, and little light wanders in it: it is looked at in full at once.
    *others, first = each
    asked = [] if others else _asked_of(bench, first, before)
    works: list[Callable[[], Any]] = [
        partial(_left_by, bench, own, first, before),
        *asked,
        # The lamp's own light out is asked of it whichever is told.
        partial(getattr, bench.study, "light_leaving"),
        *(partial(_begun, bench, own, numbers, before) for numbers in others),
    ]
    after, *more = at_once(works)
    keep(bench.study, light_leaving=more[len(asked)])
    found = [] if after is None else [(after, first)]
    known = {first: _Come(*more[: len(asked)])} if asked else {}
    begun = [look for look in more[len(asked) + 1 :] if look is not None]
    put_off = [look for look in begun if after is not None and look.is_surely_worse(after)]
    found += _known_of([look for look in begun if look not in put_off], bench.study)
    yield from _told_of(bench, own, found, before, known)
    yield from _told_of(bench, own, _known_of(put_off, bench.study), before, {})


def _told_of(
    bench: Bench,
    own: EyeSpots,
    found: Sequence[tuple[PlateSpots, _Change]],
    before: tuple[Finding, ...],
    known: "Mapping[_Change, _Come]",
) -> Iterator[Mend]:
    """The changes that hold, the best first; of some it is ``known`` what comes with them."""
    for after, numbers in sorted(found, key=lambda each: each[0].ratio):
        mend = _tried(bench, own, numbers, before, after, known.get(numbers))
        if mend is not None:
            yield mend


@dataclass(slots=True, eq=False)
class _Look:
    """An eye's look at a change, begun; sent to another process it has to begin anew.

    first : the spottiest plate as a first look tells it, None where it tells none.
    """

    own: EyeSpots
    numbers: _Change
    first: PlateSpots | None
    _going_on: Iterator[EyeSpots] | None = None

    def is_surely_worse(self, than: PlateSpots) -> bool:
        """Whether a first look tells already that another change leaves less, by more than both errors."""
        return self.first is not None and Evened(self.own.eye.name, self.first, than).is_better

    def after(self, study: Study) -> PlateSpots | None:
        """The spottiest plate of the changed lamp after the whole look, None where that is not known; to be asked once."""
        if self._going_on is None:
            return _left_of(study, study.changed(_typed(self.numbers)), self.own)
        return _spottiest(deque(self._going_on, 1).pop())

    def __reduce__(self) -> tuple[Any, ...]:
        """What is under way stays in its process."""
        return _Look, (self.own, self.numbers, self.first)


def _begun(bench: Bench, own: EyeSpots, numbers: _Change, before: tuple[Finding, ...]) -> _Look | None:
    """A first look at a change; None where it cannot be built."""
    if _built(bench, numbers, before) is None:
        return None
    looks = _looks(bench.study, bench.study.changed(_typed(numbers)), own)
    return _Look(own, numbers, next(looks).worst, looks)


def _known_of(looks: Sequence[_Look], study: Study) -> list[tuple[PlateSpots, _Change]]:
    """What looks that have been begun find in the end, where it is known."""
    found = [(look.after(study), look.numbers) for look in looks]
    return [(after, numbers) for after, numbers in found if after is not None]


def by_light_and_shape(
    bench: Bench, own: EyeSpots, before: tuple[Finding, ...], sheet: Mend | None = None
) -> Iterator[Mend]:
    """The same by a finer pitch, more distance, other overhangs and coarser sanding: one of each, as they are found.

    Only what is good from where the eye is now is looked at further; of several amounts the greatest that can be
    built. Where a ``sheet`` alone leaves spots, each is tried together with it, and has to be surely better still.
    """
    base = () if sheet is None else sheet.numbers
    was = own.worst if sheet is None else sheet.after_for(own.eye.name)
    assert was is not None
    done: set[Means] = set()
    for evener in of_the_rest(bench.study, spotty_plates(own)):
        amounts = () if evener.means in done else (_joined(base, each) for each in evener.amounts)
        numbers = next((each for each in amounts if each and _built(bench, each, before) is not None), None)
        if numbers is None or _left_at_a_look(bench, own, numbers, before) > _WORTH * was.ratio:
            continue
        after = _left_by(bench, own, numbers, before)
        if after is None or not Evened(own.eye.name, was, after).is_better:
            continue
        mend = _tried(bench, own, numbers, before, after)
        if mend is not None:
            done.add(evener.means)
            yield mend


def _left_at_a_look(
    bench: Bench, own: EyeSpots, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> float:
    """The ratio of the spottiest of those plates after a change, from where the eye is now; infinite where none is told."""
    variant = _built(bench, numbers, before)
    if variant is None:
        return inf
    after = variant.study.spots_from(own.eye, own.bearing, layers=spotty_plates(own)).worst
    return inf if after is None else after.ratio


def _left_by(
    bench: Bench, own: EyeSpots, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> PlateSpots | None:
    """The spottiest of those plates after a change, to the eye where it then is; None where that is not known."""
    if _built(bench, numbers, before) is None:
        return None
    return _left_of(bench.study, bench.study.changed(_typed(numbers)), own)


def _left_of(study: Study, changed: Study, own: EyeSpots) -> PlateSpots | None:
    """The spottiest of the plates on which an eye saw spots, or else of all that it knew, after a change."""
    return _spottiest(deque(_looks(study, changed, own), 1).pop())


def _looks(study: Study, changed: Study, own: EyeSpots) -> Iterator[EyeSpots]:
    """Those plates as the eye sees them at a first look, and then as ``Study.spots_from`` has them."""
    # Of a lamp made afresh: trials leave out the bending of light, which may turn an eye.
    seen = next(each for each in changed.sightlines.from_middles if each.eye == own.eye)
    plates = spotty_plates(own) or [plate.layer for plate in own.known]
    bearing = float(seen.bearings[seen.worst])
    ways = ways_for(study, len(plates))
    rounds = ways // 3, ways - ways // 3
    yield from seen_by_rounds(changed.lit, own.eye, bearing, rounds, layers=plates)


def _spottiest(now: EyeSpots) -> PlateSpots | None:
    """The spottiest plate; None where any of them is not known."""
    return None if any(plate.told == NOT_KNOWN for plate in now.plates) else now.worst


def ways_for(study: Study, plates: int) -> int:
    """Ways for a look at so many plates: as many for each as ``Study.spots`` has on the mean, and never few."""
    in_all = sum(len(own.plates) for own in study.spots)
    return max(eye_spots.WAYS_IN_ALL * plates // max(in_all, 1), eye_spots.QUICK_WAYS)


def _joined(base: tuple[NewNumber, ...], more: tuple[NewNumber, ...]) -> tuple[NewNumber, ...]:
    """Two changes typed together; none where they are of one number."""
    if {number.path for number in base} & {number.path for number in more}:
        return ()
    return base + more


def _built(bench: Bench, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]) -> Rebuilt | None:
    """The lamp rebuilt; None where the file's rules refuse it, where its parts do not go together, and past all trials."""
    try:
        variant = bench.changed(_typed(numbers))
    except NoTrialsLeftError:
        return None
    if variant is None:
        return None
    new = new_findings(before, variant.study.stack.findings)
    return None if any(finding.level == Level.FAULT for finding in new) else variant


def _typed(numbers: tuple[NewNumber, ...]) -> dict[str, Typed]:
    return {number.path: number.typed for number in numbers}


def _tried(
    bench: Bench,
    own: EyeSpots,
    numbers: tuple[NewNumber, ...],
    before: tuple[Finding, ...],
    after: PlateSpots,
    come: "_Come | None" = None,
) -> Mend | None:
    """The change as a mend, if it evens out what the eye sees and brings no fault and no bare light.

    ``come`` is what is known to come with it.
    """
    study, was = bench.study, own.worst
    variant = _built(bench, numbers, before)
    if variant is None or was is None:
        return None
    evened = Evened(own.eye.name, was, after)
    if not evened.is_better:
        return None
    if come is None:
        works = _asked_of(bench, numbers, before)
        come = _Come(*study.at_once(works))
    if come.brought is None or come.leaving is None:
        return None
    changed, (new, worse) = variant.study, come.brought
    return Mend(
        numbers,
        _says((evened,)),
        changed.stack.height - study.stack.height,
        changed.stack.grams - study.stack.grams,
        new,
        len(changed.light.points) - len(study.light.points),
        (evened,),
        LightAndPower((study.light_leaving.lumens, come.leaving.lumens), _watts(study, changed)),
        worse=worse,
    )


@dataclass(frozen=True, slots=True)
class _Come:
    """What comes with a change: its light out, and what is new or worse; None where it cannot be built, or is too bad."""

    leaving: LightLeaving | None
    brought: tuple[tuple[Finding, ...], tuple[Finding, ...]] | None


def _asked_of(
    bench: Bench, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> list[Callable[[], Any]]:
    """The works that answer it."""
    return [partial(_leaving, bench, numbers, before), partial(_brought, bench, numbers, before)]


def _leaving(
    bench: Bench, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> LightLeaving | None:
    """Light that leaves the lamp after a change; None where it cannot be built."""
    variant = _built(bench, numbers, before)
    return None if variant is None else variant.study.light_leaving


def _brought(
    bench: Bench, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]] | None:
    """What is new with a change, and what is worse; None where that is a fault, or bare light, or it cannot be built."""
    variant = _built(bench, numbers, before)
    if variant is None or any(
        new.level == Level.FAULT or new.is_bare_light for new in variant.brings(before)
    ):
        return None
    return variant.brought(before), variant.worsened(before)


def seen_by_all(study: Study, mend: Mend) -> Mend:
    """A mend that was tried for one eye, with what it does for every eye that sees lit acrylic before and after."""
    changed, found = study.changed(mend.changes), []
    for own in study.spots:
        before, after = own.worst, mend.after_for(own.eye.name)
        if before is not None and after is None:
            after = _left_of(study, changed, own)
        if before is not None and after is not None:
            found.append(Evened(own.eye.name, before, after))
    return replace(mend, does=_says(tuple(found)), evened=tuple(found))


def _says(evened: tuple[Evened, ...]) -> str:
    """What becomes of those eyes that saw spots, and of those that then do."""
    better = [each.text for each in evened if each.is_better and each.before.ratio >= SOFT]
    worse = [f"but {each.text}" for each in evened if each.is_worse and each.after.ratio >= SOFT]
    return "; ".join((*better, *worse))


def _watts(study: Study, changed: Study) -> tuple[float, float] | None:
    sums = []
    for each in (study, changed):
        powers = [power_of(lit) for lit in each.light.lit]
        known = [watts for watts in powers if watts is not None]
        if len(known) < len(powers):
            return None
        sums.append(sum(known))
    return sums[0], sums[1]
