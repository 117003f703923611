"""Layers that are cut the same are told together, whatever they are called and however they are turned."""

from dataclasses import replace

from stackview.checks.alike import alike, said_once
from stackview.findings import Finding, Level
from tests.stack.layers import circle, pocket, ring


def test_names_turns_and_neighbours_do_not_matter() -> None:
    one = ring("one", recess=pocket(circle(100.0), 2.0, to="plate 1"))
    two = replace(ring("two", recess=pocket(circle(100.0), 2.0, to="plate 2")), turn=30.0)
    other = ring("other", recess=pocket(circle(100.0), 2.5))
    assert [names for _, names in alike((one, other, two))] == [("one", "two"), ("other",)]


def test_grain_matters() -> None:
    one = ring("one")
    assert len(alike((one, replace(one, name="two", grain=0.0)))) == 2


def test_findings_are_joined_in_the_stacks_order() -> None:
    layers = (ring("low"), ring("middle"), ring("high"))
    same, other = Finding("walls", Level.NOTE, "", "thin"), Finding("walls", Level.NOTE, "", "thick")
    found = said_once([(same, ("high",)), (other, ("middle",)), (same, ("low",))], layers)
    assert [(finding.what, finding.where) for finding in found] == [
        ("thin", "low and high"),
        ("thick", "middle"),
    ]
