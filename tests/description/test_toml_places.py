"""Places in TOML texts, held against what tomllib reads at them."""

import tomllib
from typing import Any

from hypothesis import given

from stackview.description.toml_places import Inline, Listed, Value, sections_of
from tests.description.toml_texts import texts


def at(tables: Any, loc: tuple[Any, ...]) -> Any:
    for step in loc:
        tables = tables[step]
    return tables


def agrees(text: str, value: Value, held: Any) -> None:
    """A value's own characters, read alone by tomllib, are what stands there in the whole text."""
    alone = tomllib.loads(f"key = {text[value.start : value.end]}")["key"]
    assert repr(alone) == repr(held)
    if isinstance(value, Listed):
        assert len(value.parts) == len(held)
        for part, each in zip(value.parts, held, strict=True):
            agrees(text, part, each)
    if isinstance(value, Inline):
        for item in value.items:
            agrees(text, item.value, at(held, item.key))


@given(texts())
def test_every_value_is_found_to_the_character(text: str) -> None:
    tables = tomllib.loads(text.removeprefix("\ufeff"))
    made: dict[str, Any] = {}
    for section in sections_of(text):
        table = into(made, section.loc)
        for item in section.items:
            held = at(tables, (*section.loc, *item.key))
            agrees(text, item.value, held)
            into(table, item.key[:-1])[item.key[-1]] = held
    assert repr(sorted_tables(made)) == repr(sorted_tables(tables))


def into(table: Any, loc: tuple[Any, ...]) -> Any:
    """The table at a place, made where there is none."""
    for step, after in zip(loc, [*loc[1:], ""][: len(loc)], strict=True):
        if isinstance(step, int):
            table.extend([{}] * (step == len(table)))
            table = table[step]
        else:
            table = table.setdefault(step, [] if isinstance(after, int) else {})
    return table


def sorted_tables(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: sorted_tables(value[key]) for key in sorted(value)}
    return [sorted_tables(each) for each in value] if isinstance(value, list) else value


def test_places_by_hand() -> None:
    text = 'a.b = 1 # x\n[[layer]]\n"base plate" = [ 2, { c = "]" } ]\n[layer.sub]\n'
    top, layer, sub = sections_of(text)
    assert [(item.key, text[item.start : item.end]) for item in top.items] == [(("a", "b"), "a.b = 1")]
    assert (layer.loc, sub.loc) == (("layer", 0), ("layer", 0, "sub"))
    held = layer.items[0].value
    assert isinstance(held, Listed)
    assert [text[part.start : part.end] for part in held.parts] == ["2", '{ c = "]" }']
    assert text[sub.start : sub.end] == "[layer.sub]"
