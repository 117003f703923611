"""Every layout says what carries it and whether that is a strip."""

from typing import get_args

import pytest

from stackview.description.light_source import (
    Diode,
    Emitter,
    Feed,
    Helix,
    Layout,
    Light,
    Panel,
    Ring,
    Runs,
    Strip,
)

STRIP = Strip(spacing=10.0, cut_every=20.0, width=8.0, thickness=2.0)
EVERY = (
    Helix(STRIP, 24.0, 5.0, 0.0, "right", None, None),
    Runs(STRIP, 3, 10.0, 5.0, None),
    Ring(50.0, 6, "base", 4.0, "out", 0.0),
    Panel(3, 2, 10.0, "plate", "up", (0.0, 0.0)),
    Diode("lid", "down", (0.0, 0.0), 3.0, 0.0, 0.0),
)


def test_every_layout_is_asked() -> None:
    assert {type(layout) for layout in EVERY} == set(get_args(Layout))


@pytest.mark.parametrize(
    ("layout", "carrier"), list(zip(EVERY, ("core", "core", "base", "plate", "lid"), strict=True))
)
def test_what_carries_a_light(layout: Layout, carrier: str) -> None:
    assert layout.carrier == carrier
    assert (layout.strip is STRIP) == (carrier == "core")
    light = Light("light", layout, Emitter(120.0, (2.8, 3.5), 2700.0, None, None), Feed(5.0, None))
    assert light.on_core is (layout if carrier == "core" else None)


def test_only_a_power_diode_takes_a_set_current() -> None:
    assert [layout.set_current for layout in EVERY] == [False] * 4 + [True]


def test_runs_stand_evenly_around() -> None:
    assert EVERY[1].bearings() == (10.0, 130.0, 250.0)
