"""Whose limit counts: the table's, then the maker's own file, then the lamp's file."""

from dataclasses import replace
from pathlib import Path

import pytest

from stackview.checks.limits import limits_for, read_limits
from stackview.description.lamp import Lamp
from stackview.description.limits_table import known_limits, own_limit
from stackview.description.units import MILLIMETRES
from stackview.errors import LampError

PLAIN = Lamp("test", "mm", ())


def write(folder: Path, text: str) -> Path:
    file = folder / "mine.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_defaults() -> None:
    limits = limits_for(PLAIN)
    assert dict(limits.all) == dict(known_limits())
    assert limits["wall_wood"].value == limits.value("wall_wood") == 3.0
    with pytest.raises(KeyError):
        limits["no such limit"]


def test_own_file_then_lamp(tmp_path: Path) -> None:
    own = read_limits(write(tmp_path, 'wall_wood = 4\nledge = "1/4 in"\ncutter_reach = 8\n'))
    limits = limits_for(replace(PLAIN, limits=(own_limit("wall_wood", 5, MILLIMETRES),)), own)
    assert limits.value("wall_wood") == 5.0
    assert limits.value("ledge") == pytest.approx(6.35)
    assert limits.value("cutter_reach") == 8.0
    assert limits.value("floor") == known_limits()["floor"].value
    assert limits["ledge"].source == "your own limit, mine.toml"


def test_a_limits_table_is_read_too(tmp_path: Path) -> None:
    assert read_limits(write(tmp_path, "[limits]\nfloor = 1.5\n"))["floor"].value == 1.5
    assert read_limits(write(tmp_path, "")) == {}


def test_every_fault_is_told(tmp_path: Path) -> None:
    with pytest.raises(LampError) as caught:
        read_limits(write(tmp_path, 'wall_wod = 4\nledge = "wide"\nfloor = -1\nshort_grain = true\n'))
    text = str(caught.value)
    assert len(caught.value.faults) == 4
    assert 'did you mean "wall_wood"?' in text
    assert "limits · ledge" in text


@pytest.mark.parametrize("text", ["wall_wood =", "\0", "a = [[[[1", "x" * 200_000])
def test_what_is_no_file_of_limits_is_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(LampError):
        read_limits(write(tmp_path, text))


def test_missing_file_folder_and_other_bytes(tmp_path: Path) -> None:
    for file in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(LampError):
            read_limits(file)
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(LampError):
        read_limits(tmp_path / "bytes.toml")
