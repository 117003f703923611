"""Kept answers: the same object for the same value, within bounds, and never another value's answer."""

from dataclasses import dataclass
from threading import Barrier, Thread
from weakref import ref

import numpy as np
import pytest

from stackview.by_value import ENTRY, by_value, mark


@dataclass(frozen=True, slots=True)
class Plate:
    width: float
    corners: tuple[float, ...] = ()


class Thing:
    pass


def test_equal_questions_get_the_same_object() -> None:
    asked = []

    @by_value(100_000)
    def doubled(plate: Plate) -> Plate:
        asked.append(plate)
        return Plate(2.0 * plate.width)

    first = doubled(Plate(3.0, (1.0, 2.0)))
    assert doubled(Plate(3.0, (1.0, 2.0))) is first
    assert doubled(Plate(3.0, (1.0, 2.5))) is not first
    assert len(asked) == len(doubled) == 2


def test_none_is_an_answer_like_others() -> None:
    asked = []

    @by_value(10_000)
    def nothing(number: int) -> None:
        asked.append(number)

    assert nothing(1) is nothing(1) is None
    assert asked == [1]


def test_errors_are_not_kept() -> None:
    asked = []

    @by_value(10_000)
    def refused(number: int) -> int:
        asked.append(number)
        raise ValueError(str(number))

    for _ in range(2):
        with pytest.raises(ValueError, match="7"):
            refused(7)
    assert asked == [7, 7]
    assert refused.bytes == 0


def test_bytes_stay_within_the_bound_and_the_longest_unasked_go_first() -> None:
    @by_value(100_000, size=lambda array: array.nbytes)
    def zeros(length: int) -> np.ndarray:
        return np.zeros(length)

    kept = zeros(1000)
    for length in range(1001, 1100):
        zeros(length)
        assert zeros.bytes <= 100_000
        assert zeros(1000) is kept  # asked for all the time, so never the one to go
    entry = 8 * 1050 + ENTRY
    assert 100_000 / entry - 3 <= len(zeros) <= 100_000 / (8 * 1000 + ENTRY)


def test_what_is_larger_than_the_bound_is_given_but_not_kept() -> None:
    @by_value(10_000, size=lambda array: array.nbytes)
    def zeros(length: int) -> np.ndarray:
        return np.zeros(length)

    small = zeros(10)
    assert len(zeros(100_000)) == 100_000
    assert zeros(10) is small
    assert len(zeros) == 1


def test_threads_that_ask_at_once_are_given_one_object() -> None:
    at_once = Barrier(8)

    @by_value(10_000)
    def made(_: int) -> object:
        at_once.wait(10.0)  # all are at work before the first is done
        return object()

    found: list[object] = []
    threads = [Thread(target=lambda: found.append(made(1))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 8
    assert len(set(map(id, found))) == 1


def test_a_mark_is_for_one_object_and_keeps_nothing_alive() -> None:
    one, other = Thing(), Thing()
    assert mark(one) == mark(one) != mark(other)
    gone, before = ref(one), mark(one)
    del one
    assert gone() is None
    assert mark(Thing()) > before
