"""Beams through clear acrylic: straight on through a flat plate, ordered by bearing, and none without acrylic."""

import os

import numpy as np
import pytest

from stackview.arrays import read_only
from stackview.at_once import split_off
from stackview.sight.beams import TOLERANCE, UPRIGHT, WIDE_TUBE, WORDED, traced
from stackview.sight.scene import scene_of
from tests.lamps import box, light_points

PANE = box("pane", (-200, -40, -200), (200, -34, 200), "clear")
POINT = light_points([(0, 0, 0)], [(0, -1, 0)])


@pytest.fixture(scope="module")
def beams():  # type: ignore[no-untyped-def]
    return traced(scene_of((PANE,)), POINT)


def test_without_clear_acrylic_there_are_none_and_progress_is_whole() -> None:
    told: list[int] = []
    board = box("board", (-50, -40, -50), (50, -34, 50))
    found = traced(scene_of((board,)), POINT, progress=told.append)
    assert (len(found), found.count, sum(told)) == (0, 1, 1)
    assert len(traced(scene_of((PANE,)), light_points([], []))) == 0


def test_light_that_several_follow_at_once_is_what_one_follows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 1}, raising=False)
    monkeypatch.setattr("stackview.sight.beams._FEW", 1)
    small = scene_of((box("pane", (-20, -24, -20), (20, -20, 20), "clear"),))
    # Two that stand alike before the middle: some of their light leaves at the same bearings.
    pair, told = light_points([(-3, 0, 0), (3, 0, 0)], [(0, -1, 0)] * 2), list[int]()
    found, alone = traced(small, pair, progress=told.append, at_once=split_off), traced(small, pair)
    for name in alone.__slots__:
        np.testing.assert_array_equal(getattr(found, name), getattr(alone, name))
    assert len(set(found.point.tolist())) == sum(told) == 2


def test_a_flat_plate_shifts_light_and_does_not_turn_it(beams) -> None:  # type: ignore[no-untyped-def]
    # Snell's law twice at two parallel faces: the ray leaves as it came.
    by_front = np.abs(beams.places[..., 1] + 40.0).max(axis=1) < 1e-3
    assert by_front.sum() > 100
    # Whichever way the rim has sent it in between, its angle to the faces stays.
    ways = beams.directions[by_front].astype(float)
    slope = np.degrees(np.arcsin(np.abs(ways[..., 1]) / np.linalg.norm(ways, axis=-1))).mean(axis=1)
    sent = beams.sent[by_front].astype(float)
    begun = np.degrees(np.arcsin(np.abs(sent[:, 1]) / np.linalg.norm(sent, axis=1)))
    # Near straight on, the mean of three slopes is not the slope of their mean.
    steep = (begun > 20.0) & (begun < 80.0)
    assert slope[steep] == pytest.approx(begun[steep], abs=TOLERANCE)


def test_the_shift_is_that_of_snells_law(beams) -> None:  # type: ignore[no-untyped-def]
    # Leaving by the far face at distance 34·tan θ + 6·tan θ' with sin θ = 1.49·sin θ'.
    by_front = np.abs(beams.places[..., 1] + 40.0).max(axis=1) < 1e-3
    places, ways = beams.places[by_front].astype(float), beams.directions[by_front].astype(float)
    sine = np.hypot(ways[..., 0], ways[..., 2]) / np.linalg.norm(ways, axis=-1)
    within = np.arcsin(sine / 1.49)
    expected = 34.0 * np.tan(np.arcsin(sine)) + 6.0 * np.tan(within)
    found = np.hypot(places[..., 0], places[..., 2])
    near = sine < 0.9
    assert found[near] == pytest.approx(expected[near], abs=0.02)


def test_tubes_are_ordered_and_those_that_spread_stand_first(beams) -> None:  # type: ignore[no-untyped-def]
    rest = beams.bearing[beams.wide :]
    assert (np.diff(rest) >= 0).all()
    assert ((beams.bearing >= 0) & (beams.bearing < 360)).all()
    ways = beams.directions[beams.wide :].astype(float)
    assert np.degrees(np.arcsin(np.abs(ways[..., 2]) / np.linalg.norm(ways, axis=-1))).max() <= UPRIGHT + 1e-3
    corners = np.degrees(np.arctan2(ways[..., 0], -ways[..., 1]))
    spread = np.abs((corners - rest[:, None] + 180.0) % 360.0 - 180.0)
    assert spread.max() <= WIDE_TUBE + 1e-3


def test_reach_holds_every_place(beams) -> None:  # type: ignore[no-untyped-def]
    from_axis, from_middle = beams.reach
    assert np.hypot(beams.places[..., 0], beams.places[..., 1]).max() <= from_axis + 1e-3
    assert np.linalg.norm(beams.places - beams.middle, axis=-1).max() <= from_middle + 1e-3


def test_solid_angles_are_those_of_half_a_space_at_most(beams) -> None:  # type: ignore[no-untyped-def]
    assert (beams.angle >= 0).all()
    assert beams.angle.sum() < 2 * np.pi


def test_arrays_are_read_only_and_other_things_are_left_alone(beams) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match="read-only"):
        beams.places[0] = 0
    own = np.zeros(3)
    read_only((own, 5, None, "word"))
    assert not own.flags.writeable


def test_the_tolerance_is_said_in_words() -> None:
    assert f"good to {TOLERANCE:g}°" in WORDED
