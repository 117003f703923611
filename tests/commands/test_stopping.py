"""Ctrl-C and requests to end, at any moment: no traceback, nothing half-written, the code that shells know."""

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stackview.commands import stopping
from stackview.commands.stopping import WRITERS, Stopped
from tests.commands.programs import ROOT, started

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of a terminal")


def test_exit_codes_are_those_of_shells() -> None:
    # POSIX.1-2017, 2.8.2 and <signal.h>: SIGHUP 1, SIGINT 2, SIGTERM 15
    assert {why.exit_code for why in Stopped} == {129, 130, 143}


def test_every_file_that_can_leave_something_half_written_is_known() -> None:
    package = ROOT / "stackview"
    making = {
        file.relative_to(package).as_posix()
        for file in package.rglob("*.py")
        if re.search(r"\b(mkstemp|TemporaryDirectory|NamedTemporaryFile)\(", file.read_text("utf-8"))
    }
    assert making == set(WRITERS)


def test_a_second_key_is_not_heard_while_files_are_put_away(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stopping._Asked, "by", None)
    monkeypatch.setattr(stopping._Asked, "at", -10.0)
    frame = sys._getframe()
    with pytest.raises(KeyboardInterrupt):
        stopping._stop(signal.SIGTERM, frame)
    stopping._stop(signal.SIGINT, frame)
    assert stopping.asked_to_stop() is Stopped.BY_END


LOST = """
import signal, time
from stackview.commands import stopping
signal.signal(signal.SIGINT, signal.default_int_handler)  # whoever was started with & ignores it
stopping.stop_on_signals()
class Kept:
    def __del__(self):
        signal.raise_signal(signal.SIGINT)
kept = Kept()
try:
    del kept
    for _ in range(500):
        time.sleep(0.01)
    print("not heard")
except KeyboardInterrupt:
    print("heard")
"""


def test_a_key_that_comes_where_nothing_can_be_raised_is_heard_a_moment_later() -> None:
    done = subprocess.run([sys.executable, "-c", LOST], cwd=ROOT, capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("heard\n", "")


def test_what_the_starter_turned_off_stays_off() -> None:
    code = (
        "import signal; signal.signal(signal.SIGHUP, signal.SIG_IGN)\n"
        "from stackview.commands import stopping; stopping.stop_on_signals()\n"
        "print(signal.getsignal(signal.SIGHUP) is signal.SIG_IGN, "
        "signal.getsignal(signal.SIGTERM) is stopping._stop)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "True True\n"


def stopped_after(seconds: float, by: int, folder: Path, *argv: object) -> tuple[int, str]:
    """Exit code and words of a program whose whole process group gets a signal after so long."""
    with started(*argv, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) as process:
        time.sleep(seconds)
        if process.poll() is None:
            os.killpg(process.pid, by)
        _, told = process.communicate(timeout=120)
    assert not list(folder.rglob("*.part"))
    return process.returncode, told.decode()


def without_the_interpreters_own(told: str) -> str:
    """What was said, but for a key that came before the interpreter had read its own library."""
    return "" if told.startswith("Fatal Python error: init_import_site") else told


@pytest.mark.slow
@pytest.mark.parametrize(("by", "moments"), [(signal.SIGINT, range(77)), (signal.SIGTERM, range(0, 77, 7))])
def test_stopped_at_any_of_77_moments(by: signal.Signals, moments: range, starter: Path) -> None:
    code = 128 + by
    for moment in moments:
        ended, told = stopped_after(
            moment * 0.04, by, starter.parent, "preview", starter, "--out", starter.parent / "pictures"
        )
        told = without_the_interpreters_own(told)
        assert told in ("", "stopped; nothing half-written is left\n"), (moment, told)
        # before the first line of ours the signal ends the interpreter by itself
        assert ended in (code, 0) or moment < 8, (moment, ended)


def test_stopped_in_the_first_moments(starter: Path) -> None:
    ended, told = stopped_after(0.4, signal.SIGINT, starter.parent, "check", starter)
    assert (ended, told) == (130, "stopped; nothing half-written is left\n") or ended in (0, -signal.SIGINT)
    assert "Traceback" not in without_the_interpreters_own(told)
