import numpy as np

from stackview.curves.ranges import ranges


def test_numbers_from_each_start_on() -> None:
    found = ranges(np.array([4, 9, 0, 2]), np.array([3, 0, 1, 2]))
    assert found.tolist() == [4, 5, 6, 0, 2, 3]


def test_nothing_counted_is_nothing() -> None:
    assert len(ranges(np.array([4, 9]), np.array([0, 0]))) == 0
    assert len(ranges(np.zeros(0, np.int64), np.zeros(0, np.int64))) == 0
