"""Changes to tables: what may be written, and what is left."""

from typing import Any

import numpy as np
import pytest

from stackview.description.tables_changed import plain, with_changes


def test_numbers_of_any_library_become_plain_ones() -> None:
    made = plain({"a": np.float64(0.5), "b": np.int64(3), "c": (1, np.float32(0.25)), "d": True})
    assert repr(made) == "{'a': 0.5, 'b': 3, 'c': [1, 0.25], 'd': True}"


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (object(), "object cannot be written: give a number"),
        (b"x", "bytes cannot be written"),
        ({"a": None}, "holds None: leave the key out"),
        ({1: 2}, "a key that is no word"),
        ("a\nb", "in one line"),
        ("x" * 1001, "at most 1000 characters"),
        (2**70, "too large a number"),
        ([0] * 10_001, "more than 10000 pieces"),
        ([[[[[[[[[[1]]]]]]]]]], "nested too deep"),
    ],
)
def test_what_no_file_can_hold(value: object, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        plain(value)


def test_what_is_untouched_is_shared() -> None:
    tables: dict[str, Any] = {"a": {"x": 1}, "b": {"y": [{"z": 1}, {"z": 2}]}}
    new = with_changes(tables, [(("b", "y", 1, "z"), 5)])
    assert new == {"a": {"x": 1}, "b": {"y": [{"z": 1}, {"z": 5}]}}
    assert tables["b"]["y"][1] == {"z": 2}
    assert new["a"] is tables["a"]
    assert new["b"]["y"][0] is tables["b"]["y"][0]


def test_taking_away() -> None:
    tables: dict[str, Any] = {
        "eye": [{"n": 0}, {"n": 1}, {"n": 2}],
        "core": {"x": 1},
        "outlines": {"a": {"n": 1}},
    }
    new = with_changes(tables, [(("eye", 0), None), (("eye", 2), None), (("core", "x"), None)])
    assert new == {"eye": [{"n": 1}], "core": {}, "outlines": {"a": {"n": 1}}}
    assert with_changes(tables, [(("outlines", "a"), None)]).keys() == {"eye", "core"}
    assert "eye" not in with_changes(tables, [(("eye", i), None) for i in range(3)])
    # places are those of the old tables, so an entry can be changed and an earlier one taken away
    both = with_changes(tables, [(("eye", 0), None), (("eye", 2, "n"), 9)])
    assert both["eye"] == [{"n": 1}, {"n": 9}]


def test_adding() -> None:
    assert with_changes({"eye": [{"n": 1}]}, [(("eye", 1), {"n": 2})]) == {"eye": [{"n": 1}, {"n": 2}]}
    assert with_changes({}, [(("core", "outline", "circle"), 3)]) == {"core": {"outline": {"circle": 3}}}
