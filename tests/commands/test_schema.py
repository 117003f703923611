"""``stackview schema``: a JSON Schema that the demos satisfy."""

import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_demos_satisfy_the_printed_schema(run, demo: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, _ = run("schema")
    assert code == 0
    schema = json.loads(out)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(tomllib.loads(demo.read_text()), schema)


def test_schema_refuses_what_the_reader_refuses(run) -> None:  # type: ignore[no-untyped-def]
    schema = json.loads(run("schema")[1])
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"layr": []}, schema)
