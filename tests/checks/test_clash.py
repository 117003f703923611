"""Clashes as the stack found them, and nothing else of what it found."""

from types import SimpleNamespace

from stackview.checks.clash import CHECK, clash
from stackview.findings import Finding, Level
from stackview.stack.clashes import clashes
from tests.lamps import box


def subject(*findings: Finding):  # type: ignore[no-untyped-def]
    return SimpleNamespace(stack=SimpleNamespace(findings=findings))


def test_overlaps_are_told_as_they_stand_and_in_order() -> None:
    parts = (
        box("one", (0, 0, 0), (10, 10, 6)),
        box("other", (8, 7, 4), (20, 20, 20)),
        box("third", (0, 0, 5), (1, 1, 9)),
    )
    found = clashes(parts, 0.05)
    seat = Finding("seat", Level.FAULT, "plate", "it does not fit")
    told = clash(subject(found[0], seat, *found[1:]))
    assert told == found
    # 2 × 3 × 2 mm³ and 1 × 1 × 1 mm³.
    assert [round(finding.value or 0.0, 6) for finding in told] == [12.0, 1.0]


def test_no_overlap_is_silence() -> None:
    assert clash(subject()) == clash(subject(Finding("seat", Level.FAULT, "plate", "no"))) == ()


def test_the_checks_name_is_that_of_its_findings() -> None:
    (found,) = clashes((box("one", (0, 0, 0), (1, 1, 1)), box("other", (0, 0, 0), (1, 1, 1))), 0.05)
    assert found.check == CHECK.name
    assert CHECK.run is clash
