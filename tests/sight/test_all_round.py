"""Bands that can be asked at any bearing, against bands worked out at that bearing."""

import numpy as np
import pytest

from stackview.light.points import LightPoints
from stackview.sight.all_round import BEARING_STEP, BEARING_STEPS, all_round
from stackview.sight.bands import Kind, all_bands
from stackview.sight.scene import scene_of
from tests.lamps import box, light_points, ring, tiers_with_a_window, wound


def at_any_bearing(scene, points: LightPoints, bearings: np.ndarray, away: float):  # type: ignore[no-untyped-def]
    """Heights of bands' ends ``away`` from each point, by both ways: (point, bearing, kind, low, high) rows."""
    around = all_round(scene, points)
    bands = all_bands(scene, points, bearings)
    bands = bands.chosen(bands.kind != Kind.GLAZED)
    for index in range(len(points)):
        x, y, z = around.places[index]
        for number, bearing in enumerate(np.radians(bearings)):
            place = np.array([x + away * np.sin(bearing)]), np.array([y - away * np.cos(bearing)])
            _, band = around.over(np.array([index]), *place)
            low, high = (
                end[0, band] + end[1, band] * place[0] + end[2, band] * place[1]
                for end in (around.low, around.high)
            )
            own = (bands.point == index) & (bands.bearing == number)
            exact_low, exact_high = (
                z + away * np.tan(np.radians(end[own])) for end in (bands.low, bands.high)
            )
            yield around.kind[band], low, high, bands.kind[own], exact_low, exact_high


def test_at_any_bearing_the_ends_are_those_that_are_worked_out_there() -> None:
    placed, _ = tiers_with_a_window()
    rng = np.random.default_rng(5)
    bearings = np.sort(rng.uniform(0.0, 360.0, 60))
    other = 0
    rows = list(at_any_bearing(scene_of(placed), wound(4, 12.0, 10.0, 60.0), bearings, 1000.0))
    for kind, low, high, exact_kind, exact_low, exact_high in rows:
        if not np.array_equal(kind, exact_kind):
            # Only within the finest step of where a band begins or ends sideways.
            other += 1
            continue
        near = np.abs(exact_low) < 1e5, np.abs(exact_high) < 1e5
        assert low[near[0]] == pytest.approx(exact_low[near[0]], abs=0.1)
        assert high[near[1]] == pytest.approx(exact_high[near[1]], abs=0.1)
    assert other <= 2


def test_a_window_begins_sideways_where_its_edges_stand() -> None:
    """A wall with a gap from y = −10 to 10, 50 mm to the right: ±atan(10/52) about the bearing of 90°,
    past the edges on the wall's far side."""
    wall = tuple(box(f"wall {k}", low, high) for k, (low, high) in enumerate(WALL))
    points = light_points(np.array([[0.0, 0.0, 20.0]]), np.array([[1.0, 0.0, 0.0]]))
    around = all_round(scene_of(wall), points)
    shown = around.count[around.look[0]]
    half = np.degrees(np.arctan2(10.0, 52.0))
    steps = np.arange(BEARING_STEPS) * BEARING_STEP
    # Over and under the wall the point shows anyway; between its edges there is one band and no other.
    through = np.flatnonzero((shown == 1) & (steps > 60.0) & (steps < 120.0))
    assert steps[through[0]] == pytest.approx(90.0 - half, abs=BEARING_STEP)
    assert steps[through[-1]] == pytest.approx(90.0 + half, abs=BEARING_STEP)


WALL = (
    ((50.0, -200.0, 0.0), (52.0, -10.0, 40.0)),
    ((50.0, 10.0, 0.0), (52.0, 200.0, 40.0)),
)


def test_no_light_points_have_no_bands() -> None:
    none = light_points(np.zeros((0, 3)), np.zeros((0, 3)))
    around = all_round(scene_of((ring("ring", 40.0, 50.0, 0.0, 10.0),)), none)
    assert len(around) == 0
    assert len(around.kind) == 0
