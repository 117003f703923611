"""Several works done at once, each in a process of its own, where the system can split processes off.

Threads would not do, for rays are traced without letting go of the interpreter. A process that is split off
knows all that this one knows, and sends back its answer alone; answers are the same as one by one.
"""

import os
import pickle
import select
import signal
import sys
import threading
import time
import warnings
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any, Protocol, TypeVar

_Answer = TypeVar("_Answer")


_PATIENCE, _AS_LONG = 20.0, 5.0
"""A process that was split off is given up when it takes so many seconds more than so many times what this one took:
libraries' own threads do not come along when it splits off, and one of them may have held a lock."""


class AtOnce(Protocol):
    """Does some works and gives their answers, in order; of two, the last is done here and first."""

    def __call__(self, works: Sequence[Callable[[], _Answer]], /) -> list[_Answer]:
        """Do all works."""
        ...


def one_by_one(works: Sequence[Callable[[], _Answer]]) -> list[_Answer]:
    """Do the works here, the last first: it is the one that is waited for.

    >>> one_by_one([lambda: 1, lambda: 2, lambda: 3])
    [1, 2, 3]
    """
    answers = [work() for work in reversed(works)]
    return answers[::-1]


def split_off(works: Sequence[Callable[[], _Answer]]) -> list[_Answer]:
    """Do the works on as many cores as the machine has, up to four; what cannot be split off is done here.

    Works must print nothing and change nothing, but for the last, which is done here; answers are pickled.
    Where a work fails that was split off it is done again here, so that its error comes as any other does.
    """
    count = min(_cores(), len(works), 4)
    if count < 2:
        return one_by_one(works)
    shares = [works[start::count] for start in range(count)]
    apart = list[_Apart]()
    try:
        apart.extend(_Apart(partial(one_by_one, share)) for share in shares[:-1])
        begun = time.monotonic()
        here = one_by_one(shares[-1])
        latest = time.monotonic() + _PATIENCE + _AS_LONG * (time.monotonic() - begun)
        answers = [one.answer(latest) for one in apart]
    finally:
        for one in apart:
            one.end()
    found = [*answers, here]
    return [found[number % count][number // count] for number in range(len(works))]


class _Split:
    """Whether this process was split off itself: it splits no more."""

    off = False


def _cores() -> int:
    """Cores to split works among; 1 where processes cannot be split off safely."""
    if sys.platform != "linux" or _Split.off or threading.current_thread() is not threading.main_thread():
        return 1
    return len(os.sched_getaffinity(0))


class _Apart:
    """A work under way in a process that was split off."""

    def __init__(self, work: Callable[[], Any]) -> None:
        self._work = work
        self._line, theirs = os.pipe()
        with warnings.catch_warnings():
            # Other threads are none of the child's business: it computes, answers and goes.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._process: int | None = os.fork()
        if self._process == 0:
            _work_apart(work, theirs)
        os.close(theirs)

    def answer(self, latest: float) -> Any:
        """Wait for it; where it is not given, or not until a moment of the monotonic clock, the work is done here."""
        said = list[bytes]()
        while select.select([self._line], [], [], max(latest - time.monotonic(), 0.0))[0]:
            piece = os.read(self._line, 1 << 20)
            if not piece:
                if self._waited() == 0 and said:
                    return pickle.loads(b"".join(said))
                break
            said.append(piece)
        return self._work()

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


def _work_apart(work: Callable[[], Any], line: int) -> None:
    """Do the work, send its answer, and end without unwinding what belongs to the process that this came from."""
    code = 1
    try:
        _Split.off = True
        for asked in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(asked, signal.SIG_DFL)
        # The terminal is the other's: no bar of progress is drawn from here.
        with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
            sys.stdout = sys.stderr = nowhere
            answer = pickle.dumps(work(), pickle.HIGHEST_PROTOCOL)
        with os.fdopen(line, "wb") as out:
            out.write(answer)
        code = 0
    finally:
        os._exit(code)
