"""Every number of a demo lamp, one at a time, at the least and the most that it may be."""

from collections import Counter
from pathlib import Path

import pytest

from stackview.description.lamp_file import LampFile
from tests.whole.extremes import ask_extremes

DRUM = Path(__file__).parents[2] / "demos" / "moor-drum.toml"


@pytest.mark.slow
def test_every_number_has_a_least_and_a_most_that_are_answered_or_refused_clearly() -> None:
    tally: Counter[str] = Counter()
    file = LampFile.read(DRUM)
    assert list(ask_extremes(file, tally)) == []
    assert tally["answered"] + tally["refused"] == 2 * len(file.numbers())  # none is without a limit
    assert tally["answered"] > len(file.numbers())
