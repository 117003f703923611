"""Whatever ends a command becomes an exit code and words; exit code 1 is a finding and nothing else."""

from collections.abc import Callable
from pathlib import Path

import pytest

from stackview.commands import every_command, one_command, stopping
from stackview.commands.stopping import Stopped
from stackview.errors import StackviewError

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def ending(monkeypatch: pytest.MonkeyPatch) -> Callable[[object], None]:
    """Let the next command end so: with an exception or a result."""

    def end(how: object) -> None:
        def app(*_: object, **__: object) -> object:
            if isinstance(how, BaseException):
                raise how
            return how

        monkeypatch.setattr(every_command, "app", app)

    return end


@pytest.mark.parametrize(("result", "code"), [(0, 0), (1, 1), (None, 0), ("text", 0)])
def test_a_command_says_its_own_code(
    result: object, code: int, ending: Callable[..., None], run: Run
) -> None:
    ending(result)
    assert run("check") == (code, "", "")


def test_a_refusal_is_told_as_it_is_with_controls_shown(ending: Callable[..., None], run: Run) -> None:
    ending(StackviewError("lamp.toml: one\nlamp.toml: two \x1b[31m"))
    assert run("check") == (2, "", "lamp.toml: one\nlamp.toml: two \\x1b[31m\n")


@pytest.mark.parametrize(
    "how",
    [ZeroDivisionError("float division by zero"), OSError(28, "no room"), RecursionError(), AssertionError(),
     UnicodeEncodeError("ascii", "é", 0, 1, "no")],
)  # fmt: skip
def test_what_nobody_foresaw_is_one_line_and_never_a_finding(
    how: Exception, ending: Callable[..., None], run: Run
) -> None:
    ending(how)
    code, out, told = run("check", "lamp.toml")
    assert (code, out, told.count("\n")) == (2, "", 1)
    assert type(how).__name__ in told
    assert Path(told.partition("is in ")[2].partition(": please")[0]).exists()


def test_too_little_memory_is_told(ending: Callable[..., None], run: Run) -> None:
    ending(MemoryError("Unable to allocate 3 TiB"))
    code, _, told = run("check")
    assert code == 2
    assert "not enough memory for this (Unable to allocate 3 TiB)" in told


@pytest.mark.parametrize("how", [KeyboardInterrupt(), ImportError("half"), StackviewError("a consequence")])
@pytest.mark.parametrize("why", Stopped)
def test_what_comes_of_being_stopped_is_being_stopped(
    how: BaseException, why: Stopped, ending: Callable[..., None], run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stopping._Asked, "by", why)
    ending(how)
    assert run("check") == (why.exit_code, "", "stopped; nothing half-written is left\n")


@pytest.mark.parametrize("typed", ["a\x1b[2J.toml", "two\nlines.toml", "\u202elmot.pmal"])
def test_control_characters_that_are_typed_are_shown_and_refused(typed: str, run: Run) -> None:
    for argv in (["check", typed], ["picture", "lamp.toml", typed], [typed], ["new", typed]):
        code, out, told = run(*argv)
        assert (code, out) == (2, "")
        assert one_command.control_shown(typed) in told
        assert told.rstrip("\n").isprintable()


@pytest.mark.parametrize("typed", [["keys", "wall", "plate"], ["check", "a.toml", "b.toml"], ["schema", "x"]])
def test_words_that_belong_to_nothing_are_named(typed: list[str], run: Run) -> None:
    code, out, told = run(*typed)
    assert (code, out, told.count("\n")) == (2, "", 1)
    assert told.startswith(f'"{typed[-1]}" is a word too many')
    assert told.endswith(f"see stackview {typed[0]} --help\n")
