"""Refusals: one clear sentence for each fault, with its place; and a number that it offers clears it when typed in."""

import copy
import re
import tomllib
from typing import Any

from stackview.description.lamp_file import LampFile
from stackview.errors import Fault, LampError
from stackview.study import Study
from tests.whole.random_lamps import FOLDER, as_toml

_NO_WORDS = re.compile(r"\bnan\b|\binf\b|\bNone\b|float64|Error\b|object at|\{[a-z_]+[:}]|<class")
_LENGTH = r"(-?[0-9][0-9./-]*(?: ?(?:mm|cm|m|in|ft)\b)?)"
_OFFERED = [
    re.compile(words + _LENGTH)
    for words in (
        r"\bat most ", r"\bat least ", r"largest width that fits is ", r"largest that fits is (?:just under )?",
        r"largest that fits: ", r"\bless than ", r"there are ", r"of radius ",
    )
]  # fmt: skip
_BETWEEN = re.compile(r"outside its limits, (-?[0-9.e-]+) to (-?[0-9.e-]+)")
_KEYS = {"chamfer": "width", "groove": "width", "recess": "depth"}
"""The number that a cut is refused for, where the place names the cut alone."""


def check_refusal(refused: LampError, file: str) -> None:
    """Every fault names the file and its place, and says in one printable sentence what to do."""
    assert refused.file == file, refused.file
    assert refused.faults
    for fault in refused.faults:
        words = str(fault)
        assert words.isprintable(), fault
        assert fault.where, fault
        assert 20 <= len(words) < 2000, fault
        assert not _NO_WORDS.search(re.sub(r'"[^"]*"', "", words)), fault
        assert re.search(r"[:;]| so that | reaches ", fault.what), f"says not what to do: {fault}"


def faults_of(text: str) -> tuple[Fault, ...]:
    """What a lamp's text is refused for while it is read, built and lit; nothing where it is taken."""
    try:
        study = Study(LampFile.from_text(text, "lamp.toml", FOLDER), bearings=8)
        _ = study.stack, study.light
    except LampError as refused:
        return refused.faults
    return ()


def offers(fault: Fault) -> list[str]:
    """The numbers that a fault offers for the key it is about, with their units."""
    between = _BETWEEN.search(fault.what)
    if between:
        return [between[1], between[2]]
    return [found[1] for pattern in _OFFERED for found in pattern.finditer(fault.what)]


def check_offers(text: str, faults: tuple[Fault, ...]) -> int:
    """Type in every number that is offered for a number of the file: the fault goes. Returns how many were tried."""
    tables, tried = tomllib.loads(text), 0
    for fault in faults:
        place = _place(tables, fault.where)
        if place is None:
            continue
        holder, key = place
        if isinstance(holder[key], bool) or not isinstance(holder[key], int | float | str):
            continue
        for number in offers(fault):
            if not re.search("[a-z]", number) and isinstance(holder[key], str):
                continue
            changed = copy.deepcopy(tables)
            again = _place(changed, fault.where)
            assert again is not None
            again[0][again[1]] = number if re.search("[a-z]", number) else _plain(number)
            left = faults_of(as_toml(changed))
            same = [one for one in left if one.where == fault.where]
            assert not same, f"{number} was offered: {fault} -> {same[0]}"
            tried += 1
    return tried


def _plain(number: str) -> int | float:
    return float(number) if "." in number or "e" in number else int(number)


def _bare(words: str) -> str:
    return re.sub(r"[0-9][0-9./ -]*|\b(mm|cm|m|in|ft)\b|[()\"]", "", words)


def _place(tables: dict[str, Any], where: str) -> tuple[Any, Any] | None:
    """The table and key that the words of a place lead to; None where they lead to no single number."""
    node: Any = tables
    steps = where.split(" · ")
    last: tuple[Any, Any] | None = None
    for step in steps:
        found = re.fullmatch(r'([a-z_]+)(?: "(.*)"| ([0-9]+)(?: \(group ".*"\))?)?', step)
        if found is None:
            return None
        word, name, number = found.groups()
        if word == "layer" and isinstance(node, list):
            node = {"layer": node}  # of a group
        if not isinstance(node, dict):
            return None
        key = {"material": "materials", "group": "groups", "glue": "glues" if name else "glue"}.get(
            word, word
        )
        key = {"outline": "outlines"}.get(word, key) if name else key
        if key not in node:
            return None
        last, inner = (node, key), node[key]
        if isinstance(inner, list) and inner and isinstance(inner[0], dict):
            index = _index(inner, name, number)
            if index is None:
                return None
            last, inner = (inner, index), inner[index]
        elif name is not None:
            if not isinstance(inner, dict) or name not in inner:
                return None
            last, inner = (inner, name), inner[name]
        node = inner
    if isinstance(node, dict):
        key = _KEYS.get(steps[-1].split(" ")[0], "")
        return (node, key) if key in node else None
    return last


def _index(entries: list[Any], name: str | None, number: str | None) -> int | None:
    if number is not None:
        return int(number) - 1 if int(number) <= len(entries) else None
    if name is None:
        return 0 if len(entries) == 1 else None
    for index, entry in enumerate(entries):
        if isinstance(entry, dict) and entry.get("name") in (name, re.sub(r" [0-9]+$", "", name)):
            return index
    return None
