"""Lamp files for the fuzzer: values and tables of sound lamps exchanged, or characters changed."""

import copy
import json
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import atheris

from stackview.description.lamp_file import LampFile
from stackview.errors import LampError
from stackview.study import Study
from tests.fuzz.finds import check_words
from tests.whole.random_lamps import as_toml, random_lamp

LONGEST = 20_000
_DEMOS = Path(__file__).parents[2] / "demos"
_STRANGE: tuple[Any, ...] = (
    0, -1, 1, 2, 1e-9, 0.01, 1e4, 1e308, 10**30, float("nan"), float("inf"), True, "", "5 in", "1/0", "1-1/2 in",
    "3 mm", "é" * 70, [], {}, [[]], [1, 2], [0, 0], {"circle": 5}, {"": 1}, {"sides": 3, "across_flats": 9},
)  # fmt: skip
_MOST_BUILT = 8
"""Layers of a lamp that is also built: the others are read only."""

Place = tuple[str | int, ...]


def seeds() -> list[bytes]:
    """The demos, the starter's like, and lamps by chance."""
    demos = [file.read_bytes() for file in sorted(_DEMOS.glob("*.toml"))]
    return demos + [random_lamp(number).encode() for number in range(60)]


def ask(data: bytes) -> bool:
    """Read a lamp, change a number of it, write it back, and build it if it is small."""
    text = data.decode("utf-8", "replace")
    try:
        file = LampFile.from_text(text, "lamp.toml", _DEMOS)
        lamp = file.lamp()
        numbers = file.numbers()
        if numbers:
            one = numbers[len(data) % len(numbers)]
            assert file.changed({one.path: file.value(one.path)}).lamp() == lamp, one.path
        if len(lamp.layers) <= _MOST_BUILT and len(data) % 4 == 0:
            study = Study(file, bearings=8)
            _ = study.light, study.masses
    except LampError as refused:
        check_words(refused)
        return False
    return True


def changed(data: bytes, most: int, seed: int) -> bytes:
    """A lamp's file with a few things changed, as libFuzzer's mutators must: from a seed alone."""
    by = Random(seed)
    try:
        tables = tomllib.loads(data.decode("utf-8"))
    except (ValueError, RecursionError):
        return bytes(atheris.Mutate(data, most))
    if by.random() < 0.2:
        return bytes(atheris.Mutate(data, most))
    for _ in range(by.choice((1, 1, 2, 4))):
        _change(tables, by)
    try:
        made = as_toml(tables).encode("utf-8", "replace")
    except (TypeError, RecursionError):
        return bytes(atheris.Mutate(data, most))
    return made if len(made) <= most else data[:most]


def _change(tables: dict[str, Any], by: Random) -> None:
    places = list(_places(tables))
    if not places:
        tables["name"] = "x"
        return
    place = by.choice(places)
    holder = tables
    for step in place[:-1]:
        holder = holder[step]
    last = place[-1]
    key = next((step for step in reversed(place) if isinstance(step, str)), "")
    way = by.randrange(8)
    if way == 0:
        del holder[last]
    elif way == 1:
        holder[last] = by.choice(_STRANGE)
    elif way == 2 and isinstance(holder[last], int | float) and not isinstance(holder[last], bool):
        holder[last] = holder[last] * by.choice((0.1, 0.5, 0.999, 1.001, 2, 10, -1, 1000))
    elif way == 3 and isinstance(holder, list):
        holder.insert(last, copy.deepcopy(holder[last]))
    elif way in (4, 5):
        parent = _parent(place)
        more = by.choice(_BESIDE.get(parent) or [("name", "x")])
        into = holder if isinstance(holder, dict) else tables
        into[more[0]] = copy.deepcopy(more[1])
    else:
        holder[last] = copy.deepcopy(by.choice(_VALUES.get(key) or [1]))


def _places(node: Any, above: Place = ()) -> Iterator[Place]:
    items = node.items() if isinstance(node, dict) else enumerate(node)
    for step, value in items:
        yield (*above, step)
        if isinstance(value, dict | list):
            yield from _places(value, (*above, step))


def _parent(place: Place) -> str:
    """The name of the table that a place stands in."""
    names = [step for step in place[:-1] if isinstance(step, str)]
    return names[-1] if names else ""


def _known() -> tuple[dict[str, list[Any]], dict[str, list[tuple[str, Any]]]]:
    """Values seen at each key, and keys with values seen in each table."""
    values: dict[str, list[Any]] = defaultdict(list)
    beside: dict[str, list[tuple[str, Any]]] = defaultdict(list)
    seen: set[str] = set()
    texts = [file.read_text("utf-8") for file in sorted(_DEMOS.glob("*.toml"))]
    for text in texts + [random_lamp(number) for number in range(400)]:
        tables = tomllib.loads(text)
        for place in _places(tables):
            if not isinstance(place[-1], str):
                continue
            value: Any = tables
            for step in place:
                value = value[step]
            mark = f"{_parent(place)} {place[-1]} {json.dumps(value)}"
            if mark not in seen and len(mark) < 600:
                seen.add(mark)
                values[place[-1]].append(value)
                beside[_parent(place)].append((place[-1], value))
    return values, beside


_VALUES, _BESIDE = _known()
