"""Every command is there, and those said to write no file are those that have nowhere to write one."""

import inspect
from importlib import import_module
from pathlib import Path

from stackview.commands.every_command import ONLY_PRINT, app

COMMANDS = Path(__file__).parents[2] / "stackview" / "commands"


def named() -> set[str]:
    return {name for name in app if not name.startswith("-")}


def test_each_stands_in_a_file_of_its_own_name() -> None:
    assert len(named()) >= 14
    for name in named():
        function = getattr(import_module(f"stackview.commands.{name}"), name)
        assert inspect.getdoc(function)


def test_only_those_that_write_no_file_only_print() -> None:
    assert named() >= ONLY_PRINT
    for name in named():
        function = getattr(import_module(f"stackview.commands.{name}"), name)
        writes = {"out", "to", "file"} & set(inspect.signature(function).parameters)
        assert bool(writes) == (name not in ONLY_PRINT), name
