"""Defaults by key: written into the file in their place, they change nothing."""

import re
from pathlib import Path
from typing import Any

import pytest

from stackview.description.defaults import CHAMFER_ANGLE, Default
from stackview.description.field_path import spelt
from stackview.description.lamp_file import LampFile
from stackview.description.usual import _USUAL, usual
from stackview.description.written_lamp import WrittenLamp, WrittenMaterial
from stackview.description.written_layer import WrittenChamfer
from stackview.description.written_light import WrittenHelix, WrittenLight
from stackview.errors import LampError

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))


def test_lengths_say_their_unit() -> None:
    assert usual(WrittenLamp, "cutter", {}) == "3.175 mm"
    assert usual(WrittenChamfer, "angle", {}) == CHAMFER_ANGLE.number
    assert usual(WrittenHelix, "hand", {}) == "right"
    assert usual(WrittenLight, "face", {"helix": {}}) == ["2.8 mm", "3.5 mm"]


def test_what_hangs_on_other_keys_is_said_only_where_it_holds() -> None:
    assert usual(WrittenLight, "volts", {}) == 5.0
    assert usual(WrittenLight, "volts", {"port": "usb-c 3 A"}) is None
    assert usual(WrittenLight, "leds_per_metre", {"helix": {}}) == 60.0
    assert usual(WrittenLight, "leds_per_metre", {"helix": {}, "spacing": 5}) is None
    assert usual(WrittenLight, "leds_per_metre", {"diode": {}}) is None
    assert usual(WrittenMaterial, "haze", {"acrylic": "opal"}) == 1.0
    assert usual(WrittenMaterial, "haze", {"wood": "oak"}) is None
    assert usual(WrittenMaterial, "sold", {}) is None


def tables(value: Any, loc: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found = [place for key, each in inner for place in tables(each, (*loc, key))]
    return [loc, *found] if isinstance(value, dict) else found


@pytest.mark.parametrize("demo", DEMOS, ids=lambda file: file.stem)
def test_a_default_written_down_is_the_same_lamp(demo: Path) -> None:
    """Every default told for the demos, written into the file at its path, leaves the lamp as it was."""
    file = LampFile.read(demo)
    keys = sorted({key for _, key in _USUAL} | {"turn", "hand", "first", "repeat", "face", "facing"})
    told = 0
    for loc in tables(file._tables):
        for key in keys:
            path = spelt([*loc, key])
            try:
                if file.is_written(path):
                    continue
                value = file.value(path)
            except LampError:
                continue
            told += 1
            assert values(file.changed({path: value})) == values(file), path
    assert told > 15


def values(file: LampFile) -> str:
    """The whole lamp in words, but for whether a value was written or is the default."""
    return re.sub(r"given=\([^)]*\)", "", repr(file.lamp()))


def test_every_default_is_of_a_key_that_exists() -> None:
    for (model, key), (default, _) in _USUAL.items():
        assert key in {info.alias or name for name, info in model.model_fields.items()}
        assert isinstance(default, Default)
