"""Short ways to read a lamp written in a test, and the words of its faults."""

from collections.abc import Callable
from pathlib import Path

import pytest

from stackview.description.lamp import Lamp
from stackview.description.reading import read_text
from stackview.errors import Fault, LampError

HEAD = """
name = "Test lamp"
cutter = 3
[materials.ply]
plywood = "birch"
sold = 9
[materials.opal]
acrylic = "opal"
sold = 4
measured = 3.8
[materials.clear]
acrylic = "clear"
sold = 5
"""
BASE = """
[[layer]]
name = "base"
material = "ply"
outline = { circle = 120 }
"""
RING_AND_PLATE = """
[[groups.tier]]
name = "ring"
material = "ply"
outline = { circle = 120 }
wall = 14
recess = { depth = 1.5 }
[[groups.tier]]
name = "plate"
material = "opal"
outline = { circle = 104 }
"""


@pytest.fixture
def head() -> str:
    return HEAD


@pytest.fixture
def base() -> str:
    return HEAD + BASE


@pytest.fixture
def tier() -> str:
    return HEAD + RING_AND_PLATE


@pytest.fixture
def read(tmp_path: Path) -> Callable[[str], Lamp]:
    return lambda text: read_text(text, "lamp.toml", tmp_path)


@pytest.fixture
def faults(tmp_path: Path) -> Callable[[str], tuple[Fault, ...]]:
    """All faults of a text; the message of the error must name the file before each."""

    def found(text: str) -> tuple[Fault, ...]:
        with pytest.raises(LampError) as caught:
            read_text(text, "lamp.toml", tmp_path)
        lines = str(caught.value).splitlines()
        assert len(lines) == len(caught.value.faults)
        assert all(line.startswith("lamp.toml: ") for line in lines)
        return caught.value.faults

    return found


@pytest.fixture
def fault(faults: Callable[[str], tuple[Fault, ...]]) -> Callable[[str], Fault]:
    """The one fault of a text that has just one."""

    def found(text: str) -> Fault:
        every = faults(text)
        assert len(every) == 1, every
        return every[0]

    return found
