"""Elevations as they are said."""

import pytest

from stackview.checks.elevations import elevations, ranges_joined


@pytest.mark.parametrize(
    ("low", "high", "places", "said"),
    [
        (5.0, 5.0, 0, "of about +5°"),
        (4.6, 5.4, 0, "of about +5°"),
        (4.4, 5.4, 0, "between +4° and +5°"),
        (-0.4, 0.4, 0, "of about 0°"),
        (-0.04, 0.06, 1, "between 0.0° and +0.1°"),
        (-12.34, -1.0, 1, "between −12.3° and −1.0°"),
    ],
)
def test_two_that_read_alike_are_said_once(low: float, high: float, places: int, said: str) -> None:
    assert elevations(low, high, places) == said


def test_ranges_that_meet_are_one_and_others_stay_apart() -> None:
    assert ranges_joined([]) == []
    assert ranges_joined([(6.0, 21.0), (-21.0, -6.0)]) == [(-21.0, -6.0), (6.0, 21.0)]
    assert ranges_joined([(0.0, 5.0), (5.0, 6.0), (1.0, 2.0)]) == [(0.0, 6.0)]
