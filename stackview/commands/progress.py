"""Progress on standard error for anything that takes more than a second."""

import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager

from stackview.commands.still_at_work import working

_PATIENCE = 1.0
"""Nothing is shown for work that takes less than this [s]."""
_pauses: list[Callable[[], None]] = []
"""What takes each bar off the screen that is begun and not ended, the innermost last: one is shown at a time."""


@contextmanager
def progress(label: str, total: int) -> Iterator[Callable[[int], None]]:
    """A bar that appears after a second, with time left; on a pipe or in a file, a line now and then.

    Yields a function to call with the number of steps done since the last call.
    """
    with _bar(label, total, "{task.completed} of {task.total}") as move:
        yield lambda done: move(done, None, None)


@contextmanager
def stages(label: str, shares: Mapping[str, float]) -> Iterator[Callable[[str], Callable[[float], None]]]:
    """A bar over several pieces of work, which says what is being done and what is still to come.

    ``shares`` gives each piece, in their order, its share of the bar. Yields a function to call with the name of
    the piece that begins; what that gives is called with the share of the piece that is done, 0 to 1.
    """
    names, total = list(shares), sum(shares.values())
    done = {name: sum(list(shares.values())[:number]) / total for number, name in enumerate(names)}
    with _bar(label, 1000, "{task.percentage:.0f}%") as move:

        def begin(name: str) -> Callable[[float], None]:
            rest = ", ".join(names[names.index(name) + 1 :])
            low, part = done[name], shares[name] / total
            words = f"{label}: {name}" + (f"; then {rest}" if rest else "")

            def told(share: float) -> None:
                move(0, round(1000 * (low + part * share)), words)

            told(0.0)
            return told

        yield begin


@contextmanager
def _in_words(label: str, total: int, text: str) -> Iterator[Callable[[int, int | None, str | None], None]]:
    done, called = 0, label

    def count(more: int, now: int | None, words: str | None) -> None:
        nonlocal done, called
        done = done + more if now is None else now
        called = words or called

    def how_far() -> str:
        far = f"{100 * done // total}%" if "percentage" in text else f"{done} of {total}"
        return f"{called}, {far}"

    with working(how_far):
        yield count


@contextmanager
def _bar(label: str, total: int, text: str) -> Iterator[Callable[[int, int | None, str | None], None]]:
    if not sys.stderr.isatty():
        with _in_words(label, total, text) as count:
            yield count
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
        # What is printed meanwhile goes above the bar; but what goes into a file stays out of its way.
        redirect_stdout=sys.stdout.isatty(),
    )
    task = bar.add_task(label, total=total)
    begun = time.monotonic()
    shown = False

    def pause() -> None:
        nonlocal shown
        if shown:
            bar.stop()
        shown = False

    def move(more: int, now: int | None, words: str | None) -> None:
        nonlocal shown
        if now is None:
            bar.advance(task, more)
        else:
            bar.update(task, completed=now, description=label if words is None else words)
        if not shown and time.monotonic() - begun > _PATIENCE:
            bar.start()
            shown = True

    for other in _pauses:
        other()
    _pauses.append(pause)
    try:
        yield move
    finally:
        pause()
        _pauses.remove(pause)
