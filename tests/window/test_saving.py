"""A saved view: the studio's own picture from the window's camera."""

from dataclasses import replace

import numpy as np
import pytest

from stackview.stills.kept_light import baked
from stackview.stills.mix import STUDIO
from stackview.stills.studio import shoot
from stackview.window import saving
from stackview.window.keys import after_key
from stackview.window.saving import picture_size, setting_of, view_picture
from stackview.window.shown import Shown, display_camera
from stackview.window.state import after_slider, first_view


@pytest.fixture
def _small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(saving, "WIDTH", 240)


@pytest.mark.usefixtures("_small")
def test_a_plain_view_is_the_previews_picture(honeycomb: Shown) -> None:
    state = first_view(honeycomb.ball)
    size = picture_size((900, 640))
    assert size == (240, 171)
    surface = honeycomb.study.sightlines.standpoint.surface
    expected = shoot(
        baked(honeycomb.setting), display_camera(state, honeycomb, size), mix=STUDIO, surface=surface
    )
    assert np.array_equal(view_picture(honeycomb, state, (900, 640)), expected)


def test_spread_and_cut_parts_are_where_the_window_has_them(honeycomb: Shown) -> None:
    state = after_slider(after_key(first_view(honeycomb.ball), "c", honeycomb), "spread", 0.5)
    found = setting_of(honeycomb, state)
    lift = {p.name: up for p, up in zip(honeycomb.setting.placed, honeycomb.lift, strict=True)}
    for part in found.placed:
        before = honeycomb.study.stack.part(part.name)
        assert part.underside == pytest.approx(before.underside + 0.5 * lift[part.name])
    away = np.array([-np.sin(np.radians(state.cut_bearing)), np.cos(np.radians(state.cut_bearing)), 0.0])
    for part in found.placed:
        if part.role == "layer":
            assert (part.solid.vertices @ away).min() >= -1e-6
    assert len(found.points) == len(honeycomb.study.light.points)


@pytest.mark.usefixtures("_small")
def test_a_cut_view_differs_from_a_whole_one(moor_drum: Shown) -> None:
    state = first_view(moor_drum.ball)
    whole = view_picture(moor_drum, state, (640, 480))
    cut = view_picture(moor_drum, replace(state, cut=0.5, cut_bearing=state.bearing), (640, 480))
    assert whole.shape == cut.shape == (180, 240, 3)
    assert np.abs(whole.astype(int) - cut)[60:120, 90:150].mean() > 10
