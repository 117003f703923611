"""Several works done at once, each in a process of its own, where the system can split processes off.

Threads would not do, for rays are traced without letting go of the interpreter. A process that is split off
knows all that this one knows, and sends back its answers alone; answers are the same as one by one.
"""

import os
import pickle
import select
import signal
import sys
import threading
import time
import warnings
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from itertools import chain
from pathlib import Path
from typing import Any, Protocol, TextIO, TypeVar

_Answer = TypeVar("_Answer")


_PATIENCE, _AS_LONG = 20.0, 5.0
"""A process that was split off is given up when it takes so many seconds more than so many times what this one took:
libraries' own threads do not come along when it splits off, and one of them may have held a lock."""
_LONGEST = 600.0
"""A work behind all others is given up after so many seconds that are spent in waiting for it alone."""
_BEHIND = 10
"""Steps of niceness by which a work goes behind."""
_NUMBER = 2
"""Bytes in which a work's number is handed out; read from a pipe they come together."""


class AtOnce(Protocol):
    """Does some works and gives their answers, in order; the last is done here and first, then the others in turn."""

    def __call__(self, works: Sequence[Callable[[], _Answer]], /) -> list[_Answer]:
        """Do all works."""
        ...


def one_by_one(works: Sequence[Callable[[], _Answer]]) -> list[_Answer]:
    """Do the works here, the last first: it is the one that is waited for.

    >>> one_by_one([lambda: 1, lambda: 2, lambda: 3])
    [1, 2, 3]
    """
    last = [work() for work in works[-1:]]
    return [work() for work in works[:-1]] + last


def split_off(works: Sequence[Callable[[], _Answer]]) -> list[_Answer]:
    """Do the works on as many cores as the machine has, up to four; what cannot be split off is done here.

    Whoever has done a work takes the next one that nobody has begun. Works must print nothing and change nothing,
    but for the last, which is done here; answers are pickled. Where a work fails that was split off it is done again
    here, so that its error comes as any other does.
    """
    count = min(_cores(), len(works), 4)
    if count < 2:
        return one_by_one(works)
    queue = _Queue(range(count - 1, len(works) - 1))
    apart = list[_Apart]()
    try:
        apart.extend(_Apart(partial(_taken, works, chain([first], queue))) for first in range(count - 1))
        begun = time.monotonic()
        found = {len(works) - 1: works[-1]()} | _taken(works, queue)
        latest = time.monotonic() + _PATIENCE + _AS_LONG * (time.monotonic() - begun)
        for one in apart:
            for more in one.answers(latest):
                found |= more
    finally:
        for one in apart:
            one.end()
        queue.close()
    return [found[number] if number in found else work() for number, work in enumerate(works)]


@contextmanager
def begun_behind(work: Callable[[], _Answer]) -> Iterator[Callable[[], _Answer]]:
    """Begin a work in a process of its own, behind all that is done here: it has what time the others leave.

    Gives a function that waits for the answer. Where no process can be split off, or none answers, that does the
    work here; the work may write files, but print nothing.
    """
    if _cores() < 2:
        yield work
        return
    apart = _Apart(work, behind=_BEHIND)

    def answer() -> _Answer:
        told: list[_Answer] = apart.answers(time.monotonic() + _LONGEST)
        return told[0] if told else work()

    try:
        yield answer
    finally:
        apart.end()


class _Split:
    """Whether this process was split off itself, and splits no more; and the streams that it had before."""

    off = False
    streams: tuple[TextIO, TextIO] | None = None


def is_split_off() -> bool:
    """Whether this process was split off, so that others have the cores already."""
    return _Split.off


def _cores() -> int:
    """Cores to split works among; 1 where processes cannot be split off safely."""
    if sys.platform != "linux" or _Split.off or threading.current_thread() is not threading.main_thread():
        return 1
    return len(os.sched_getaffinity(0))


class _Queue:
    """Numbers of works that nobody has begun yet, held in a pipe that all processes read from."""

    def __init__(self, numbers: Iterable[int]) -> None:
        self._line, begin = os.pipe()
        os.write(begin, b"".join(number.to_bytes(_NUMBER) for number in numbers))
        os.close(begin)

    def __iter__(self) -> Iterator[int]:
        while number := os.read(self._line, _NUMBER):
            yield int.from_bytes(number)

    def close(self) -> None:
        os.close(self._line)


def _taken(works: Sequence[Callable[[], _Answer]], numbers: Iterable[int]) -> dict[int, _Answer]:
    """Do works as their numbers come, and give their answers by number."""
    return {number: works[number]() for number in numbers}


class _Apart:
    """A work under way in a process that was split off, ``behind`` others by steps of niceness."""

    def __init__(self, work: Callable[[], Any], behind: int = 0) -> None:
        self._line, theirs = os.pipe()
        with warnings.catch_warnings():
            # Other threads are none of the child's business: it computes, answers and goes.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._process: int | None = os.fork()
        if self._process == 0:
            _work_apart(work, theirs, behind)
        os.close(theirs)

    def answers(self, latest: float) -> list[Any]:
        """Wait for its answer; none where it is not given, or not until a moment of the monotonic clock."""
        said = list[bytes]()
        while select.select([self._line], [], [], max(latest - time.monotonic(), 0.0))[0]:
            piece = os.read(self._line, 1 << 20)
            if not piece:
                return [pickle.loads(b"".join(said))] if self._waited() == 0 and said else []
            said.append(piece)
        return []

    def end(self) -> None:
        """Stop it if it is still at work."""
        os.close(self._line)
        if self._process is not None:
            os.kill(self._process, signal.SIGKILL)
            self._waited()

    def _waited(self) -> int:
        assert self._process is not None
        status = os.waitpid(self._process, 0)[1]
        self._process = None
        return status


def _work_apart(work: Callable[[], Any], line: int, behind: int) -> None:
    """Do the work, send its answer, and end without unwinding what belongs to the process that this came from."""
    code = 1
    try:
        _Split.off = True
        # What they hold unsaid is the other's to say: let go, they would say it here too.
        _Split.streams = sys.stdout, sys.stderr
        for asked in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(asked, signal.SIG_DFL)
        os.nice(behind)
        # The terminal is the other's: no bar of progress is drawn from here.
        with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
            sys.stdout = sys.stderr = nowhere
            answer = pickle.dumps(work(), pickle.HIGHEST_PROTOCOL)
        with os.fdopen(line, "wb") as out:
            out.write(answer)
        code = 0
    finally:
        os._exit(code)
