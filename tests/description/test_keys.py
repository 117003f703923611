import json

import pytest

from stackview.description import defaults
from stackview.description.keys import every_table, keys_about
from stackview.description.written_lamp import schema
from stackview.errors import StackviewError


def test_every_key_of_the_schema_is_told():
    whole = schema()
    told = {key.name for table in every_table() for key in table.keys}
    written = set(whole["properties"]) | set(whole["properties"]["limits"]["properties"])
    for table in whole["$defs"].values():
        written |= set(table.get("properties", {}))
    assert told == written


def test_no_key_is_told_twice_and_each_says_what_it_means_and_takes():
    every = [key for table in every_table() for key in table.keys]
    assert len({key.path for key in every}) == len(every)
    assert all(key.meaning.endswith(".") and key.takes for key in every)


def test_what_groups_take_is_told_once_with_the_layers():
    tables = {table.heading: table for table in every_table()}
    assert tables["[[groups.NAME]]"].keys == ()
    assert "as in [[layer]]" in tables["[[groups.NAME]]"].meaning
    assert [key.name for key in tables["[layer.opening]"].keys] == ["around"]


@pytest.mark.parametrize(
    ("path", "default"),
    [
        ("cutter", defaults.CUTTER),
        ("layer.grain", defaults.GRAIN),
        ("light.helix.start", defaults.STRIP_START),
        ("surface.size", defaults.SURFACE_SIZE),
        ("cord.wire", defaults.CORD_WIRE),
    ],
)
def test_defaults_are_those_that_the_lamp_gets(path, default):
    (key,) = keys_about(path)
    assert key.default == default.words
    assert key.why == default.why


def test_a_key_that_must_be_given_has_no_default():
    (pitch,) = keys_about("pitch")
    assert (pitch.path, pitch.needed, pitch.takes, pitch.default) == (
        "light.helix.pitch",
        True,
        "a length",
        "",
    )


def test_a_table_brings_its_keys_and_a_word_those_that_tell_of_it():
    assert {key.path for key in keys_about("bore")} >= {"layer.bore", "layer.bore.diameter"}
    assert next(key.path for key in keys_about("caliper")) == "limits.caliper"
    assert {"materials.roughness"} <= {key.path for key in keys_about("sanded")}


@pytest.mark.parametrize(
    ("word", "says"), [("chmfer", "did you mean chamfer?"), ("", "lists them all"), ("[red]", "lists")]
)
def test_a_word_that_nothing_is_about_is_told_so(word, says):
    with pytest.raises(StackviewError, match="has to do with") as told:
        keys_about(word)
    assert says in str(told.value)


def test_tables_are_shown_as_toml_begins_or_holds_them():
    shown = {key.path: key.example for table in every_table() for key in table.keys}
    assert (shown["groups"], shown["layer"]) == ("[[groups.NAME]]", "[[layer]]")
    assert (shown["materials"], shown["core"], shown["limits"]) == ("[materials.NAME]", "[core]", "[limits]")
    assert shown["light.ring"] == 'ring = { diameter = "5.6 mm", count = 12 }'


def test_examples_are_what_the_schema_takes():
    import tomllib

    import jsonschema

    whole = schema()
    for table in every_table():
        for key in table.keys:
            takes = [
                found | {"$defs": whole["$defs"]}
                for each in whole["$defs"].values()
                if (found := each.get("properties", {}).get(key.name, {})).get("description") == key.meaning
            ]
            if key.example.startswith(f"{key.name} = {{"):
                value = tomllib.loads(key.example)[key.name]
                assert any(jsonschema.Draft202012Validator(each).is_valid(value) for each in takes), key


def test_examples_are_toml():
    import tomllib

    for table in every_table():
        for key in table.keys:
            if key.example:
                assert json.dumps(tomllib.loads(key.example), default=str)
