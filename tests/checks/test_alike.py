"""Layers that are cut the same are told together, whatever they are called and however they are turned."""

from dataclasses import replace

from stackview.checks.alike import alike, said_once, told_together
from stackview.findings import Finding, Level, Place
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


def crack(where: str, wide: float, *parts: str, cause: str = "crack") -> Finding:
    return Finding(
        "light leaks", Level.CAUTION, where, f"{wide} wide", wide, "mm", 1.5, parts=parts, cause=cause
    )


def test_one_cause_is_one_finding_with_all_its_places() -> None:
    layers = tuple(ring(f"ring {n}") for n in range(12))
    every = [
        replace(crack("", 0.1 * (n + 1), f"ring {n}"), places=(Place(f"ring {n}", 1.0 * n, 0.0),))
        for n in range(12)
    ]
    (told,) = told_together(every, layers)
    # farthest from the limit of 1.5 is the narrowest
    assert told.what == "0.1 wide (the worst of 12, ring 0)"
    assert told.where == "ring 0, ring 1 and 10 more, to ring 11"
    assert told.parts == tuple(f"ring {n}" for n in range(12))
    assert [place.x for place in told.places] == [1.0 * n for n in range(12)]


def test_two_causes_two_levels_and_two_checks_stay_apart() -> None:
    one = crack("a", 0.1, "a")
    others = (
        replace(one, cause="other"),
        replace(one, level=Level.NOTE),
        replace(one, check="walls"),
        replace(one, cause="", what="else"),
    )
    assert len(told_together((one, *others), ())) == 5


def test_the_same_sentence_is_told_once() -> None:
    note = Finding("supply", Level.NOTE, "cable", "thin")
    assert told_together((note, note), ()) == (note,)
    assert len(told_together((note, replace(note, where="cord")), ())) == 2


def test_folding_again_changes_nothing() -> None:
    found = [crack("", 0.1, "b"), crack("", 0.2, "a"), crack("x in y", 0.3, "x", "y", cause="else")]
    layers = (ring("a"), ring("b"), ring("x"), ring("y"))
    once = told_together(found, layers)
    assert told_together(once, layers) == once
    assert once[0].where == "a and b"


def test_a_pair_is_named_as_the_check_names_it() -> None:
    pairs = [crack(f"plate {n} in ring {n}", 0.2, f"plate {n}", f"ring {n}") for n in (1, 2)]
    (told,) = told_together(pairs, (ring("ring 1"), ring("plate 1"), ring("ring 2"), ring("plate 2")))
    assert told.where == "plate 1 in ring 1 and plate 2 in ring 2"
    assert told.parts == ("ring 1", "plate 1", "ring 2", "plate 2")
    assert told.what == "0.2 wide"


def test_places_alike_are_said_to_be_and_the_lowest_is_named() -> None:
    layers = (ring("a"), ring("b"), ring("c"))
    every = [replace(crack("", 0.2, name), what=f"at {name}") for name in ("c", "b", "a")]
    assert told_together(every, layers)[0].what == "at a (a; alike in all 3)"
    assert told_together(every[:2], layers)[0].what == "at b (b; alike in both)"


def test_advice_that_names_one_part_goes_for_the_others_too() -> None:
    every = [replace(crack("", 0.2, name), advice=f"Close {name}.") for name in ("a", "b")]
    assert told_together(every, (ring("a"), ring("b")))[0].advice == "Close a. Likewise the others."


def test_places_that_name_several_parts_are_kept_apart() -> None:
    pairs = ["ring 1 and ring 2", "ring 2 and cap", "cap and lid", "lid and top"]
    found = [crack(where, 0.2 + number, f"part {number}") for number, where in enumerate(pairs)]
    (two,), (four,) = (told_together(found[:count], ()) for count in (2, 4))
    assert two.where == "ring 1 and ring 2; ring 2 and cap"
    assert four.where == "ring 1 and ring 2; ring 2 and cap; and 2 more"
    assert four.where_brief == "ring 1 and ring 2; and 3 more"
