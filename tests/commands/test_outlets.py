"""Standard output that is closed, full, read by nobody or in an old encoding; and what is done nevertheless."""

import io
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from stackview.commands import outlets
from stackview.commands.outlets import OutletError, _Outlet, last_words, read_on
from tests.commands.programs import ROOT, SCRIPT, ended, started

pytestmark = pytest.mark.skipif(not Path("/dev/full").exists(), reason="a full device to write to")
FULL = "standard output takes no more (No space left on device): what was printed is not whole"


@pytest.fixture
def full() -> Iterator[_Outlet]:
    with _Outlet(os.open("/dev/full", os.O_WRONLY), "wb") as outlet:
        yield outlet


def test_a_failure_is_kept_and_the_work_goes_on(full: _Outlet) -> None:
    assert full.write(b"abc") == 3
    assert full.trouble is not None
    assert full.write(b"abcd") == 4


def test_a_command_that_only_prints_is_ended_once(full: _Outlet) -> None:
    full.goes_on = False
    out = io.TextIOWrapper(io.BufferedWriter(full))
    out.write("abc")
    with pytest.raises(OutletError):
        out.flush()
    out.flush()  # when the interpreter ends
    out.close()


@pytest.mark.parametrize("code", [0, 1, 2, 130])
def test_what_could_not_be_written_is_told_with_the_last_words(
    code: int, full: _Outlet, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(outlets._outlets, "stdout", full)
    full.write(b"abc")
    ending = last_words(code)
    told = capsys.readouterr().err
    assert (ending, FULL in told) == ((2, True) if code < 2 else (code, False))


def test_nobody_reads_and_nothing_is_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    read, write = os.pipe()
    os.close(read)
    with _Outlet(write, "wb") as pipe:
        monkeypatch.setitem(outlets._outlets, "stdout", pipe)
        read_on(True)
        assert pipe.write(b"abc") == 3
        assert last_words(0) == 0


def run_with(redirected: str, *argv: str, env: dict[str, str] | None = None) -> tuple[int, str, str]:
    """Run the program behind a shell that redirects its streams."""
    done = subprocess.run(
        ["sh", "-c", f'exec "$@" {redirected}', "sh", sys.executable, "-c", SCRIPT, *argv],
        env=os.environ | {"PYTHONPATH": str(ROOT)} | (env or {}),
        capture_output=True,
        check=False,
        timeout=300,
    )
    return done.returncode, done.stdout.decode(), done.stderr.decode()


@pytest.mark.parametrize(
    ("redirected", "code", "told"),
    [
        (">/dev/full", 2, f"{FULL}; what went into files is\n"),
        (">&-", 2, "standard output takes no more (it is closed): what was printed is not whole"),
        (">&- 2>&-", 2, ""),
        ("2>/dev/full", 0, ""),
        ("<&-", 0, ""),
    ],
)
def test_a_command_that_prints(redirected: str, code: int, told: str) -> None:
    found, _, said = run_with(redirected, "demo")
    assert found == code
    assert said.startswith(told) if told else not said


def test_a_pipe_that_closes_ends_a_command_that_only_prints() -> None:
    with started("schema", stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.stderr is not None
        told = process.stderr.read()
        assert (process.wait(60), told) == (0, b"")


@pytest.mark.slow
@pytest.mark.parametrize("redirected", ["| true", ">/dev/full", ">&-"])
def test_pictures_are_written_whoever_reads(redirected: str, starter: Path) -> None:
    pictures = starter.parent / "pictures"
    code, _, told = run_with(redirected, "picture", str(starter), "section", "plan", "--out", str(pictures))
    assert {file.name for file in pictures.iterdir()} == {"first-section.png", "first-plan.png"}
    assert "Traceback" not in told
    assert code == (2 if ">" in redirected else 0)


@pytest.mark.slow
@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
@pytest.mark.parametrize("argv", [("check", "--all"), ("sight", "--no-spots"), ("parts",)])
def test_old_encodings(encoding: str, argv: tuple[str, ...], starter: Path) -> None:
    plain = {"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    code, out, told = ended(argv[0], starter, *argv[1:], env=plain)
    assert (code, told) == (0, "")
    assert "first lamp" in out


@pytest.mark.slow
@pytest.mark.parametrize(
    "nonsense",
    [
        {"MPLBACKEND": "nonsense"},
        {"TERM": "nonsense\x07"},
        {"LANG": "qq_QQ", "LC_ALL": "nonsense"},
        {"HOME": "/dev/null", "XDG_CACHE_HOME": "", "STACKVIEW_CACHE": ""},
        {"HOME": "", "STACKVIEW_CACHE": "/dev/null/x"},
        {"COLUMNS": "²", "LINES": "-1"},
        {"COLUMNS": "1"},
        {"COLUMNS": "9" * 5000},
    ],
    ids=lambda nonsense: " ".join(nonsense),
)
def test_nonsense_around_the_program(nonsense: dict[str, str], starter: Path) -> None:
    code, out, told = ended("picture", starter, "section", "--out", starter.parent / "pictures", env=nonsense)
    assert (code, told) == (0, "")
    assert "first-section.png" in out.replace("\n", "")
