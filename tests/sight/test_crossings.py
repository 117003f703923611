"""Silhouettes and their crossings: bearings, the count below a line, and tangents in closed form."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.sight.bands import NARROWEST, Kind, all_bands
from stackview.sight.crossings import bearings_of, in_order, wrapped
from stackview.sight.scene import scene_of
from tests.lamps import box, disc, light_points, ring


@given(st.floats(-720.0, 720.0))
def test_bearings_are_those_of_the_guide(bearing: float) -> None:
    # (sin b, −cos b): 0° front (−y), 90° right (+x).
    turn = np.radians(bearing)
    offset = np.array([[np.sin(turn), -np.cos(turn), 3.0]])
    found = float(bearings_of(offset)[0])
    assert np.cos(found - turn) == pytest.approx(1.0, abs=1e-12)


@given(st.floats(-3 * np.pi + 1e-9, 3 * np.pi))
def test_angles_are_wrapped_by_whole_turns(angle: float) -> None:
    found = float(wrapped(np.array([angle]))[0])
    turns = (angle - found) / (2 * np.pi)
    assert turns == pytest.approx(round(turns), abs=1e-9)
    assert -np.pi - 1e-12 <= found <= np.pi + 1e-12


def bands_at(parts, points, bearing: float):  # type: ignore[no-untyped-def]
    found = all_bands(scene_of(parts), points, np.array([bearing]))
    bare = found.kind == Kind.BARE
    order = np.argsort(found.low[bare])
    return np.stack([found.low[bare][order], found.high[bare][order]], axis=1)


FRONT = light_points([(0, 0, 25)], [(0, -1, 0)])


@given(st.floats(-70.0, 70.0))
def test_a_slot_opens_between_the_tangents_of_its_edges(bearing: float) -> None:
    # Boards 100 mm square: the front edges are 50 mm away at bearing 0, 50/cos b at bearing b,
    # or 50/sin b at the sides.
    turn = np.radians(abs(bearing))
    far = 50.0 / max(np.cos(turn), np.sin(turn))
    parts = (box("base", (-50, -50, 0), (50, 50, 10)), box("lid", (-50, -50, 50), (50, 50, 60)))
    (band,) = bands_at(parts, FRONT, bearing % 360.0)
    low, high = np.degrees(np.arctan2([-15.0, 25.0], far))
    assert band == pytest.approx([low, high], abs=1e-5)


def test_every_body_in_the_way_closes_its_own_stretch() -> None:
    # Two rings round the point, 40 to 50 mm out, their inner edges 5 mm below and above it: between
    # them it is open as far as the outer rims let it, beyond them from the inner ones.
    rings = (ring("low", 40.0, 50.0, 0.0, 20.0, facets=720), ring("high", 40.0, 50.0, 30.0, 50.0, facets=720))
    found = bands_at(rings, FRONT, 0.0)
    inner, outer = np.degrees(np.arctan2(5.0, 50.0)), np.degrees(np.arctan2(25.0, 40.0))
    expected = [[-90.0, -outer], [-inner, inner], [outer, 90.0]]
    assert found == pytest.approx(np.array(expected), abs=0.01)


def test_nothing_in_the_way_is_one_open_half() -> None:
    (band,) = bands_at((disc("far below", 1.0, -1e4, -1e4 + 1),), FRONT, 0.0)
    assert band[1] == pytest.approx(90.0, abs=1e-6)
    assert band[0] < -89.0


@pytest.mark.parametrize("enough", [32, 64])
def test_crossings_are_put_in_order_of_line_and_elevation(enough: int, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    # Packed into whole numbers; and, where these have no room, by sorting places.
    monkeypatch.setattr("stackview.sight.crossings._ENOUGH_BITS", enough)
    draw = np.random.default_rng(3)
    line = np.concatenate([np.arange(50), draw.integers(0, 50, 3000)])
    elevation = np.concatenate([np.full(50, -np.pi / 2), draw.uniform(-np.pi / 2, np.pi / 2, 3000)])
    line[50:54], elevation[50:54] = [0, 0, 49, 49], [-np.pi / 2, np.pi / 2, -np.pi / 2, np.pi / 2]
    order = in_order(line, elevation, 50)
    assert sorted(order.tolist()) == list(range(3050))
    changes = np.diff(line[order])
    assert (changes >= 0).all()
    assert (np.diff(elevation[order])[changes == 0] > -NARROWEST).all()
    assert order[np.append(0, np.flatnonzero(changes) + 1)].tolist() == list(range(50))
