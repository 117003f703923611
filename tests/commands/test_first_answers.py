"""What the first screen tells is what the study tells, on as many cores as there are."""

import os
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from stackview.at_once import AtOnce, one_by_one, split_off
from stackview.change.evening import is_spotty
from stackview.change.mends import Mending
from stackview.commands.first_answers import FirstAnswers
from stackview.findings import Level
from stackview.kept import is_kept
from stackview.spots.eye_spots import spots_by_rounds
from stackview.study import Study
from tests.change.spotty import LAMP
from tests.checks.written import SOUND

OPAL = LAMP.replace("SORT", "opal")
HUNGRY = SOUND.replace('port = "usb charger"', 'port = "usb 2.0"').replace(
    "watts_per_metre = 4", "watts_per_metre = 12"
)


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    if sys.platform == "linux":
        monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 1})


@pytest.mark.parametrize(("text", "at_once"), [(OPAL, split_off), (HUNGRY, one_by_one), (HUNGRY, split_off)])
def test_answers_are_the_studys_own_each_shown_in_its_turn(
    tmp_path: Path, text: str, at_once: AtOnce
) -> None:
    file = tmp_path / "lamp.toml"
    file.write_text(text, encoding="utf-8")
    study, plain, told = Study.read(file, at_once=at_once), Study.read(file), list[str]()
    mending = Mending(study)
    answers = FirstAnswers(study, mending)
    answers.looked(partial(told.append, "looked"), glows=text is OPAL)
    answers.checked()
    assert study.findings == plain.findings
    assert study.facts == plain.facts
    faults = [finding for finding in study.findings if finding.level == Level.FAULT]
    assert len(faults) == (text is HUNGRY)
    answers.helped(faults, partial(told.append, "helped"))
    assert told == ["looked", "helped"]
    assert is_kept(study, "spots") == (text is OPAL)
    if text is OPAL:
        assert study.spots == plain.spots
        # Where a first look tells of spots, and nothing is to be mended, what evens them out has been begun.
        first = next(spots_by_rounds(plain.stack, plain.light, plain.sightlines.eyes))
        assert is_kept(study, "light_leaving") == any(map(is_spotty, first))
    assert [mending.of(fault) for fault in faults] == [Mending(plain).of(fault) for fault in faults]


def test_what_is_known_is_not_worked_out_again(tmp_path: Path) -> None:
    file = tmp_path / "lamp.toml"
    file.write_text(HUNGRY, encoding="utf-8")

    def refuses(works: list[Callable[[], object]]) -> list[object]:
        assert len(works) == 1, "only what shows what is known"
        return one_by_one(works)

    study = Study.read(file, at_once=refuses)  # type: ignore[arg-type]
    known, told = study.checked, list[str]()
    answers = FirstAnswers(study, Mending(study))
    answers.looked(partial(told.append, "looked"), glows=False)
    answers.checked()
    assert study.checked is known
    assert told == ["looked"]
