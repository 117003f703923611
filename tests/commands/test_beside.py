"""Works beside an answer's own: with the first that it splits up, and each given back to whoever asked."""

from collections.abc import Callable, Sequence
from functools import partial

import pytest

from stackview.at_once import one_by_one
from stackview.commands.beside import Beside


def logged(done: list[str], name: str) -> str:
    done.append(name)
    return name.upper()


def test_works_go_with_the_first_that_an_answer_splits_up_the_last_of_them_first() -> None:
    done = list[str]()
    beside = Beside(one_by_one)
    work = partial(partial, logged, done)

    def answer() -> list[str]:
        return [*beside([work("a"), work("b")]), *beside([work("c")])]

    more, own = beside.together([work("x"), work("y"), work("z")], answer)
    assert (more, own) == (["X", "Y", "Z"], ["A", "B", "C"])
    assert done == ["z", "x", "y", "a", "b", "c"] or done[0] == "z"
    assert sorted(done) == ["a", "b", "c", "x", "y", "z"]


@pytest.mark.parametrize("more", [0, 1, 2])
def test_an_answer_that_splits_nothing_up_is_followed_by_them(more: int) -> None:
    done = list[str]()
    beside = Beside(one_by_one)
    works: Sequence[Callable[[], str]] = [partial(logged, done, f"x{number}") for number in range(more)]
    assert beside.together(works, partial(logged, done, "own")) == ([f"X{k}" for k in range(more)], "OWN")
    assert done[0] == "own"
    # and nothing of it is left for the next
    assert beside.together([], lambda: beside([int])) == ([], [0])
