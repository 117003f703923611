"""Mends of a lamp: for what they are looked for, and that they are told where findings are."""

import json
import random

import pytest

from stackview.change.mend import Mended
from stackview.change.mends import Mending
from stackview.change.trial import is_same, made_worse, new_findings
from stackview.description.lamp_file import LampFile
from stackview.errors import LampError
from stackview.findings import Finding, Level
from stackview.kept import keep
from stackview.study import Study
from tests.change.demos import DEMOS, NAMES, mended, mending, study
from tests.change.flawed import FLAWED


def test_a_lamp_from_no_file_has_no_mends() -> None:
    source = Study(study("moor-drum").lamp)
    assert any(finding.check == "bare light" for finding in source.findings)
    assert list(mended(source)) == []


def test_a_lamp_without_cautions_is_not_rebuilt() -> None:
    source = Study.read(DEMOS / "moor-drum.toml").changed({"groups.open-tier.ring.thickness": 9.9})
    assert all(finding.level < Level.CAUTION for finding in source.findings)
    quiet = Mending(source)
    assert all(quiet.of(finding) is None for finding in source.findings)
    assert quiet._bench is None


@pytest.mark.slow
def test_one_change_that_serves_both_eyes_is_told_for_both() -> None:
    one, two = (mending("honeycomb").of(f) for f in study("honeycomb").findings if f.check == "bare light")
    assert one is not None
    assert two is not None
    assert [mend.changes for mend in one.mends] == [mend.changes for mend in two.mends]
    assert "one too" in one.note + two.note


def test_records_are_plain() -> None:
    for _, found in mended(study("moor-drum")):
        json.dumps([mend.record() for mend in found.mends], allow_nan=False)


def holds(source: Study, finding: Finding, found: Mended) -> None:
    """Type in every mend of a finding: it is gone, and nothing new has come but what the mend says."""
    for mend in found.mends:
        variant = source.changed(mend.changes)
        left = [each for each in variant.findings if each.level >= Level.CAUTION and is_same(each, finding)]
        if finding.check == "bare light" or not left:
            assert not left, mend.text(source.lamp.units)
        else:
            # another finding of the same words stood beside it before
            assert len([each for each in source.findings if is_same(each, finding)]) > len(left)
        assert new_findings(source.findings, variant.findings) == mend.new
        assert made_worse(source.findings, variant.findings) == mend.worse
        assert all(each.level < Level.FAULT for each in mend.new)
        assert abs(variant.stack.height - source.stack.height - mend.height) < 1e-9
        assert len(variant.light.points) - len(source.light.points) == mend.points


def near(file: LampFile, seed: int, of: tuple[str, ...] = ("groups", "layer", "clearance")) -> Study | None:
    """A random lamp: one with some of its numbers changed by up to a fifth; None where it cannot be built."""
    chance = random.Random(seed)
    some = [each for each in file.numbers() if each.is_length and each.path.split(".")[0] in of]
    changes = {
        each.path: f"{max(each.value * chance.uniform(0.8, 1.2), 0.05):.3f} mm"
        for each in chance.sample(some, min(4, len(some)))
    }
    try:
        study = Study(file.changed(changes))
        _ = study.stack, study.light
    except LampError:
        return None
    return study


def demo(name: str) -> LampFile:
    return LampFile.read(DEMOS / f"{name}.toml")


def test_every_mend_of_a_demo_holds_as_typed() -> None:
    for finding, found in mended(study("moor-drum")):
        holds(study("moor-drum"), finding, found)


def names_paths(source: Study, found: Mended) -> None:
    """What is said before the old number is a path that the file takes, with the number as it is typed."""
    assert source.file is not None
    for mend in found.mends:
        for number in mend.numbers:
            said = number.text.partition(f" {number.old} to {number.new}")[0]
            assert said == number.path
            typed = list(number.typed) if isinstance(number.typed, tuple) else number.typed
            assert source.file.changed({said: number.typed}).value(said) == typed


def test_a_demos_mends_name_paths_of_its_file() -> None:
    for _, found in mended(study("moor-drum")):
        names_paths(study("moor-drum"), found)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_every_mend_of_every_demo_holds_as_typed(name: str) -> None:
    source = study(name)
    for finding in source.findings:
        found = mending(name).of(finding)
        if found is not None:
            holds(source, finding, found)
            names_paths(source, found)


@pytest.mark.parametrize("seed", range(2))
def test_mends_of_random_lamps_hold(seed: int) -> None:
    source = near(demo("moor-drum"), seed)
    for finding, found in mended(source) if source is not None else ():
        holds(source, finding, found)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(100, 110))
@pytest.mark.parametrize("name", NAMES)
def test_mends_of_more_random_lamps_hold(name: str, seed: int) -> None:
    source = near(demo(name), seed)
    for finding, found in mended(source) if source is not None else ():
        holds(source, finding, found)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("name", FLAWED)
def test_mends_of_random_flawed_lamps_hold(name: str, seed: int) -> None:
    source = near(LampFile.from_text(FLAWED[name][0]), seed, ("groups", "layer", "core", "post", "cord"))
    for finding, found in mended(source) if source is not None else ():
        holds(source, finding, found)


def test_a_check_of_bare_light_that_could_not_be_made_is_not_mended() -> None:
    source = Study.read(DEMOS / "moor-drum.toml")
    unmade = Finding(
        "bare light", Level.CAUTION, 'the check "bare light"', "it could not be made", is_made=False
    )
    keep(source, findings=(unmade,))
    own = Mending(source)
    assert not own.is_looked_for(unmade)
    assert own.of(unmade) is None
