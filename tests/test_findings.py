"""Findings: ordered by how much they matter, and whole in JSON and in words."""

import json
from dataclasses import fields

from stackview.findings import Bound, Finding, Level, Place

_UNSHOWN = ("cause", "where_brief", "ways", "is_made")
SHOWN = [field.name for field in fields(Finding) if field.name not in _UNSHOWN]
"""All but what only sorts findings, what was not tried, and what the words say already: that a check was not made."""


def test_levels_are_ordered_as_they_matter() -> None:
    assert Level.FACT < Level.NOTE < Level.CAUTION < Level.FAULT
    assert [level.word for level in Level] == ["fact", "note", "caution", "fault"]


def test_the_record_holds_every_field_as_a_plain_value() -> None:
    full = Finding(
        "seat", Level.FAULT, "plate", "does not fit", 0.26, "mm", 0.0, "plane geometry", "Round it.", Bound.MOST,
        ("plate", "host"), (Place("plate", 1.0, -2.5),), "corners", "misfit",
    )  # fmt: skip
    record = full.record()
    assert list(record) == SHOWN
    assert record == json.loads(json.dumps(record))
    assert (record["level"], record["bound"]) == ("fault", "most")
    plain = set(SHOWN) - {"level", "bound", "parts", "places"}
    assert {name: record[name] for name in plain} == {name: getattr(full, name) for name in plain}
    assert record["parts"] == ["plate", "host"]
    assert Finding("seat", Level.NOTE, "plate", "does not fit").record()["short"] == "does not fit"
    assert record["places"] == [{"part": "plate", "x_mm": 1.0, "y_mm": -2.5, "z_mm": None}]


def test_a_number_that_is_not_known_is_none_and_not_zero() -> None:
    record = Finding("sort", Level.NOTE, "lamp", "not known").record()
    assert record["value"] is record["limit"] is None


def test_words_with_and_without_advice() -> None:
    plain = Finding("seat", Level.CAUTION, "plate", "it is tight")
    assert str(plain) == "caution: plate: it is tight."
    assert str(Finding("seat", Level.CAUTION, "plate", "it is tight", advice="Sand it.")) == (
        "caution: plate: it is tight. Sand it."
    )
