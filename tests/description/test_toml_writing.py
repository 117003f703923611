"""Changed tables written back: read by tomllib they are the new ones, and the rest keeps every byte."""

import tomllib
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.toml_writing import paired, rendered, rendered_key, same, written_back
from tests.description.toml_texts import texts

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
ORDER = ("name", "outlines", "layer", "core", "cord", "eye")


def read(text: str) -> dict[str, Any]:
    return tomllib.loads(text.removeprefix("\ufeff"))


def places(value: Any, loc: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [loc, *(place for key, each in inner for place in places(each, (*loc, key)))]


def at(tables: Any, loc: tuple[Any, ...]) -> Any:
    for step in loc:
        tables = tables[step]
    return tables


FRESH = st.sampled_from(
    [7, 0.1, 1e-9, True, 'a "b" \\ \n é \x7f', [1, 2.5], {"a": 1, "b c": {"d": 2}}, [{"q": 1}, {"r": 2}], {}, []]
)  # fmt: skip


@given(texts(), st.data())
def test_any_change_reads_as_the_new_tables(text: str, data: st.DataObject) -> None:
    old = read(text)
    new = deepcopy(old)
    for _ in range(data.draw(st.integers(1, 3))):
        loc = data.draw(st.sampled_from(places(new)))
        held = at(new, loc)
        act = data.draw(st.sampled_from(["set", "add", "take"]))
        if act == "add" or not loc:
            if isinstance(held, list):
                held.insert(data.draw(st.integers(0, len(held))), deepcopy(data.draw(FRESH)))
            elif isinstance(held, dict):
                held[data.draw(st.sampled_from(["new", "x y", "cord"]))] = deepcopy(data.draw(FRESH))
        elif act == "set":
            at(new, loc[:-1])[loc[-1]] = deepcopy(data.draw(FRESH))
        else:
            del at(new, loc[:-1])[loc[-1]]
    assert same(read(written_back(text, old, new, ORDER)), new)


@given(texts(), st.data())
def test_a_changed_value_alters_its_own_characters_alone(text: str, data: st.DataObject) -> None:
    old = read(text)
    plain = [loc for loc in places(old) if not isinstance(at(old, loc), dict | list)]
    if not plain:
        assert written_back(text, old, deepcopy(old), ORDER) == text
        return
    loc = data.draw(st.sampled_from(plain))
    new = deepcopy(old)
    at(new, loc[:-1])[loc[-1]] = 123456.789
    written = written_back(text, old, new, ORDER)
    head, _, tail = written.partition("123456.789")
    assert text.startswith(head)
    assert text.endswith(tail)
    gone = text[len(head) : len(text) - len(tail)]
    assert repr(tomllib.loads(f"key = {gone}")["key"]) == repr(at(old, loc))


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_the_same_characters_as_tomlkit(file: Path) -> None:
    """tomlkit is the outside source, where it keeps a text as it is at all."""
    text = file.read_text("utf-8")
    old = read(text)
    numbers = [loc for loc in places(old) if type(at(old, loc)) in (int, float)]
    for loc in numbers[::7]:
        new = deepcopy(old)
        at(new, loc[:-1])[loc[-1]] += 1
        theirs = tomlkit.parse(text)
        at(theirs, loc[:-1])[loc[-1]] = at(new, loc)
        assert written_back(text, old, new, ORDER) == tomlkit.dumps(theirs)


@pytest.mark.parametrize(
    ("text", "change", "written"),
    [
        ("a = 1 # one\nb = 2\n", {"a": 1}, "a = 1 # one\n"),
        ("a = 1\n", {"a": 1.0}, "a = 1.0\n"),
        ("a = 1", {"a": 1, "b": 2}, "a = 1\nb = 2"),
        ("a = 1\r\n", {"a": 1, "b": 2}, "a = 1\r\nb = 2\r\n"),
        ("\ufeff", {"a": 1}, "\ufeffa = 1\n"),
        ("[core]\nx = 1 # c\n\n# eyes\n[[eye]]\n", {"core": {"x": 1, "y": 2}, "eye": [{}]},
         "[core]\nx = 1 # c\ny = 2\n\n# eyes\n[[eye]]\n"),
        ("[core]\n  x = 1\n", {"core": {"x": 1, "y": 2}}, "[core]\n  x = 1\n  y = 2\n"),
        ("o.circle = 3\nz = 1\n", {"o": {"circle": 3, "turn": 5}, "z": 1}, "o.circle = 3\no.turn = 5\nz = 1\n"),
        ("o = { circle  =  3 }  # c\n", {"o": {"circle": 3, "at": [0, 1]}}, "o = { circle  =  3, at = [0, 1] }  # c\n"),
        ("o = {a=1 , b = 2,c=3}\n", {"o": {"a": 1, "c": 3}}, "o = {a=1,c=3}\n"),
        ("o = {}\n", {"o": {"a": 1}}, "o = { a = 1 }\n"),
        ("s = [\n  1, # one\n  2, # two\n]\n", {"s": [1, 5]}, "s = [\n  1, # one\n  5, # two\n]\n"),
        ("s = [\n  1, # one\n  2, # two\n]\n", {"s": [1, 2, 3]}, "s = [\n  1, # one\n  2, 3, # two\n]\n"),
        ("[[eye]]\nn = 1\n\n[[eye]]\nn = 2\n", {"eye": [{"n": 2}]}, "\n[[eye]]\nn = 2\n"),
        ("[[eye]]\nn = 1\n\n[[eye]]\nn = 2\n", {"eye": [{"n": 1}]}, "[[eye]]\nn = 1\n"),
        ("[[eye]]\nn = 1\n", {"eye": [{"n": 1}, {"n": 2}]}, "[[eye]]\nn = 1\n\n[[eye]]\nn = 2\n"),
        ("[[layer]]\na = 1\n  [layer.sub]\n  b = 2\n[[layer]]\na = 3\n",
         {"layer": [{"a": 1, "sub": {"b": 5}}, {"a": 3, "z": 1}]},
         "[[layer]]\na = 1\n  [layer.sub]\n  b = 5\n[[layer]]\na = 3\nz = 1\n"),
        ("name = 'x'\n[outlines.a]\nn = 1\n[[eye]]\nn = 2\n",
         {"name": "x", "outlines": {"a": {"n": 1}, "b c": {"n": 3}}, "eye": [{"n": 2}], "cord": {"d": 6}},
         "name = 'x'\n[outlines.a]\nn = 1\n\n[outlines.\"b c\"]\nn = 3\n\n[cord]\nd = 6\n[[eye]]\nn = 2\n"),
        ("[[layer]]\nn = 1\n[core]\nn = 2\n[[layer]]\nn = 3\n", {"layer": [{"n": 1}, {"n": 9}], "core": {"n": 2}},
         "[[layer]]\nn = 1\n[core]\nn = 2\n[[layer]]\nn = 9\n"),
    ],
)  # fmt: skip
def test_by_hand(text: str, change: dict[str, Any], written: str) -> None:
    assert written_back(text, read(text), change, ORDER) == written


def test_values_and_keys_as_toml_writes_them() -> None:
    assert rendered('5-1/2 "in"\\\t\x01') == '"5-1/2 \\"in\\"\\\\\\t\\u0001"'
    assert rendered([True, 1e-7, -3]) == "[true, 1e-07, -3]"
    assert rendered_key("outline", "base plate", "é") == 'outline."base plate"."é"'


def test_entries_stay_what_they_are() -> None:
    assert paired([1, 2, 3], [1, 3]) == [0, None, 1]
    assert paired([1, 2], [1, 7, 2]) == [0, 2]
    assert paired([1, 2, 3], [1, 7, 3]) == [0, 1, 2]
    assert paired([1, 1], [1]) == [0, None]
    assert not same(1, 1.0)
    assert not same(True, 1)
