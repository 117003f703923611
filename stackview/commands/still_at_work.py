"""Where nobody sees a bar - on a pipe, in a file - a line every ten seconds says what is at work, and how far."""

import os
import sys
import threading
import time
from contextlib import contextmanager, suppress

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

EVERY = 10.0
"""Seconds between two lines; STACKVIEW_PROGRESS gives others, and 0 none."""


class _AtWork:
    """What is at work, the innermost last: in words, and how far it has got."""

    works: "list[Callable[[], str]]" = []  # noqa: RUF012 - one for the process
    ended: "threading.Event | None" = None


@contextmanager
def working(how_far: "Callable[[], str]") -> "Iterator[None]":
    """Work that a line may tell of while it goes on; ``how_far`` says what it is and how much is done."""
    _AtWork.works.append(how_far)
    try:
        yield
    finally:
        _AtWork.works.remove(how_far)


def tell_now_and_then(command: str) -> None:
    """Begin to write lines to standard error, unless it is a terminal, or the maker wants none."""
    every = _every()
    if every <= 0.0 or sys.stderr.isatty():
        return
    ended = _AtWork.ended = threading.Event()
    threading.Thread(target=_tell, args=(command, every, ended), daemon=True).start()


def tell_no_more() -> None:
    """Write no further line."""
    if _AtWork.ended is not None:
        _AtWork.ended.set()


def _every() -> float:
    try:
        every = float(os.environ.get("STACKVIEW_PROGRESS", EVERY))
    except ValueError:
        return EVERY
    return every if every == every else EVERY


def _tell(command: str, every: float, ended: threading.Event) -> None:
    begun = time.monotonic()
    # the longest that a wait may last
    while not ended.wait(min(every, threading.TIMEOUT_MAX)):
        with suppress(OSError, ValueError, IndexError):
            sys.stderr.write(f"{said_at_work(command, time.monotonic() - begun)}\n")


def said_at_work(command: str, seconds: float) -> str:
    """What is at work: ``preview: pictures, 2 of 4 (40 s so far)``."""
    works = _AtWork.works[-1:]
    told = "".join(f": {how_far().removeprefix(f'{command}: ')}" for how_far in works) or ": at work"
    return f"{command}{told} ({seconds:.0f} s so far)"
