import numpy as np
import pytest
from numpy.testing import assert_allclose, assert_array_equal

from stackview.description.lamp import Surface
from stackview.drawings.map_counts import (
    column_bearings,
    map_counts,
    row_elevations,
    surface_edge,
    surface_hides,
)
from stackview.drawings.map_margins import ramp, round_limit
from stackview.sight.bands import Bands, Kind
from stackview.sight.eyes import Standpoint


def bands(*rows: tuple[int, float, float], bearings: int = 4, kind: Kind = Kind.BARE) -> Bands:
    """Bands (bearing number, low, high) of light points of their own."""
    count = len(rows)
    at, low, high = np.array(rows, dtype=float).reshape(-1, 3).T
    whole = np.zeros(count, np.int32)
    kinds = np.full(count, kind, np.int8)
    around = np.arange(bearings) * 360.0 / bearings
    return Bands(
        around, np.arange(count, dtype=np.int32), at.astype(np.int32), low, high, kinds, whole, whole.copy()
    )


def test_counts_are_those_of_the_elevations_in_the_pixels_middles() -> None:
    found = map_counts(bands((0, -20.0, 40.0), (0, 0.0, 60.0)), Kind.BARE, 4, 18)
    # Rows of 10° with middles at 85, 75 … −85; the first bearing has the columns next to the front.
    expected = np.zeros(18)
    expected[3:5] = 1  # 55 and 45
    expected[5:9] = 2  # 35 to 5
    expected[9:11] = 1  # −5 and −15
    assert_array_equal(found.shown[:, 0], expected)
    assert_allclose(found.profile, expected / 4)
    assert found.most == 2


def test_other_classes_are_not_counted() -> None:
    assert map_counts(bands((0, -20.0, 40.0), kind=Kind.VEILED), Kind.BARE, 8, 8).most == 0


@pytest.mark.parametrize("columns", [5, 72, 700])
def test_a_band_is_never_too_narrow_to_be_seen(columns: int) -> None:
    thin = map_counts(bands((17, 3.001, 3.002), bearings=72), Kind.BARE, columns, 100)
    assert thin.most == 1
    row, column = np.argwhere(thin.shown == 1)[0]
    assert abs(row_elevations(100)[row] - 3.0) <= 0.9
    off = abs(column_bearings(columns)[column] - 85.0)
    assert off <= max(180.0 / columns, 2.5) + 1e-9


def test_each_column_takes_its_nearest_bearing_round_the_turn() -> None:
    found = map_counts(bands((0, -90.0, 90.0)), Kind.BARE, 360, 2)
    shown = column_bearings(360)[found.shown[0] > 0]
    assert_allclose(np.minimum(shown, 360.0 - shown).max(), 44.5)
    assert len(shown) == 90


def test_round_table_hides_below_the_line_over_its_rim() -> None:
    """Middle 80 mm up, rim 400 mm off: −atan(80/400) all round."""
    edge = surface_edge(Standpoint(700.0, Surface(700.0, (800.0,))), 80.0, column_bearings(36))
    assert edge is not None
    assert_allclose(edge, -np.degrees(np.arctan(80 / 400)), atol=1e-3)


def test_square_table_hides_less_towards_its_corners() -> None:
    """Half-width over the cosine to the nearer side: 500 mm straight on, 500·√2 across a corner."""
    edge = surface_edge(
        Standpoint(700.0, Surface(700.0, (1000.0, 1000.0))), 80.0, np.array([0.0, 45.0, 60.0, 90.0])
    )
    reach = np.array([500.0, 500 * np.sqrt(2), 500 / np.sin(np.radians(60)), 500.0])
    assert edge is not None
    assert_allclose(edge, -np.degrees(np.arctan(80 / reach)), atol=1e-3)


def test_nothing_is_hidden_without_a_surface_or_from_above() -> None:
    none = Standpoint(0.0, None)
    assert surface_edge(none, 80.0, np.array([0.0])) is None
    table = Standpoint(700.0, Surface(700.0, (800.0,)))
    assert not surface_hides(table, 80.0, np.arange(360.0), np.array([[0.0], [30.0]])).any()


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("most", [1, 2, 7, 200])
def test_ramps_grow_darker_with_every_step_and_stand_apart_from_nothing(kind: Kind, most: int) -> None:
    """By luminance weighted as in ITU-R BT.709, so that the scale reads without colour too."""
    colours = ramp(kind, most).astype(float)
    light = colours @ np.array([0.2126, 0.7152, 0.0722])
    assert len(colours) == most + 1
    assert (np.diff(light[1:]) < 0.5).all()
    assert light[1] - light[-1] > 60 or most == 1
    assert np.abs(colours[1:] - colours[0]).max(axis=1).min() >= 20


@pytest.mark.parametrize("most", [0.03, 1.0, 4.0, 17.2, 161.0, 999.0])
def test_scales_end_at_or_just_past_the_most_with_few_round_steps(most: float) -> None:
    limit, ticks = round_limit(most)
    assert most <= limit * (1 + 1e-9)
    assert limit <= 2 * most
    assert 2 <= len(ticks) <= 5
    assert ticks[0] == 0
    assert ticks[-1] == limit
