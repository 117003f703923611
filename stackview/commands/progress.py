"""Progress on standard error for anything that takes more than a second."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

_PATIENCE = 1.0
"""Nothing is shown for work that takes less than this [s]."""


def _silent(_done: int) -> None:
    """Progress that nobody watches."""


@contextmanager
def progress(label: str, total: int) -> Iterator[Callable[[int], None]]:
    """A bar that appears after a second, with time left; on a pipe or in a file, nothing.

    Yields a function to call with the number of steps done since the last call.
    """
    if not sys.stderr.isatty():
        yield _silent
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    bar = Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        TextColumn("{task.completed} of {task.total}"),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    task = bar.add_task(label, total=total)
    begun = time.monotonic()
    shown = False

    def step(done: int) -> None:
        nonlocal shown
        bar.advance(task, done)
        if not shown and time.monotonic() - begun > _PATIENCE:
            bar.start()
            shown = True

    try:
        yield step
    finally:
        if shown:
            bar.stop()
