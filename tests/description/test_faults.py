"""Faults: in the order found, each once, and no echo of what could not be read."""

import pytest

from stackview.description.faults import Faults, did_you_mean, near, place
from stackview.errors import Fault


@pytest.mark.parametrize(
    ("word", "known", "expected"),
    [
        ("recces", ("recess", "groove"), "recess"),
        ("RECESS", ("recess",), "recess"),
        ("walnut", ("Walnut", "Ash"), "Walnut"),
        ("qqq", ("recess", "groove"), None),
        ("recess", (), None),
    ],
)
def test_the_nearest_known_word(word: str, known: tuple[str, ...], expected: str | None) -> None:
    assert near(word, known) == expected


def test_a_word_without_end_is_compared_by_its_beginning() -> None:
    assert near("recess" + "x" * 1_000_000, ("recess",)) is None


def test_what_is_known_is_listed_and_the_list_is_bounded() -> None:
    assert did_you_mean("ash", ()) == "; there are none yet"
    assert did_you_mean("recces", ("recess", "bore")) == '; did you mean "recess"? known: "recess", "bore"'
    assert did_you_mean("zz", ("recess",)) == '; known: "recess"'
    many = did_you_mean("zz", (f"layer {index}" for index in range(30)))
    assert many.count('"layer ') == 24
    assert many.endswith(" and 6 more")


def test_places_are_joined_and_empty_steps_left_out() -> None:
    assert place('layer "ring"', "", "recess", "depth") == 'layer "ring" · recess · depth'
    assert place() == place("", "") == ""


def test_faults_keep_their_order_and_come_once() -> None:
    faults = Faults()
    for where, what in (("b", "x"), ("a", "x"), ("b", "x"), ("b", "y")):
        faults.add(where, what)
    assert faults.all() == (Fault("b", "x"), Fault("a", "x"), Fault("b", "y"))


def test_once_silences_the_copies_of_an_entry() -> None:
    faults = Faults()
    faults.add("ring 1", "leaves 3 mm", once="ring")
    faults.add("ring 2", "leaves 2 mm", once="ring")
    faults.add("plate 1", "leaves 1 mm", once="plate")
    assert [fault.where for fault in faults.all()] == ["ring 1", "plate 1"]


def test_what_could_not_be_read_is_not_called_absent() -> None:
    faults = Faults(damaged={"layer · thickness"}, lost={"layer": {"ring"}})
    faults.absent("layer · thickness", "has no thickness")
    assert faults.all() == ()
    faults.absent("layer · outline", "has no outline")
    assert len(faults.all()) == 1
    assert faults.is_lost("layer", "ring")
    assert not faults.is_lost("layer", "plate")
    assert not faults.is_lost("material", "ring")
