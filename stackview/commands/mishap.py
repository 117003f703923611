"""What nobody foresaw: one line for the maker, and a file with what is needed to mend it."""

import os
import platform
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from stackview import __version__
from stackview.cache_place import cache_folder
from stackview.commands.plain_words import control_shown
from stackview.one_line import clipped

_MOST_KEPT = 20
_MOST_FRAMES = 200


def told(error: BaseException, argv: Sequence[str]) -> str:
    """One line that says what happened and where the details went, which are written for it."""
    what = control_shown(clipped(f"{type(error).__name__}: {error}".rstrip(": "), 200))
    report = _report(error, argv)
    file = next((kept for folder in _places() if (kept := _kept(folder, report)) is not None), None)
    where = (
        f"what is needed to mend it is in {file}: please report it with that file and your lamp's"
        if file is not None
        else "no folder took the details: set STACKVIEW_CACHE to one that can be written to, and run it again"
    )
    return f"stackview has a fault of its own ({what}), and could not finish; nothing half-written is left; {where}"


def _report(error: BaseException, argv: Sequence[str]) -> str:
    told_in_full = "".join(traceback.format_exception(error, limit=_MOST_FRAMES))
    return (
        f"stackview {__version__}\n"
        f"Python {sys.version.split()[0]} on {platform.platform()}\n"
        f"command: stackview {' '.join(map(repr, argv))}\n\n{told_in_full}"
    )


def _places() -> Iterator[Path]:
    with suppress(ImportError):  # whatever is amiss, its details are kept somewhere
        own = cache_folder()
        if own is not None:
            yield own / "mishaps"
    with suppress(OSError):
        yield Path(tempfile.gettempdir()) / f"stackview-mishaps-{os.environ.get('USER') or 'maker'}"


def _kept(folder: Path, report: str) -> Path | None:
    """The report in a file of its own; the oldest of many go."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        stamp = time.strftime("%Y-%m-%d-%H%M%S-")
        handle, name = tempfile.mkstemp(".txt", stamp, folder)
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
            file.write(report)
        for old in sorted(folder.glob("*.txt"))[:-_MOST_KEPT]:
            old.unlink(missing_ok=True)
    except OSError:
        return None
    return Path(name)
