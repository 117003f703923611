"""The least change: inside its bracket, the first count that holds past one that does not."""

from hypothesis import given
from hypothesis import strategies as st

from stackview.change.least import least_that_holds


@given(st.integers(1, 99), st.integers(0, 50))
def test_a_threshold_is_met_exactly(far: int, first: int) -> None:
    assert least_that_holds(lambda count: count >= far, first, 99) == far


def test_the_greatest_change_is_tried_too_and_nothing_beyond() -> None:
    assert least_that_holds(lambda count: count >= 100, 3, 100) == 100
    assert least_that_holds(lambda count: count >= 101, 3, 100) is None


def test_a_window_is_found_and_not_left_by_halving() -> None:
    # holds from 10 to 20 alone: 5, 8, 12 reaches it
    assert least_that_holds(lambda count: 10 <= count <= 20, 5, 100) == 10


@given(st.integers(1, 60), st.integers(1, 60))
def test_what_is_found_holds_and_the_count_before_it_does_not(low: int, width: int) -> None:
    def holds(count: int) -> bool:
        return low <= count <= low + width or count > 3 * low + width

    found = least_that_holds(holds, 1, 200)
    assert found is not None
    assert holds(found)
    assert found == 1 or not holds(found - 1)


def test_few_counts_are_asked() -> None:
    asked: list[int] = []

    def holds(count: int) -> bool:
        asked.append(count)
        return count >= 70

    assert least_that_holds(holds, 30, 100) == 70
    assert len(asked) == len(set(asked)) <= 9
