"""Lights as written: the layouts that can be chosen, and their limits."""

from dataclasses import fields
from typing import get_args

import pytest
from pydantic import ValidationError

from stackview.description.light_source import Layout
from stackview.description.written_light import LAYOUT_KEYS, STRIP_LAYOUTS, WrittenLight

UNIT = {"unit": "mm"}


def test_every_layout_has_its_key_and_every_key_its_layout() -> None:
    assert {kind.__name__.lower() for kind in get_args(Layout)} == set(LAYOUT_KEYS)
    assert set(LAYOUT_KEYS) <= set(WrittenLight.model_fields)


def test_strips_are_the_layouts_with_a_strip() -> None:
    with_strip = {
        kind.__name__.lower() for kind in get_args(Layout) if "strip" in {each.name for each in fields(kind)}
    }
    assert with_strip == set(STRIP_LAYOUTS)


def test_what_is_left_out_is_not_guessed_here() -> None:
    light = WrittenLight.model_validate({"helix": {"pitch": 20}}, context=UNIT)
    assert light.helix is not None
    assert light.helix.pitch.mm == 20.0
    assert (light.helix.hand, light.helix.first, light.helix.turns) == ("right", 0.0, None)
    assert light.lumens is light.watts is light.volts is light.port is None
    assert not light.continuous
    assert not light.fed_at_both_ends


@pytest.mark.parametrize(
    "wrong",
    [
        {"helix": {"pitch": 0}},
        {"helix": {"pitch": 20, "hand": "clockwise"}},
        {"runs": {"count": 0}},
        {"ring": {"diameter": 60, "count": 12, "facing": "back"}},
        {"panel": {"columns": 3, "rows": 2.5}},
        {"diode": {"tilt": 91}},
        {"diode": {}, "beam": 0},
        {"diode": {}, "beam": 181},
        {"diode": {}, "volts": 230},
        {"diode": {}, "volt": 5},
    ],
)
def test_what_no_lamp_has_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        WrittenLight.model_validate(wrong, context=UNIT)
