"""Kinds of field: limits are inclusive, units are the file's, refusals say what to write."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pydantic import TypeAdapter, ValidationError

from stackview.description import written_fields as fields
from stackview.description.material import Length


def read(kind: Any, value: object, unit: str = "mm") -> Any:
    return TypeAdapter(kind).validate_python(value, context={"unit": unit})


def refusal(kind: Any, value: object) -> str:
    with pytest.raises(ValidationError) as caught:
        read(kind, value)
    return str(caught.value.errors()[0]["msg"])


def test_a_bare_number_is_in_the_files_unit_and_a_written_one_in_its_own() -> None:
    # The inch is 25.4 mm exactly (1959).
    assert read(fields.Size, 2, "in").mm == pytest.approx(50.8)
    assert read(fields.Size, "2 mm", "in").mm == 2.0
    assert isinstance(read(fields.Size, 2), Length)


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        (fields.Slope, 1, 89),
        (fields.Beam, 1, 180),
        (fields.SideCount, 3, 100),
        (fields.Roughness, 0.02, 0.6),
        (fields.PassingShare, 0.02, 0.95),
        (fields.Celsius, -40, 200),
    ],
)
def test_limits_are_inclusive(kind: Any, low: float, high: float) -> None:
    assert read(kind, low) == low
    assert read(kind, high) == high
    for outside in (low - 0.001, high + 0.001, float("nan"), float("inf"), 10**400):
        assert f"{low:g} to {high:g}" in refusal(kind, outside)


def test_sizes_are_bounded() -> None:
    assert read(fields.Size, fields.LEAST_SIZE).mm == fields.LEAST_SIZE
    assert read(fields.Size, fields.GREATEST_SIZE).mm == fields.GREATEST_SIZE
    assert read(fields.InnerGap, 0).mm == 0.0
    assert read(fields.Shift, -5).mm == -5.0
    for kind, value in ((fields.Size, 0), (fields.Size, 5001), (fields.InnerGap, -1), (fields.Shift, -5001)):
        refusal(kind, value)


@pytest.mark.parametrize("value", [True, "6", None, [6], 6.5])
def test_whole_numbers_are_whole(value: object) -> None:
    assert "a whole number" in refusal(fields.Copies, value)
    made = read(fields.Copies, 6.0)
    assert made == 6
    assert isinstance(made, int)


@pytest.mark.parametrize("value", [[1], [1, 2, 3], "1, 2", 5, None])
def test_pairs_are_pairs(value: object) -> None:
    assert "2 lengths in brackets" in refusal(fields.FlatPlace, value)
    assert [length.mm for length in read(fields.FlatPlace, [1, "1 in"])] == pytest.approx([1.0, 25.4])


@pytest.mark.parametrize("value", ["", "  ", "a" * 61, "a\nb", "\x1b[31m", 5])
def test_names_are_short_and_printable(value: object) -> None:
    assert refusal(fields.Name, value)
    assert read(fields.Name, "a" * 60) == "a" * 60


@pytest.mark.parametrize("value", ["a0713f", "#a0713", "#a0713g", "#a0713f00", "red", 5])
def test_colours_are_six_figures(value: object) -> None:
    assert "#a0713f" in refusal(fields.WrittenColour, value)
    assert read(fields.WrittenColour, "#A0713F") == "#A0713F"


def test_a_file_name_is_a_line_of_text() -> None:
    assert read(fields.FileName, "kelp.svg") == "kelp.svg"
    for value in ("", " ", "a\0b", "x" * 501, 3):
        assert "kelp.svg" in refusal(fields.FileName, value)


def test_schema_and_reading_agree_on_numbers() -> None:
    for kind in (fields.SideCount, fields.Slope, fields.Roughness):
        schema = TypeAdapter(kind).json_schema()
        held = Draft202012Validator(schema)
        for value in (schema["minimum"], schema["maximum"], *schema["examples"]):
            assert held.is_valid(value)
            assert read(kind, value) == value
        assert not held.is_valid(schema["maximum"] + 1)


def test_one_is_a_list_of_one() -> None:
    assert fields._wrapped({"depth": 1}) == [{"depth": 1}]
    assert fields._wrapped([1, 2]) == [1, 2]


def test_a_text_is_told_from_a_table() -> None:
    assert fields.by_text("body") == fields.tag("text")
    assert fields.by_text({"circle": 5}) == fields.tag("table") != fields.tag("text")
