"""Works at once: the same answers in the same order as one by one, errors as they are, no process left behind."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from stackview import at_once
from stackview.at_once import begun_behind, one_by_one, split_off

apart = pytest.mark.skipif(sys.platform != "linux", reason="processes are split off on Linux alone")


_SPLIT_OFF: list[int] = []
"""Processes that the test now running has split off."""


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    _SPLIT_OFF.clear()
    if sys.platform == "linux":
        monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 1})
        fork = os.fork

        def counted() -> int:
            process = fork()
            _SPLIT_OFF.append(process)
            return process

        monkeypatch.setattr(os, "fork", counted)


def nobody_is_left() -> bool:
    """Whether all that were split off have been waited for; what other tests have started is none of ours."""
    return bool(_SPLIT_OFF) and all(map(_is_gone, _SPLIT_OFF))


def _is_gone(process: int) -> bool:
    try:
        os.waitpid(process, os.WNOHANG)
    except ChildProcessError:
        return True
    return False


@pytest.mark.parametrize("count", [0, 1, 2, 3, 7])
def test_answers_come_in_order(count: int) -> None:
    works = [partial(pow, number, 2) for number in range(count)]
    assert split_off(works) == one_by_one(works) == [number**2 for number in range(count)]


@apart
def test_the_last_is_done_here_and_another_beside_it() -> None:
    other, here = split_off([os.getpid, os.getpid])
    assert here == os.getpid() != other
    assert nobody_is_left()


@apart
def test_an_answer_larger_than_a_pipe_holds_arrives_whole() -> None:
    large, small = split_off([lambda: b"x" * 3_000_000, lambda: b"y"])
    assert (len(large), small) == (3_000_000, b"y")


def refuses() -> int:
    raise ValueError("the work's own words")


@pytest.mark.parametrize("works", [(refuses, int), (int, refuses)])
def test_errors_are_the_works_own(works: tuple[Callable[[], int], ...]) -> None:
    with pytest.raises(ValueError, match="own words"):
        split_off(works)
    assert sys.platform != "linux" or nobody_is_left()


@apart
def test_what_dies_on_its_way_is_done_here() -> None:
    here = os.getpid()

    def dies() -> int:
        return 7 if os.getpid() == here else os._exit(0)

    def answers_nothing_that_can_be_sent() -> Callable[[], int]:
        return lambda: 8

    assert split_off([dies, lambda: 1]) == [7, 1]
    sent, _ = split_off([answers_nothing_that_can_be_sent, answers_nothing_that_can_be_sent])
    assert sent() == 8
    assert nobody_is_left()


@apart
def test_what_was_split_off_has_no_terminal(capfd: pytest.CaptureFixture[str]) -> None:
    def prints() -> tuple[bool, bool]:
        print("out")
        print("err", file=sys.stderr)
        return sys.stdout.isatty(), sys.stderr.isatty()

    assert split_off([prints, int]) == [(False, False), 0]
    assert capfd.readouterr() == ("", "")


@apart
def test_a_process_that_was_split_off_splits_no_more() -> None:
    (first, second), _ = split_off([lambda: split_off([os.getpid, os.getpid]), list])
    assert first == second != os.getpid()


@apart
def test_other_threads_split_nothing_off() -> None:
    found = list[list[int]]()
    thread = threading.Thread(target=lambda: found.append(split_off([os.getpid, os.getpid])))
    thread.start()
    thread.join()
    assert found == [[os.getpid()] * 2]


def test_one_by_one_the_last_comes_first() -> None:
    done = list[int]()
    at_once.one_by_one([partial(done.append, 1), partial(done.append, 2)])
    assert done == [2, 1]


@apart
def test_what_hangs_is_given_up_and_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(at_once, "_PATIENCE", 0.2)
    here = os.getpid()

    def hangs() -> int:
        if os.getpid() != here:
            threading.Event().wait(600.0)
        return 5

    begun = time.monotonic()
    assert split_off([hangs, lambda: 1]) == [5, 1]
    assert time.monotonic() - begun < 60.0
    assert nobody_is_left()


@apart
def test_whoever_is_free_takes_the_next_work() -> None:
    """The last work waits until another process has done all the rest."""
    ended, line = os.pipe()

    def beside(number: int) -> tuple[int, int]:
        os.write(line, b".")
        return number, os.getpid()

    def last() -> tuple[int, int]:
        for _ in range(5):
            os.read(ended, 1)
        return 5, os.getpid()

    try:
        answers = split_off([*(partial(beside, number) for number in range(5)), last])
    finally:
        os.close(ended)
        os.close(line)
    assert [number for number, _ in answers] == list(range(6))
    assert len({process for _, process in answers[:-1]}) == 1
    assert answers[0][1] != answers[-1][1] == os.getpid()
    assert nobody_is_left()


@apart
def test_a_work_behind_is_done_beside_and_its_answer_waited_for() -> None:
    with begun_behind(lambda: (os.getpid(), os.nice(0))) as answer:
        process, steps = answer()
    assert process != os.getpid()
    assert steps == min(os.nice(0) + 10, 19)
    assert nobody_is_left()


@apart
def test_a_work_behind_that_fails_is_done_here_when_asked_and_stopped_when_not() -> None:
    with begun_behind(refuses) as answer, pytest.raises(ValueError, match="own words"):
        answer()
    assert nobody_is_left()
    with begun_behind(partial(threading.Event().wait, 600.0)):
        pass
    assert nobody_is_left()


def test_where_nothing_is_split_off_a_work_behind_is_done_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(at_once, "_cores", lambda: 1)
    done = list[int]()
    with begun_behind(partial(done.append, 1)) as answer:
        assert done == []
        answer()
    assert done == [1]


@apart
def test_what_was_written_before_is_said_once(tmp_path: Path) -> None:
    # Into a file a process holds what it writes; split off, its other half holds it too, and must not let it go.
    told = tmp_path / "told.txt"
    work = (
        "import sys\nfrom stackview.at_once import split_off\nsys.stdout = open(sys.argv[1], 'w')\n"
        "print('once')\nprint(split_off((lambda: 1, lambda: 2)))"
    )
    subprocess.run([sys.executable, "-c", work, str(told)], check=True, timeout=60)
    assert told.read_text(encoding="utf-8").splitlines() == ["once", "[1, 2]"]
