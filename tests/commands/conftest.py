"""Running commands in-process."""

from collections.abc import Callable
from pathlib import Path

import pytest

from stackview.__main__ import main

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Run a command; returns its exit code, standard output and standard error."""

    def one(*argv: object) -> tuple[int, str, str]:
        code = main([str(argument) for argument in argv])
        captured = capsys.readouterr()
        return code, captured.out, captured.err

    return one


@pytest.fixture
def starter(tmp_path: Path, run: Callable[..., tuple[int, str, str]]) -> Path:
    """A starter lamp of its own in an empty folder."""
    file = tmp_path / "first.toml"
    assert run("new", file)[0] == 0
    return file
