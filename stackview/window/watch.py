"""Notices when a lamp's file is saved, and reads it again beside the window."""

import threading
from collections.abc import Callable
from pathlib import Path
from queue import Empty, SimpleQueue

from stackview.errors import StackviewError
from stackview.window.panels import error_text
from stackview.window.shown import Shown

Stamp = tuple[tuple[int, ...] | None, ...]


def stamp_of(files: tuple[Path, ...]) -> Stamp:
    """What changes when a file is saved, compared for being other, never for being later; None for one that is not there.

    A clock may have been set back, and a program may give a file an old time: so its number on the
    disk and when the disk last touched it count too, beside when it was changed and how large it is.
    """
    found: list[tuple[int, ...] | None] = []
    for file in files:
        try:
            status = file.stat()
            found.append((status.st_mtime_ns, status.st_size, status.st_ino, status.st_ctime_ns))
        except OSError:
            found.append(None)
    return tuple(found)


class Watch:
    """Watches files and loads the lamp anew when one changes; asked now and then by the window."""

    def __init__(self, files: tuple[Path, ...], load: Callable[[], Shown]) -> None:
        self.files, self.load = files, load
        self.seen = stamp_of(files)
        self.results: SimpleQueue[Shown | str] = SimpleQueue()
        self.worker: threading.Thread | None = None

    @property
    def busy(self) -> bool:
        """Whether a lamp is being read."""
        return self.worker is not None and self.worker.is_alive()

    def look(self) -> bool:
        """Start reading if a file has changed; returns whether it did."""
        if self.busy:
            return False
        now = stamp_of(self.files)
        # A file that is being replaced may be away for a moment; it is read when it is back.
        if now == self.seen or None in now:
            return False
        self.seen = now
        self.worker = threading.Thread(target=self._work, daemon=True)
        self.worker.start()
        return True

    def result(self) -> Shown | str | None:
        """A lamp that has been read, or what is wrong with it; None if there is nothing new."""
        try:
            return self.results.get_nowait()
        except Empty:
            return None

    def _work(self) -> None:
        try:
            self.results.put(self.load())
        except StackviewError as fault:
            self.results.put(error_text(fault))
        except OSError as trouble:
            self.results.put(f"cannot be read: {trouble.strerror or trouble}")
        except Exception as trouble:
            self.results.put(f"could not be shown ({type(trouble).__name__}: {trouble})")
