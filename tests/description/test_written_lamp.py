"""The JSON Schema: good enough for an editor, and true to what is read."""

import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from stackview.description.materials_table import sorts
from stackview.description.starter import starter_text
from stackview.description.written_fields import LENGTH_PATTERN
from stackview.description.written_lamp import KIND_KEYS, schema

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))


def valid(raw: dict[str, Any]) -> bool:
    return not list(jsonschema.Draft202012Validator(schema()).iter_errors(raw))


def test_the_schema_is_a_schema() -> None:
    made = schema()
    jsonschema.Draft202012Validator.check_schema(made)
    assert made["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert made["title"] == "stackview lamp"
    assert json.loads(json.dumps(made)) == made


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_demos_are_valid(file: Path) -> None:
    assert valid(tomllib.loads(file.read_text("utf-8")))


def test_the_starter_is_valid() -> None:
    assert valid(tomllib.loads(starter_text()))


def test_every_field_is_described() -> None:
    made = schema()
    for table in (made, *made["$defs"].values()):
        assert table["description"]
        for name, field in table["properties"].items():
            assert len(field.get("description", "")) > 8, (table["title"], name)


def test_tables_refuse_unknown_keys() -> None:
    made = schema()
    assert all(table["additionalProperties"] is False for table in (made, *made["$defs"].values()))


@pytest.mark.parametrize(
    "wrong",
    [
        {"layer": [], "nmae": "x"},
        {"name": "x", "unit": "mil"},
        {"name": "x", "materials": {"a": {"sold": 9}}},
        {"name": "x", "materials": {"a": {"wood": "ash", "metal": "brass"}}},
        {"name": "x", "materials": {"a": {"acrylic": "red"}}},
        {"name": "x", "layer": [{"name": "base", "material": "a", "outline": {"circle": "wide"}}]},
        {"name": "x", "eye": [{"name": "me", "distance": True, "height": 3}]},
    ],
)
def test_what_is_wrong_is_invalid(wrong: dict[str, Any]) -> None:
    assert not valid(wrong)


def test_sorts_of_the_table_are_offered_and_others_allowed() -> None:
    material = schema()["$defs"]["WrittenMaterial"]
    for kind in KIND_KEYS:
        assert json.dumps(list(sorts(kind)))[1:-1] in json.dumps(material["properties"][kind])
    assert valid({"name": "x", "materials": {"a": {"wood": "teak"}}})


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        ("5.6 mm", True),
        ("5-1/2 in", True),
        ("1 1/8 in", True),
        (".220 in", True),
        ("3/16 in", True),
        ("5 ft 6 in", True),
        ("12", True),
        ("5'6\"", True),
        ("½ in", True),
        ("-3 mm", True),
        ("wide", False),
        ("5,6 mm", False),
        ("", False),
    ],
)
def test_the_editors_picture_of_a_length(text: str, fits: bool) -> None:
    import re

    assert bool(re.search(LENGTH_PATTERN, text)) is fits
