"""Running commands in-process."""

import io
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from functools import cache
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


@pytest.fixture(scope="session")
def answered() -> Callable[..., tuple[int, str, str]]:
    """Like ``run``, each command once: what several tests read is not worked out for each of them."""

    @cache
    def one(*argv: object) -> tuple[int, str, str]:
        out, err = io.StringIO(), io.StringIO()
        with redirect_stdout(out), redirect_stderr(err):
            code = main([str(argument) for argument in argv])
        return code, out.getvalue(), err.getvalue()

    return one


@pytest.fixture
def starter(tmp_path: Path, run: Callable[..., tuple[int, str, str]]) -> Path:
    """A starter lamp of its own in an empty folder."""
    file = tmp_path / "first.toml"
    assert run("new", file)[0] == 0
    return file
