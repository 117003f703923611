"""The demo lamps, assembled and lit, for tests of whole pictures."""

from functools import cache
from pathlib import Path

from stackview.light.layout import LightLayout
from stackview.stack.assembly import Stack
from stackview.study import Study

FOLDER = Path(__file__).parents[2] / "demos"
NAMES = ("honeycomb", "kelp", "moor-drum", "turning-lantern")


@cache
def study_of(name: str) -> Study:
    return Study.read(FOLDER / f"{name}.toml")


def demo(name: str) -> tuple[Stack, LightLayout]:
    return study_of(name).stack, study_of(name).light
