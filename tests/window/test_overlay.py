"""Panels over the lamp: drawn anew only when what they show has changed, and hidden when it is gone."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from stackview.spots.eye_spots import PlateSpots
from stackview.window.onlooker import PlatesHere
from stackview.window.overlay import _far_side, marks_of
from stackview.window.shown import Shown, display_camera
from stackview.window.state import first_view

pytestmark = pytest.mark.usefixtures("can_draw")
SIZE = (900, 640)


@pytest.fixture
def overlay(honeycomb: Shown) -> Iterator[object]:
    from stackview.window.overlay import Overlay
    from stackview.window.stage import Stage

    stage = Stage(SIZE, off_screen=True)
    yield Overlay(stage, honeycomb)
    stage.close()


def test_panels_lie_inside_the_window_and_apart(overlay, honeycomb: Shown) -> None:  # type: ignore[no-untyped-def]
    overlay.show(first_view(honeycomb.ball))
    assert {"readout", "sliders", "hint", "map"} <= set(overlay.laid)
    covered = np.zeros((SIZE[1], SIZE[0]), int)
    for laid in overlay.laid.values():
        assert laid.left >= 0
        assert laid.low >= 0
        assert laid.left + laid.slip.width <= SIZE[0]
        assert laid.low + laid.slip.height <= SIZE[1]
        covered[laid.low : laid.low + laid.slip.height, laid.left : laid.left + laid.slip.width] += 1
    assert covered.max() == 1


def test_only_what_has_changed_is_drawn_anew(overlay, honeycomb: Shown) -> None:  # type: ignore[no-untyped-def]
    state = first_view(honeycomb.ball)
    overlay.show(state)
    before = dict(overlay.laid)
    overlay.show(state)
    assert all(overlay.laid[name] is before[name] for name in before)
    overlay.show(replace(state, light=1.0))
    changed = {name for name in before if overlay.laid[name] is not before[name]}
    assert changed == {"sliders"}
    overlay.show(replace(state, light=1.0, bearing=state.bearing + 30.0))
    changed = {name for name in before if overlay.laid[name] is not before[name]}
    assert changed == {"sliders", "readout", "map"}


def test_words_come_and_go(overlay, honeycomb: Shown) -> None:  # type: ignore[no-untyped-def]
    state = first_view(honeycomb.ball)
    for field, value in (("error", "line 3: no"), ("message", "saved"), ("help", True)):
        overlay.show(replace(state, **{field: value}))
        assert field in overlay.laid
        overlay.show(state)
        assert field not in overlay.laid


def test_another_lamp_is_drawn_anew(overlay, honeycomb: Shown, moor_drum: Shown) -> None:  # type: ignore[no-untyped-def]
    overlay.show(first_view(honeycomb.ball))
    before = dict(overlay.laid)
    overlay.adopt(moor_drum)
    overlay.show(first_view(moor_drum.ball))
    assert overlay.laid["readout"] is not before["readout"]
    assert overlay.laid["map"] is not before["map"]


def test_edges_that_would_have_to_grow_are_told_only_when_asked(overlay, honeycomb: Shown) -> None:  # type: ignore[no-untyped-def]
    state = first_view(honeycomb.ball)
    overlay.show(state)
    assert "growth" not in overlay.laid
    overlay.show(replace(state, grow=True))
    assert "growth" in overlay.laid
    # While the hand moves, nothing is said rather than something about another place.
    overlay.growth_took = 10.0
    overlay.show(replace(state, grow=True, bearing=state.bearing + 40.0), quick=True)
    assert "growth" not in overlay.laid


def test_the_acrylic_is_told_only_for_where_the_eye_is(overlay, honeycomb: Shown) -> None:  # type: ignore[no-untyped-def]
    state = first_view(honeycomb.ball)
    overlay.show(state)
    assert "plates" not in overlay.laid
    plate = PlateSpots("plate 1", 2.6, 0.1, 500.0, 190.0, 0.01, ())
    where = state.bearing, state.elevation, state.distance
    overlay.plates = PlatesHere(where, (plate,) * 5, looking=False)
    overlay.show(replace(state, grow=True))
    told, grown = overlay.laid["plates"], overlay.laid["growth"]
    assert grown.low + grown.slip.height < told.low
    assert told.low + told.slip.height < overlay.laid["readout"].low
    assert grown.low > overlay.laid["sliders"].low + overlay.laid["sliders"].slip.height
    overlay.show(replace(state, bearing=state.bearing + 1.0), quick=True)
    assert "plates" not in overlay.laid
    overlay.show(state)
    assert "plates" in overlay.laid
    overlay.adopt(honeycomb)
    overlay.show(state)
    assert "plates" not in overlay.laid


def test_no_rings_where_none_are_wanted(overlay, honeycomb: Shown) -> None:  # type: ignore[no-untyped-def]
    state = replace(first_view(honeycomb.ball), elevation=-10.0)
    overlay.show(state)
    found = overlay.found
    with_rings = marks_of(state, honeycomb, found, (), overlay.plan)
    without = marks_of(replace(state, rings=False), honeycomb, found, (), overlay.plan)
    assert len(without.triangles) == 0
    assert (len(with_rings.triangles) > 0) == (len(found.bare) > 0)


def test_far_is_behind_the_axis(honeycomb: Shown) -> None:
    eye = display_camera(replace(first_view(honeycomb.ball), bearing=0.0), honeycomb, SIZE).eye
    # Bearing 0° is the front, −y: the eye is there, so what lies at +y is far.
    lines = np.array([[[-5.0, 40.0, 10.0], [5.0, 40.0, 10.0]], [[-5.0, -40.0, 10.0], [5.0, -40.0, 10.0]]])
    assert _far_side(lines, eye).tolist() == [True, False]
