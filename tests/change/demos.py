"""Demo lamps, studied once for all tests of mends."""

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from stackview.change.mend import Mended
from stackview.change.mends import Mending
from stackview.findings import Finding
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
NAMES = ("moor-drum", "honeycomb", "kelp", "turning-lantern")


@cache
def study(name: str) -> Study:
    return Study.read(DEMOS / f"{name}.toml")


@cache
def mending(name: str) -> Mending:
    return Mending(study(name))


def mended(source: Study) -> Iterator[tuple[Finding, Mended]]:
    """Findings for which mends were looked for, with what was found."""
    own = Mending(source)
    for finding in source.findings:
        found = own.of(finding)
        if found is not None:
            yield finding, found
