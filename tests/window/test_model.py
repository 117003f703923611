"""The lamp on the stage: only what a change of state touches is touched, and nothing is left behind."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from stackview.window.shown import Shown
from stackview.window.state import first_view

pytestmark = pytest.mark.usefixtures("can_draw")
SIZE = (240, 180)


@pytest.fixture
def stage() -> Iterator[object]:
    from stackview.window.stage import Stage

    made = Stage(SIZE, off_screen=True)
    yield made
    made.close()


@pytest.fixture
def model(stage, moor_drum: Shown):  # type: ignore[no-untyped-def]
    from stackview.window.model import Model

    return Model(stage, moor_drum, first_view(moor_drum.ball))


def test_the_same_state_again_is_the_same_picture(stage, model, moor_drum: Shown) -> None:  # type: ignore[no-untyped-def]
    before = stage.picture()
    model.show(first_view(moor_drum.ball))
    assert np.array_equal(stage.picture(), before)


def test_what_has_not_changed_is_not_touched(model, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    touched: list[str] = []
    for name in ("_light", "_spread", "_cut"):
        monkeypatch.setattr(model, name, lambda _, name=name: touched.append(name))
    state = model.last
    model.show(replace(state, bearing=state.bearing + 10.0, elevation=5.0))
    assert touched == []
    model.show(replace(model.last, light=1.0))
    assert touched == ["_light", "_cut"]
    touched.clear()
    model.show(replace(model.last, spread=0.5))
    assert touched == ["_light", "_spread", "_cut"]
    touched.clear()
    model.show(replace(model.last, cut=0.4))
    assert touched == ["_cut"]


def test_there_and_back_again_is_the_first_picture(stage, model) -> None:  # type: ignore[no-untyped-def]
    first, before = model.last, stage.picture()
    for change in ({"spread": 0.7}, {"cut": 0.5}, {"light": 0.0}):
        model.show(replace(first, **change))
        assert not np.array_equal(stage.picture(), before)
        model.show(first)
        assert np.array_equal(stage.picture(), before), change


def test_spreading_lifts_every_part_by_its_own_lift(model) -> None:  # type: ignore[no-untyped-def]
    group = model.walls[0]
    moved: list[np.ndarray] = []
    original = group.surface.move
    group.surface.move = lambda places: (moved.append(places.copy()), original(places))
    model.show(replace(model.last, spread=0.5))
    rise = moved[0][:, 2] - group.places[:, 2]
    assert rise == pytest.approx(0.5 * group.lift, abs=1e-3)
    assert np.ptp(group.lift) > 0.0
    assert (moved[0][:, :2] == group.places[:, :2]).all()


def test_the_lamp_leaves_the_stage_whole(stage, model) -> None:  # type: ignore[no-untyped-def]
    model.show(replace(model.last, cut=0.5))
    model.clear()
    empty = stage.picture()
    # Only the backdrop is left: the same in every column's neighbours, no edge anywhere.
    assert np.abs(np.diff(empty.astype(int), axis=1)).max() <= 3
