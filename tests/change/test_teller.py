"""Printed numbers, confirmed: what is refused, what costs, and what is said of every eye."""

from dataclasses import replace

import numpy as np

from stackview.change.candidates import Step, candidates
from stackview.change.hidden import EVENLY, Goal
from stackview.change.teller import Teller, says
from stackview.change.trial import Bench
from stackview.sight.bands import HIDDEN, Kind
from stackview.sight.eyes import look_straight
from tests.change.demos import study


def teller(name: str, trials: int = 20) -> Teller:
    source = study(name)
    seen = look_straight(source.stack, source.light.points, bearings=len(EVENLY), whole_faces=True)
    return Teller(Goal(Bench(source, trials), source.lamp.eyes[0], corners=True), seen, source.findings)


def step(name: str, path: str, towards: int, mm: float) -> Step:
    (candidate,) = [each for each in candidates(study(name), ["ring 1", "ring 2"]) if each.path == path]
    return candidate.past(mm, towards)


def test_the_printed_number_goes_on_until_it_is_confirmed() -> None:
    # 9.8 hides at 90 bearings and the file's chords; corners want 9.803 (trial of the method): 9.9
    mend = teller("moor-drum").without_cost((step("moor-drum", "groups.open-tier.ring.thickness", 1, 1.0),))
    assert mend is not None
    assert mend.changes == {"groups.open-tier.ring.thickness": 9.9}


def test_what_stands_otherwise_is_refused() -> None:
    too_thick = step("moor-drum", "light.diode.diode.height", 1, 400.0)
    assert teller("moor-drum").at_a_cost((too_thick,)) is None


def test_what_every_eye_sees_is_said() -> None:
    told = teller("moor-drum")
    own = told.seen[0]
    other = replace(own, eye=replace(own.eye, name="standing"))
    none = replace(own, kind=np.full_like(own.kind, HIDDEN), part_bare=np.zeros_like(own.part_bare))
    shown = replace(other, kind=np.full_like(own.kind, Kind.BARE))
    gone = replace(none, eye=other.eye)
    name = own.eye.name
    assert says(told.goal, (own, other), (none, gone)) == (
        f'hides it from eye "{name}", all round; eye "standing" sees none any more'
    )
    assert says(told.goal, (own, other), (none, shown)) == (
        f'hides it from eye "{name}", all round; eye "standing" still sees 1'
    )
    assert says(told.goal, (own, gone), (none, shown)) == (
        f'hides it from eye "{name}", all round; eye "standing" then sees 1'
    )
