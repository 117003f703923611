"""Findings: ordered by how much they matter, and whole in JSON and in words."""

import json
from dataclasses import fields

from stackview.findings import Bound, Finding, Level


def test_levels_are_ordered_as_they_matter() -> None:
    assert Level.NOTE < Level.CAUTION < Level.FAULT
    assert [level.word for level in Level] == ["note", "caution", "fault"]


def test_the_record_holds_every_field_as_a_plain_value() -> None:
    full = Finding(
        "seat",
        Level.FAULT,
        "plate",
        "does not fit",
        0.26,
        "mm",
        0.0,
        "plane geometry",
        "Round it.",
        Bound.MOST,
    )
    record = full.record()
    assert list(record) == [field.name for field in fields(Finding)]
    assert record == json.loads(json.dumps(record))
    assert (record["level"], record["bound"]) == ("fault", "most")
    plain = [field.name for field in fields(Finding) if field.name not in ("level", "bound")]
    assert [record[name] for name in plain] == [getattr(full, name) for name in plain]


def test_a_number_that_is_not_known_is_none_and_not_zero() -> None:
    record = Finding("sort", Level.NOTE, "lamp", "not known").record()
    assert record["value"] is record["limit"] is None


def test_words_with_and_without_advice() -> None:
    plain = Finding("seat", Level.CAUTION, "plate", "it is tight")
    assert str(plain) == "caution: plate: it is tight."
    assert str(Finding("seat", Level.CAUTION, "plate", "it is tight", advice="Sand it.")) == (
        "caution: plate: it is tight. Sand it."
    )
