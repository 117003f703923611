"""Demo lamps, studied once for all tests of mends."""

from functools import cache
from pathlib import Path

from stackview.change.mends import Mending
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
NAMES = ("moor-drum", "honeycomb", "kelp", "turning-lantern")


@cache
def study(name: str) -> Study:
    return Study.read(DEMOS / f"{name}.toml")


@cache
def mending(name: str) -> Mending:
    return Mending(study(name))
