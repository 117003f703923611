"""The table of checks is whole, and finds nothing wrong with sound rings."""

from dataclasses import replace
from pathlib import Path

import pytest

from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import grave_findings, run_checks
from stackview.description.lamp import Layer
from stackview.description.lamp_file import LampFile
from stackview.description.limits_table import known_limits
from stackview.description.outline import Outline
from stackview.description.shapes import Regular
from stackview.findings import Level
from stackview.study import Study
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle, plate, pocket, ring


def test_every_check_states_question_formula_source_and_known_limits() -> None:
    names = [one.name for one in ALL_CHECKS]
    assert len(names) == len(set(names))
    for one in ALL_CHECKS:
        assert one.question.endswith("?"), one.name
        assert one.formula, one.name
        assert one.source, one.name
        assert set(one.limits) <= known_limits().keys(), one.name


def test_every_limit_is_held_by_some_check() -> None:
    assert {name for one in ALL_CHECKS for name in one.limits} == set(known_limits())


def test_ten_clearances_forgotten_are_one_fault_without_what_follows_from_it() -> None:
    hexagon = Outline(Regular(6, 88.0))
    layers: list[Layer] = [Layer("base", ASH, 10.0, circle(120.0))]
    for number in range(1, 11):
        recess = replace(pocket(hexagon, 2.0, 0.0, 3.0), fitted_to=f"plate {number}")
        layers += [ring(f"ring {number}", 120.0, 70.0, recess=recess), plate(f"plate {number}", hexagon)]
    found = run_checks(subject_of(*layers), ALL_CHECKS)
    (fault,) = [one for one in found if one.level >= Level.CAUTION and one.check in ("seat", "light leaks")]
    assert fault.parts == tuple(layer.name for layer in layers[1:])
    assert len(fault.places) == 10
    assert "plate 1 in ring 1, plate 2 in ring 2 and 8 more" in fault.where


def test_sound_rings_raise_no_alarm() -> None:
    subject = subject_of(
        Layer("base", ASH, 10.0, circle(120.0)),
        ring("ring", recess=pocket(circle(104.0), 1.5, to="plate")),
        plate("plate", circle(104.0)),
        ring("upper"),
    )
    geometry = ("heights", "seat", "overlap", "cutter reach", "walls", "line-up", "light leaks", "bare light")
    mine = tuple(one for one in ALL_CHECKS if one.name in geometry)
    assert len(mine) == len(geometry)
    assert all(one.level <= Level.NOTE for one in run_checks(subject, mine))


@pytest.mark.parametrize("name", ["moor-drum", "honeycomb"])
def test_what_may_be_asked_for_its_cautions_and_faults_alone_has_them_all(name: str) -> None:
    """Of a lamp as it is, and with a glue that does not hold acrylic."""
    file = LampFile.read(Path(__file__).parents[2] / "demos" / f"{name}.toml")
    brief = [check for check in ALL_CHECKS if check.grave is not None]
    assert brief
    grave = 0
    for own in ({}, {"glue.acrylic": "wood glue"}):
        study = Study(file.changed(own), bearings=24)
        for check in brief:
            whole = [one for one in run_checks(study, (check,)) if one.level >= Level.CAUTION]
            assert [one for one in grave_findings(study, check) if one.level >= Level.CAUTION] == whole
            grave += len(whole)
    assert grave > 0
