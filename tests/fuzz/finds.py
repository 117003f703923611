"""What counts as a find: an exception that is no refusal, more than two seconds, more than 500 MB."""

import hashlib
import time
import traceback
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from stackview.errors import Fault, LampError

MOST_SECONDS = 2.0
"""Of processor time for one input."""
MOST_KILOBYTES = 500_000
"""That one input may add to what the process holds, at any moment."""
_ALIKE_KEPT = 3

Ask = Callable[[bytes], bool]
"""Asks the program about one input; True where it was taken, False where it was refused as documented."""


class Finds:
    """Asks about one input after another, and keeps what should not have happened in a folder.

    Finds are alike where they were raised at one line; a few of each are kept. A process that is
    ended by its fuzzer for an input that never comes back leaves that input itself.
    """

    def __init__(self, ask: Ask, folder: Path) -> None:
        self._ask = ask
        self._folder = folder
        self._alike: Counter[str] = Counter()
        self.asked = self.taken = 0

    def __call__(self, data: bytes) -> None:
        """Ask about one input; nothing is raised."""
        _forget_peak()
        held, began = _held("VmRSS"), time.process_time()
        try:
            self.taken += self._ask(data)
        except Exception as wrong:
            last = traceback.extract_tb(wrong.__traceback__)[-1]
            where = f"{type(wrong).__name__} {Path(last.filename).stem} {last.lineno}"
            self._keep(where, data, "".join(traceback.format_exception(wrong)))
        took, grew = time.process_time() - began, _held("VmHWM") - held
        if took > MOST_SECONDS:
            self._keep("slow", data, f"{took:.1f} s")
        if grew > MOST_KILOBYTES:
            self._keep("memory", data, f"{grew / 1000:.0f} MB more")
        self.asked += 1
        if self.asked % 500 == 0:
            (self._folder.parent / "tally.txt").write_text(self.told() + "\n")

    def told(self) -> str:
        """A line for whoever looks how far a run is."""
        found = ", ".join(f"{many} {what}" for what, many in sorted(self._alike.items()))
        return f"{self.asked} asked, {self.taken} taken, the others refused; finds: {found or 'none'}"

    def _keep(self, what: str, data: bytes, words: str) -> None:
        self._alike[what] += 1
        if self._alike[what] > _ALIKE_KEPT:
            return
        self._folder.mkdir(parents=True, exist_ok=True)
        name = f"{what.replace(' ', '-')}-{hashlib.sha1(data).hexdigest()[:10]}"
        (self._folder / name).write_bytes(data)
        (self._folder / f"{name}.txt").write_text(words)


def check_words(refused: Exception) -> None:
    """A refusal says in one printable line for each fault what is wrong, and is no novel."""
    faults = refused.faults if isinstance(refused, LampError) else (Fault("", str(refused)),)
    assert faults
    for fault in faults:
        words = str(fault)
        assert words.isprintable(), words
        assert 10 <= len(words) < 2000, words


def _forget_peak() -> None:
    """Let the greatest memory held be counted from now on (proc(5): clear_refs)."""
    Path("/proc/self/clear_refs").write_text("5")


def _held(what: str) -> int:
    """What this process holds [kB]: now as VmRSS, at most as VmHWM (proc(5): status)."""
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith(what):
            return int(line.split()[1])
    raise OSError(f"/proc/self/status knows no {what}")
