"""A command reads the lamp's file once, and works out no more than it says."""

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

import stackview.sight.summary as summary
import stackview.study as study

DEMOS = Path(__file__).parents[2] / "demos"
OPENED: Counter[str] = Counter()
_WATCHED: list[str] = []


def _hook(event: str, arguments: tuple[object, ...]) -> None:
    if event == "open" and _WATCHED and isinstance(arguments[0], str) and arguments[0].endswith(_WATCHED[0]):
        OPENED[Path(arguments[0]).name] += 1


@pytest.fixture(scope="module", autouse=True)
def _hooked() -> None:
    sys.addaudithook(_hook)


@pytest.fixture
def opened() -> Iterator[Counter[str]]:
    """How often the lamp's file is opened, in whatever way."""
    OPENED.clear()
    _WATCHED.append("moor-drum.toml")
    yield OPENED
    _WATCHED.clear()


@pytest.mark.parametrize(
    "command",
    [
        ("check",),
        ("check", "--json"),
        ("sight",),
        ("sight", "--json", "--bands", "--no-spots"),
        ("preview", "--width", "160", "--height", "120"),
        pytest.param(
            ("picture", "front", "eyes", "--width", "640", "--height", "480"), marks=pytest.mark.slow
        ),
    ],
    ids=" ".join,
)
def test_a_file_is_read_once(run, tmp_path, command, opened) -> None:  # type: ignore[no-untyped-def]
    name, *options = command
    out = ("--out", tmp_path) if name in ("preview", "picture") else ()
    code, _, err = run(name, DEMOS / "moor-drum.toml", *options, *out)
    assert (code, err) == (0, "")
    assert opened == {"moor-drum.toml": 1}


def test_pictures_need_neither_checks_nor_sightlines(run, tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    def never(*_: object, **__: object) -> None:
        raise AssertionError("a picture asks for no more than it shows")

    monkeypatch.setattr(summary, "all_bands", never)
    monkeypatch.setattr(study, "run_checks", never)
    where = ("--out", tmp_path, "--width", "640", "--height", "480")
    assert run("picture", DEMOS / "moor-drum.toml", "top", "eyes", *where)[0] == 0
