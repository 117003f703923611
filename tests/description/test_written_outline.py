"""Outlines as written: a name or a table, and the shapes that can be chosen."""

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from stackview.description.written_outline import SHAPE_KEYS, OutlineField, WrittenAround, WrittenOutline

UNIT = {"unit": "mm"}


def read(value: object) -> Any:
    return TypeAdapter(OutlineField).validate_python(value, context=UNIT)


def test_a_text_is_a_name_and_a_table_a_shape() -> None:
    assert read("body") == "body"
    assert read({"circle": "4 in"}).circle.mm == pytest.approx(101.6)


def test_every_shape_key_is_a_field_and_none_is_needed_alone() -> None:
    assert set(SHAPE_KEYS) <= set(WrittenOutline.model_fields)
    assert not any(field.is_required() for field in WrittenOutline.model_fields.values())


@pytest.mark.parametrize(
    "wrong",
    [
        5,
        ["body"],
        {"circle": 0},
        {"sides": 2, "across_flats": 50},
        {"sides": 6.5, "across_flats": 50},
        {"rectangle": [50]},
        {"oval": [50, 30]},
        {"curve": "", "unit": "mm"},
        {"curve": "kelp.svg", "unit": "px"},
        {"circle": 50, "inset": -1},
    ],
)
def test_what_cannot_be_cut_is_refused(wrong: object) -> None:
    with pytest.raises(ValidationError):
        read(wrong)


def test_copies_begin_at_the_front() -> None:
    around = WrittenAround.model_validate({"count": 3, "circle": 60}, context=UNIT)
    assert (around.count, around.circle.mm, around.first) == (3, 60.0, 0.0)
    with pytest.raises(ValidationError):
        WrittenAround.model_validate({"count": 0, "circle": 60}, context=UNIT)
