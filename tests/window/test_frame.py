"""One real window on a display of its own, driven as a hand would drive it."""

import os
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import numpy as np
import pytest

from tests.window.conftest import DEMOS

pytestmark = [
    pytest.mark.skipif(not shutil.which("Xvfb"), reason="Xvfb is not installed (Debian: apt install xvfb)"),
    pytest.mark.skipif(
        not shutil.which("xdotool"), reason="xdotool is not installed (Debian: apt install xdotool)"
    ),
]
WIDE, HIGH = 900, 640
_Answer = TypeVar("_Answer")
PATIENCE = 120.0
"""The longest that anything here is waited for [s]."""


def in_time(what: str, work: Callable[[], _Answer]) -> _Answer:
    """What a work gives that asks another program; the test fails where that never answers."""
    found = list[_Answer]()
    asking = threading.Thread(target=lambda: found.append(work()), daemon=True)
    asking.start()
    asking.join(PATIENCE)
    if not found:
        pytest.fail(f"waited {PATIENCE:.0f} s in vain for {what}")
    return found[0]


@pytest.fixture
def display() -> Iterator[str]:
    read, write = os.pipe()
    server = subprocess.Popen(
        [
            "Xvfb",
            "-displayfd",
            str(write),
            "-screen",
            "0",
            "1000x700x24",
            "+extension",
            "GLX",
            "-nolisten",
            "tcp",
            # A trial window comes and goes before the window: a server that starts over when nobody is left
            # may turn the next one away.
            "-noreset",
        ],
        pass_fds=(write,),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    try:
        with os.fdopen(read) as told:
            number = in_time("Xvfb to start", told.readline).strip()
        if not number:
            pytest.skip("Xvfb does not start here")
        yield f":{number}"
    finally:
        server.terminate()
        in_time("Xvfb to end", server.wait)


class Hand:
    """Drives the window and looks at it."""

    def __init__(self, display: str) -> None:
        self.display = display
        self.environment = {**os.environ, "DISPLAY": display}

    def do(self, *words: object) -> str:
        made = subprocess.run(
            ["xdotool", *(str(word) for word in words)],
            env=self.environment,
            capture_output=True,
            text=True,
            check=False,
            timeout=PATIENCE,
        )
        return made.stdout

    def look(self) -> np.ndarray:
        from PIL import ImageGrab

        seen = in_time("a picture of the display", lambda: ImageGrab.grab(xdisplay=self.display))
        return np.asarray(seen.convert("RGB"))[:HIGH, :WIDE].astype(int)

    def until(self, what: str, holds) -> np.ndarray:  # type: ignore[no-untyped-def]
        """Look until something holds; the picture then."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            seen = self.look()
            if holds(seen):
                return seen
            time.sleep(0.15)
        pytest.fail(f"never seen: {what}")

    def at_rest(self) -> np.ndarray:
        """The picture once nothing has moved in it for a second: a slow machine still turns what a hand let go."""
        last, since = self.look(), time.monotonic()

        def rests(seen: np.ndarray) -> bool:
            nonlocal last, since
            if (seen != last).any():
                last, since = seen, time.monotonic()
            return time.monotonic() - since >= 1.0

        return self.until("the window at rest", rests)


def red(seen: np.ndarray) -> bool:
    strip = seen[56:84, 300:560].reshape(-1, 3)
    return bool(np.median(strip[:, 0]) > np.median(strip[:, 2]) + 40)


@pytest.mark.slow
def test_a_window_is_turned_watched_saved_and_closed(display: str, tmp_path: Path) -> None:
    file = tmp_path / "honeycomb.toml"
    text = (DEMOS / "honeycomb.toml").read_text(encoding="utf-8")
    file.write_text(text, encoding="utf-8")
    hand = Hand(display)
    with subprocess.Popen(
        [sys.executable, "-m", "stackview", "view", str(file), "--width", str(WIDE), "--height", str(HIGH)],
        env=hand.environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as window:
        try:
            first = hand.until(
                "the lamp", lambda seen: seen[620:636, 300:500].min() > 120 or window.poll() is not None
            )
            if window.poll() == 2:
                pytest.skip(window.communicate(timeout=PATIENCE)[1])
            assert window.poll() is None, window.communicate(timeout=PATIENCE)
            warm = first[240:400, 380:520].reshape(-1, 3).mean(axis=0)
            assert warm[0] > warm[2] + 20
            assert np.median(first[20:230, 20:240]) < 70, "the readout is dark"

            hand.until("the acrylic told", lambda seen: np.median(seen[256:280, 20:240]) < 70)

            hand.do("mousemove", 450, 600, "mousedown", 1)
            for step in range(8):
                hand.do("mousemove", 450 + 12 * step, 600 - step)
            hand.do("mouseup", 1)
            hand.until("the lamp turned", lambda seen: np.abs(seen - first)[200:480, 290:600].mean() > 4)

            # The toolkit's own keys: e and q would close it, w and s would change how it is drawn.
            before = hand.at_rest()
            for name in ("e", "w", "s", "3", "f"):
                hand.do("key", name)
            time.sleep(0.6)
            assert window.poll() is None
            hand.do("key", "Escape")
            hand.until("nothing changed", lambda seen: np.abs(seen - before)[200:480, 290:600].mean() < 2)

            hand.do("key", "l")
            hand.until("evening", lambda seen: seen[20:50, 300:780].mean() < 60)
            file.write_text(
                text.replace("[lamp]", "[lamp]\nbananas = 4", 1) + "\nbananas = 4\n", encoding="utf-8"
            )
            hand.until("the fault", red)
            assert window.poll() is None
            file.write_text(text + "\n# saved again\n", encoding="utf-8")
            hand.until("the fault gone", lambda seen: not red(seen))

            hand.do("key", "p")
            end = time.monotonic() + PATIENCE
            saved = tmp_path / "honeycomb-pictures" / "honeycomb-view-1.png"
            while not saved.exists() and time.monotonic() < end:
                time.sleep(0.2)
            from PIL import Image

            with Image.open(saved) as picture:
                assert picture.size == (1600, 1138)
                assert picture.info["Software"] == "stackview"

            hand.do("key", "q")
            out, err = window.communicate(timeout=20)
            assert (window.returncode, out) == (0, ""), err
        finally:
            if window.poll() is None:
                window.kill()
                in_time("the window to end", window.wait)
