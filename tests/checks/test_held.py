"""At the limit is within the limit, and a number counts as it is said."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.held import TENTH, WHOLE_NUMBER, over, under


@pytest.mark.parametrize("limit", [0.0, 0.05, 3.0, 6.0, 60.0])
def test_at_the_limit_is_within_it(limit: float) -> None:
    assert not over(limit, limit)
    assert not under(limit, limit)
    assert over(limit + 0.01, limit)
    assert under(limit - 0.01, limit)


@given(st.integers(-100_000, 100_000), st.floats(-0.0049, 0.0049))
def test_what_is_said_as_the_limit_keeps_it(hundredths: int, off: float) -> None:
    limit = hundredths / 100.0
    assert not over(limit + off, limit)
    assert not under(limit + off, limit)


def test_angles_and_temperatures_are_said_more_coarsely() -> None:
    assert not under(14.96, 15.0, TENTH)
    assert under(14.9, 15.0, TENTH)
    assert not over(60.4, 60.0, WHOLE_NUMBER)
    assert over(61.0, 60.0, WHOLE_NUMBER)
