"""The demo lamps, assembled and lit, for tests of whole pictures."""

from functools import cache
from pathlib import Path

from stackview.description.reading import read_lamp
from stackview.light.layout import LightLayout, lay_out
from stackview.stack.assembly import Stack, assemble

FOLDER = Path(__file__).parents[2] / "demos"
NAMES = ("honeycomb", "kelp", "moor-drum", "turning-lantern")


@cache
def demo(name: str) -> tuple[Stack, LightLayout]:
    stack = assemble(read_lamp(FOLDER / f"{name}.toml"))
    return stack, lay_out(stack)
