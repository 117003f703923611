"""Exit codes: one where a finding is at least as grave as asked for."""

from itertools import product

import pytest

from stackview.commands.arguments import exit_code
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
