"""Whatever is done to a lamp's file, it reads or is refused with messages; nothing else happens."""

import random
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stackview.description.reading import read_text
from stackview.errors import Fault, LampError

DEMOS = Path(__file__).parents[2] / "demos"
TEXTS = {file.stem: file.read_text("utf-8") for file in sorted(DEMOS.glob("*.toml"))}
SCRAPS = (
    "",
    "0",
    "-1",
    "1e308",
    "nan",
    "inf",
    '""',
    '"mil"',
    "[]",
    "{}",
    "[[",
    "true",
    "\n",
    "=",
    '"',
    "#",
    "1979-05-27",
    "99999999999999999999",
    '"\\u0000"',
    '"1/0"',
    "circle",
    "group",
    "name",
    "recess",
    "[layer]",
    "{ circle = 5 }",
)
STRANGE: tuple[Any, ...] = (
    0,
    -1,
    1e308,
    float("nan"),
    float("inf"),
    "",
    "mil",
    "\x00",
    "é" * 70,
    [],
    {},
    True,
    None,
    [[]],
    [{}],
    {"circle": 5},
    10**30,
    "1/0",
    ["top outer"],
    [1, 2],
    {"": 1},
    "base",
    "ring 1",
)


def reads_or_is_refused(text: str) -> None:
    faults: tuple[Fault, ...] | None = None
    try:
        read_text(text, "lamp.toml", DEMOS)
    except LampError as refused:
        faults = refused.faults
    assert faults is None or faults
    assert all(str(fault).isprintable() and len(str(fault)) < 2000 for fault in faults or ()), faults


@pytest.mark.parametrize("name", TEXTS)
def test_mutated_text(name: str) -> None:
    chance = random.Random(name)
    for _ in range(150):
        text = TEXTS[name]
        for _ in range(chance.randint(1, 4)):
            start = chance.randrange(len(text))
            end = start + chance.choice((0, 1, 2, 5, 20, 100))
            text = text[:start] + chance.choice(SCRAPS) + text[end:]
        reads_or_is_refused(text)


@pytest.mark.parametrize("name", TEXTS)
def test_mutated_values(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sound TOML with any value in any place; handed over behind the TOML reader."""
    chance = random.Random(name)
    for _ in range(150):
        raw = tomllib.loads(TEXTS[name])
        for _ in range(chance.randint(1, 3)):
            spoil(raw, chance)
        monkeypatch.setattr("stackview.description.reading.tables_of", lambda *_, raw=raw: raw)
        reads_or_is_refused("")


def spoil(raw: dict[str, Any], chance: random.Random) -> None:
    places: list[tuple[Any, Any]] = []
    row: list[Any] = [raw]
    while row:
        node = row.pop()
        for key in list(node) if isinstance(node, dict) else range(len(node)):
            places.append((node, key))
            if isinstance(node[key], dict | list):
                row.append(node[key])
    node, key = chance.choice(places)
    if chance.random() < 0.3:
        del node[key]
    elif chance.random() < 0.3 and isinstance(node, dict):
        node[f"{key}x"] = node.pop(key)
    else:
        node[key] = chance.choice(STRANGE)


@settings(suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    reads_or_is_refused(text)
