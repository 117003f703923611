"""What resolving has at hand: the lamp's own values, or the defaults; materials by name."""

from pathlib import Path
from typing import Any

import pytest

from stackview.description import defaults
from stackview.description.context import Context, mm_or
from stackview.description.faults import Faults
from stackview.description.material import Length
from stackview.description.written_lamp import WrittenLamp
from tests.lamps import WOOD


def context(**fields: Any) -> Context:
    written = WrittenLamp.model_validate({"name": "lamp", **fields}, context={"unit": "in"})
    return Context(written, Path(), False, Faults())


def test_a_length_or_what_stands_for_it() -> None:
    assert mm_or(Length(3.2, "1/8 in"), 5.0) == 3.2
    assert mm_or(Length(0.0, "0"), 5.0) == 0.0
    assert mm_or(None, 5.0) == 5.0


def test_cutter_and_clearance_are_the_lamps_own_or_the_usual_ones() -> None:
    # An eighth of an inch across is 25.4/16 mm from the middle (the international inch of 1959).
    assert context(cutter=0.125).cutter_radius == pytest.approx(25.4 / 16)
    assert context(clearance="0.1 mm").clearance == 0.1
    assert context().cutter_radius == defaults.CUTTER.number / 2 == pytest.approx(25.4 / 16)
    assert context().clearance == defaults.CLEARANCE.number


def test_a_material_is_found_or_missed_once() -> None:
    found = context()
    found.materials["ash"] = WOOD
    assert found.material("ash", "layer") is WOOD
    assert found.faults.all() == ()
    assert found.material("asj", "layer") is None
    (fault,) = found.faults.all()
    assert fault.where == "layer"
    assert fault.what == 'no material "asj" under [materials]; did you mean "ash"? known: "ash"'


def test_a_material_that_could_not_be_read_is_not_missed() -> None:
    found = context()
    found.faults.lost["material"] = {"ash"}
    found.materials["elm"] = None
    assert found.material("ash", "layer") is None
    assert found.material("elm", "layer") is None
    assert found.faults.all() == ()
