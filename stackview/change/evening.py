"""Mends for spots: which change of the file evens out what an eye sees on the acrylic, tried on the lamp rebuilt.

Whatever is told was worked out as ``Study.spots`` of the changed file gives it, so that the numbers come back
when the change is typed in. A quick look, from the eye's own place and with the same chance, only says which
of the dearer changes are worth that.
"""

from collections.abc import Iterator
from functools import partial
from math import inf
from operator import itemgetter

from stackview.change.evened import Evened, LightAndPower
from stackview.change.eveners import Means, of_sheets, of_the_rest
from stackview.change.mend import Mend, NewNumber
from stackview.change.trial import Bench, NoTrialsLeftError, new_findings
from stackview.findings import Finding, Level
from stackview.glow.flux import power_of
from stackview.glow.spot_words import SOFT
from stackview.kept import is_kept, keep
from stackview.spots.eye_spots import NOT_KNOWN, EyeSpots
from stackview.study import Study

_WORTH = 0.8
"""A change is worth a whole look where the quick one gives less than this share of the ratio."""


def is_spotty(own: EyeSpots) -> bool:
    """Whether an eye sees spots or single LEDs on a plate, and that is known."""
    return bool(spotty_plates(own))


def spotty_plates(own: EyeSpots) -> list[str]:
    """Names of the plates that it sees spots on."""
    return [plate.layer for plate in own.known if plate.ratio >= SOFT]


def by_sheets(bench: Bench, own: EyeSpots, before: tuple[Finding, ...]) -> Iterator[Mend]:
    """Finishes and sheets of the plates that even out what an eye sees, as they are found, the best at a quick look first.

    They make the ratio of the eye's spottiest plate less by more than its errors, and bring no fault;
    ``before`` are the lamp's findings.
    """
    plates = spotty_plates(own)
    each = [numbers for evener in of_sheets(bench.study, plates) for numbers in evener.amounts]
    if len(each) > 1:
        left = bench.study.at_once(
            [partial(_left_at_a_look, bench, own, numbers, before) for numbers in each]
        )
        each = [numbers for _, numbers in sorted(zip(left, each, strict=True), key=itemgetter(0))]
    for numbers in each:
        mend = _tried(bench, own, numbers, before)
        if mend is not None:
            yield mend


def _left_at_a_look(
    bench: Bench, own: EyeSpots, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> float:
    """The ratio that a quick look gives the spottiest of those plates after a change; infinite where it tells none."""
    study = _built(bench, numbers, before)
    if study is None:
        return inf
    after = study.spots_from(own.eye, own.bearing, layers=spotty_plates(own)).worst
    return inf if after is None else after.ratio


def by_light_and_shape(
    bench: Bench, own: EyeSpots, before: tuple[Finding, ...], sheet: Mend | None = None
) -> Iterator[Mend]:
    """The same by a finer pitch, more distance, other overhangs and coarser sanding: one of each, as they are found.

    Only what is good at a quick look is looked at wholly; of several amounts the greatest that can be built.
    Where a ``sheet`` alone leaves spots, each is tried together with it, and has to be surely better still.
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
        mend = _tried(bench, own, numbers, before)
        then = None if mend is None else mend.after_for(own.eye.name)
        if mend is not None and then is not None and Evened(own.eye.name, was, then).is_better:
            done.add(evener.means)
            yield mend


def _joined(base: tuple[NewNumber, ...], more: tuple[NewNumber, ...]) -> tuple[NewNumber, ...]:
    """Two changes typed together; none where they are of one number."""
    if {number.path for number in base} & {number.path for number in more}:
        return ()
    return base + more


def _built(bench: Bench, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]) -> Study | None:
    """The lamp rebuilt; None where the file's rules refuse it, where its parts do not go together, and past all trials."""
    try:
        variant = bench.changed({number.path: number.typed for number in numbers})
    except NoTrialsLeftError:
        return None
    if variant is None:
        return None
    new = new_findings(before, variant.study.stack.findings)
    return None if any(finding.level == Level.FAULT for finding in new) else variant.study


def _tried(
    bench: Bench, own: EyeSpots, numbers: tuple[NewNumber, ...], before: tuple[Finding, ...]
) -> Mend | None:
    """The change as a mend, if it evens out what the eye sees and brings no fault and no bare light."""
    study, changes = bench.study, {number.path: number.typed for number in numbers}
    variant = None if _built(bench, numbers, before) is None else bench.changed(changes)
    if variant is None:
        return None
    if any(new.level == Level.FAULT or new.check == "bare light" for new in variant.brings(before)):
        return None
    # Afresh, as whoever types it in gets it: trials leave out the bending of light, which may turn an eye.
    changed = study.changed(changes)
    evened = _evened(study, changed)
    if not any(each.eye == own.eye.name and each.is_better for each in evened):
        return None
    stack, was = changed.stack, study.stack
    return Mend(
        numbers,
        _says(evened),
        stack.height - was.height,
        stack.grams - was.grams,
        variant.brought(before),
        len(changed.light.points) - len(study.light.points),
        evened,
        LightAndPower(_lumens(study, changed), _watts(study, changed)),
    )


def _evened(study: Study, changed: Study) -> tuple[Evened, ...]:
    """What becomes of every eye's spottiest plate; none at all where that cannot be told of an eye that saw spots."""
    found = []
    for was, now in zip(study.spots, changed.spots, strict=True):
        before, after = was.worst, now.worst
        known = {plate.layer for plate in was.plates if plate.told != NOT_KNOWN}
        if any(plate.told == NOT_KNOWN and plate.layer in known for plate in now.plates):
            if is_spotty(was):
                return ()
        elif before is not None and after is not None:
            found.append(Evened(was.eye.name, before, after))
    return tuple(found)


def _says(evened: tuple[Evened, ...]) -> str:
    """What becomes of those eyes that saw spots, and of those that then do."""
    better = [each.text for each in evened if each.is_better and each.before.ratio >= SOFT]
    worse = [f"but {each.text}" for each in evened if each.is_worse and each.after.ratio >= SOFT]
    return "; ".join((*better, *worse))


def _lumens(study: Study, changed: Study) -> tuple[float, float]:
    """Light that leaves the lamp, before and after."""
    if not is_kept(study, "light_leaving"):
        was, now = study.at_once([partial(getattr, each, "light_leaving") for each in (study, changed)])
        keep(study, light_leaving=was)
        keep(changed, light_leaving=now)
    return study.light_leaving.lumens, changed.light_leaving.lumens


def _watts(study: Study, changed: Study) -> tuple[float, float] | None:
    sums = []
    for each in (study, changed):
        powers = [power_of(lit) for lit in each.light.lit]
        known = [watts for watts in powers if watts is not None]
        if len(known) < len(powers):
            return None
        sums.append(sum(known))
    return sums[0], sums[1]
