"""Trials: what is refused, what is the same finding, what is new."""

from dataclasses import replace

import pytest

from stackview.change import trial
from stackview.change.trial import Bench, NoTrialsLeftError, is_same, made_worse, new_findings
from stackview.findings import Bound, Finding, Level
from stackview.solids import build
from stackview.study import Study
from tests.change.demos import DEMOS, study


def test_a_change_that_the_file_refuses_or_that_stands_otherwise_is_none() -> None:
    bench = Bench(study("moor-drum"), 9)
    assert bench.changed({"groups.open-tier.ring.thickness": 9.9}) is not None
    assert bench.changed({"groups.open-tier.ring.wall": 70}) is None
    # a narrow wall: the spacers fall through the ring, and the lamp "hides" its light by being lower
    assert bench.changed({"groups.open-tier.ring.wall": 4.5}) is None
    assert bench.left == 6


def test_what_was_tried_costs_nothing_again_and_trials_end() -> None:
    bench = Bench(study("moor-drum"), 1)
    one = bench.changed({"groups.open-tier.ring.thickness": 9.9})
    assert bench.changed({"groups.open-tier.ring.thickness": 9.9}) is one
    with pytest.raises(NoTrialsLeftError):
        bench.changed({"groups.open-tier.ring.thickness": 10.0})


def test_of_many_rebuilt_lamps_the_last_are_kept_and_the_others_made_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    source = study("moor-drum")
    monkeypatch.setattr(trial, "_MOST_PARTS", 2 * len(source.stack.placed))
    bench = Bench(source, 3)
    asked = [{"groups.open-tier.ring.thickness": thick} for thick in (9.7, 9.8, 9.9)]
    first, second, third = (bench.changed(each) for each in asked)
    assert first is not None
    assert (bench.changed(asked[1]), bench.changed(asked[2])) == (second, third)
    again = bench.changed(asked[0])
    assert again is not None
    assert again is not first
    assert again.study.stack.height == first.study.stack.height
    assert bench.left == 0


def test_a_finding_with_other_numbers_is_the_same_one() -> None:
    was = Finding("walls", Level.CAUTION, "base", "only 4.35 mm of wall is left")
    now = Finding("walls", Level.CAUTION, "base", "only 3 mm of wall is left")
    graver = Finding("walls", Level.FAULT, "base", "only 0 mm of wall is left")
    note = Finding("walls", Level.NOTE, "cap", "something")
    assert is_same(was, now)
    assert new_findings((was,), (now, note)) == ()
    assert new_findings((was,), (now, graver)) == (graver,)


def floor(left: float, where: str = "base", *, level: Level = Level.CAUTION) -> Finding:
    return Finding(
        "walls", level, where, f"only {left:g} mm of floor is left", left, "mm", 2.0, bound=Bound.LEAST
    )


@pytest.mark.parametrize(
    ("was", "now", "is_worse"),
    [
        # 0.5 past the limit, then 0.6, 0.75 and 0.8
        (1.5, 1.4, False),
        (1.5, 1.25, False),
        (1.5, 1.2, True),
        (1.5, 1.9, False),
        # half as much again, but hardly anything
        (1.99, 1.97, False),
    ],
)
def test_what_is_past_its_limit_by_half_as_much_again_is_worse(
    was: float, now: float, is_worse: bool
) -> None:
    assert bool(made_worse((floor(was),), (floor(now),))) is is_worse
    most, less = (
        (Finding("heat", Level.CAUTION, "cap", "warm", 4.0 - each, "°C", 2.0, bound=Bound.MOST))
        for each in (was, now)
    )
    assert bool(made_worse((most,), (less,))) is is_worse


def test_worse_is_held_against_the_same_place_and_only_where_it_is_known() -> None:
    known = (floor(1.5), floor(0.5, "cap"))
    assert made_worse(known, (floor(0.6),)) == (floor(0.6),)
    assert made_worse(known, (floor(0.4, "cap"),)) == ()
    assert made_worse((), (floor(0.6),)) == ()
    assert made_worse((floor(1.5, level=Level.NOTE),), (floor(0.6, level=Level.NOTE),)) == ()
    told = Finding("walls", Level.CAUTION, "base", "something")
    assert made_worse((told,), (told,)) == ()


def test_a_cause_is_the_same_whatever_its_amount() -> None:
    was, now = (
        Finding(
            "seat",
            Level.FAULT,
            "plate in base",
            f"it reaches {by} mm in",
            cause=f"clearance {by} about a Regular",
        )
        for by in (0.2, 0.015)
    )
    assert is_same(was, now)
    assert not is_same(was, replace(now, cause="clearance 0.015 about a Circle"))
    taken, less = (
        replace(was, check="overlap", cause=f"core through cap by {by} mm³") for by in ("7.3e+03", "12")
    )
    assert is_same(taken, less)
    # a number that tells one place from another counts
    assert not is_same(*(replace(was, cause=f"wall between opening {number} and edge") for number in (1, 2)))


def test_checks_asked_one_by_one_find_what_the_study_finds() -> None:
    source = study("moor-drum")
    change = {"groups.open-tier.spacers.thickness": 9.0, "light.diode.watts": 9}
    variant = Bench(source, 1, as_it_stands=False).changed(change)
    assert variant is not None
    whole = Study(source.changed(change).file or source.lamp)
    new = new_findings(source.findings, whole.findings)
    assert new
    assert variant.brought(source.findings) == new
    assert set(variant.brings(source.findings)) == set(new)
    likely = next(iter(variant.brings(source.findings, new[-1])))
    assert likely.check == new[-1].check


def test_a_change_that_moves_no_body_keeps_the_sightlines() -> None:
    source = study("moor-drum")
    bench = Bench(source, 2, as_it_stands=False)
    fed, higher = bench.changed({"light.diode.watts": 1.5}), bench.changed({"light.diode.diode.height": 4.0})
    assert fed is not None
    assert higher is not None
    assert fed.study.sightlines is source.sightlines
    assert higher.study.sightlines is not source.sightlines


def test_bodies_made_anew_are_still_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    source = Study.read(DEMOS / "moor-drum.toml")
    lines = source.sightlines
    # Solids that nobody asked for in a while are let go: here all of them at once.
    monkeypatch.setattr(build, "_as_cut", build._made)
    fed = Bench(source, 1, as_it_stands=False).changed({"light.diode.watts": 1.5})
    assert fed is not None
    pairs = list(zip(fed.study.stack.placed, source.stack.placed, strict=True))
    assert any(one.solid is not other.solid for one, other in pairs)
    assert fed.study.sightlines is lines
