"""Exit codes: one where a finding is at least as grave as asked for."""

from collections.abc import Callable
from itertools import product

import pytest
from cyclopts import Token

from stackview.commands.arguments import distance_of, exit_code, length_of, whole_number
from stackview.description.units import Units
from stackview.errors import StackviewError
from stackview.findings import Finding, Level

WORDS = [level.word for level in Level]


def findings(*levels: Level) -> tuple[Finding, ...]:
    return tuple(Finding("check", level, "lamp", "it is so") for level in levels)


@pytest.mark.parametrize(("asked", "found"), list(product(WORDS, Level)))
def test_one_at_this_level_or_above(asked: str, found: Level) -> None:
    # A note beside it changes nothing, unless notes are asked for.
    graver = WORDS.index(found.word) >= WORDS.index(asked)
    assert exit_code(findings(found), asked) == int(graver)
    assert exit_code(findings(Level.NOTE, found), asked) == int(graver or asked == "note")


def test_nothing_asked_or_nothing_found_is_no_failure() -> None:
    assert exit_code(findings(*Level), None) == 0
    for asked in WORDS:
        assert exit_code((), asked) == 0


def test_a_distance_is_read_as_lengths_in_the_file() -> None:
    assert length_of("--distance", None, Units("in"), 100.0, 20_000.0) is None
    # The inch is 25.4 mm exactly (1959).
    assert length_of("--distance", "40", Units("in"), 100.0, 20_000.0) == pytest.approx(1016.0)
    assert distance_of("1 m", Units("in")) == pytest.approx(1000.0)
    for wrong in ("far", "1 mm", "1 km", "-5", "0", "", "nan"):
        with pytest.raises(StackviewError, match="^--from"):
            distance_of(wrong, Units("mm"))


@pytest.mark.parametrize("written", ["2.5", "nan", "inf", "0x10", "1e3", "", "9" * 5000, "½", "1_000"])
@pytest.mark.parametrize(
    "option",
    [("sheets", "--lamps"), ("preview", "--width"), ("picture", "--height"), ("view", "--width"), ("glow", "--seed")],
)  # fmt: skip
def test_what_is_no_whole_number_is_refused_and_never_rounded(
    option: tuple[str, str], written: str, run: Callable[..., tuple[int, str, str]]
) -> None:
    code, out, told = run(option[0], "lamp.toml", f"{option[1]}={written}")
    assert (code, out, told.count("\n")) == (2, "", 1)
    assert "is not a whole number. See stackview --help." in told
    assert len(told) < 150


@pytest.mark.parametrize(
    ("written", "number"), [("30", 30), ("+30", 30), ("-5", -5), ("30.00", 30), ("007", 7)]
)
def test_whole_numbers(written: str, number: int) -> None:
    assert whole_number(int, [Token(value=written)]) == number
