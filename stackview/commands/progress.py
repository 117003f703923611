"""Progress on standard error for anything that takes more than a second."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

_PATIENCE = 1.0
"""Nothing is shown for work that takes less than this [s]."""


@contextmanager
def progress(label: str, total: int) -> Iterator[Callable[[int], None]]:
    """A bar that appears after a second, with time left; on a pipe or in a file, nothing.

    Yields a function to call with the number of steps done since the last call.
    """
    with _bar(label, total, "{task.completed} of {task.total}") as move:
        yield lambda done: move(done, None)


@contextmanager
def share_done(label: str) -> Iterator[Callable[[float], None]]:
    """The same for work that is known by its share; yields a function to call with it, 0 to 1."""
    with _bar(label, 1000, "{task.percentage:.0f}%") as move:
        yield lambda share: move(0, round(1000 * share))


@contextmanager
def _bar(label: str, total: int, text: str) -> Iterator[Callable[[int, int | None], None]]:
    if not sys.stderr.isatty():
        yield lambda _more, _now: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    bar = Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        TextColumn(text),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    task = bar.add_task(label, total=total)
    begun = time.monotonic()
    shown = False

    def move(more: int, now: int | None) -> None:
        nonlocal shown
        if now is None:
            bar.advance(task, more)
        else:
            bar.update(task, completed=now)
        if not shown and time.monotonic() - begun > _PATIENCE:
            bar.start()
            shown = True

    try:
        yield move
    finally:
        if shown:
            bar.stop()
