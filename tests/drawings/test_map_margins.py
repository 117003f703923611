"""Round the sightline map: round scales, colour ramps, places on the sheet, and what is marked."""

from dataclasses import replace
from math import isclose

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.drawings.map_margins import (
    HIDDEN_COLOUR,
    RAMPS,
    MapPlan,
    _round_numbers,
    ramp,
    rgb,
    round_limit,
)
from stackview.light.colour import LUMINANCE
from stackview.sight.bands import Kind

PLAN = MapPlan(
    left=40,
    low=60,
    wide=720,
    high=360,
    profile_left=780.0,
    profile_wide=80.0,
    labels_left=870.0,
)


@given(st.floats(1e-6, 1e6))
def test_a_scale_holds_its_most_in_at_most_four_round_steps(most: float) -> None:
    limit, ticks = round_limit(most)
    assert limit >= most * (1 - 1e-9)
    assert ticks[0] == 0.0
    assert ticks[-1] == pytest.approx(limit)
    assert 2 <= len(ticks) <= 5
    step = ticks[1]
    lead = step / 10.0 ** np.floor(np.log10(step) + 1e-9)
    assert any(isclose(lead, round_one, rel_tol=1e-9) for round_one in (1.0, 2.0, 5.0))
    # No finer scale would do, and no step is wasted.
    assert limit - step < most


def test_a_scale_of_nothing_still_has_two_ends() -> None:
    assert round_limit(0.0) == (1.0, (0.0, 1.0))


def test_places_on_the_sheet_are_straight_lines() -> None:
    assert (PLAN.at(-90.0), PLAN.at(0.0), PLAN.at(90.0)) == (60.0, 240.0, 420.0)
    assert (PLAN.over(0.0), PLAN.over(90.0), PLAN.over(360.0)) == (40.0, 220.0, 760.0)
    assert PLAN.right == 860.0
    assert replace(PLAN, profile_wide=0.0).right == 760.0


@pytest.mark.parametrize("kind", list(Kind))
def test_a_ramp_begins_at_hidden_and_ends_at_its_own_ends(kind: Kind) -> None:
    colours = ramp(kind, 9)
    assert colours.shape == (10, 3)
    assert tuple(colours[0]) == rgb(HIDDEN_COLOUR)
    assert tuple(colours[1]) == rgb(RAMPS[kind][0])
    assert tuple(colours[-1]) == rgb(RAMPS[kind][-1])


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("most", [2, 3, 17, 320])
def test_a_ramp_reads_in_grey(kind: Kind, most: int) -> None:
    # Linear light by the sRGB curve (IEC 61966-2-1), weighed to luminance: it only ever falls.
    share = ramp(kind, most).astype(float) / 255.0
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    assert (np.diff(linear @ LUMINANCE)[1:] <= 1e-3).all()


def test_ramps_of_none_and_one() -> None:
    assert ramp(Kind.BARE, 0).shape == (1, 3)
    one = ramp(Kind.BARE, 1)
    assert one.shape == (2, 3)
    assert tuple(one[1]) == rgb(RAMPS[Kind.BARE][2])


@given(st.integers(1, 10**6), st.integers(0, 10**6))
def test_numbers_of_a_scale_are_round_and_no_nearer_than_asked(apart: int, most: int) -> None:
    most = min(most, 200 * apart)
    numbers = _round_numbers(apart, most)
    assert all(number <= most for number in numbers)
    steps = set(np.diff([0, *numbers]).tolist())
    assert len(steps) <= 1
    for step in steps:
        assert step >= apart
        assert str(step).rstrip("0") in ("1", "2", "5")


def test_colours_are_read_as_written() -> None:
    assert rgb("#00ff10") == (0, 255, 16)
