"""Clashes as the stack found them, and nothing else of what it found."""

from types import SimpleNamespace

import pytest

from stackview.checks.clash import CHECK, clash
from stackview.checks.subject import run_checks
from stackview.findings import Finding, Level
from stackview.stack.clashes import clashes
from stackview.stack.placed import Placed
from tests.checks.written import subject as written_subject
from tests.lamps import box


def subject(*findings: Finding, parts: tuple[Placed, ...] = ()):  # type: ignore[no-untyped-def]
    return SimpleNamespace(stack=SimpleNamespace(findings=findings, placed=parts))


def test_overlaps_are_told_as_they_stand_and_in_order() -> None:
    parts = (
        box("one", (0, 0, 0), (10, 10, 6)),
        box("other", (8, 7, 4), (20, 20, 20)),
        box("third", (0, 0, 5), (1, 1, 9)),
    )
    found = clashes(parts, 0.05)
    seat = Finding("seat", Level.FAULT, "plate", "it does not fit")
    told = clash(subject(found[0], seat, *found[1:], parts=parts))
    assert told == found
    # 2 × 3 × 2 mm³ and 1 × 1 × 1 mm³.
    assert [round(finding.value or 0.0, 6) for finding in told] == [12.0, 1.0]


@pytest.mark.parametrize(
    ("height", "wanted"),
    [
        (35.0, [("core", "height", 35.0, 20.0)]),  # 20 up to the cap
        (40.0, []),  # through the whole cap, in which it has no hole
    ],
)
def test_what_parts_a_core_and_a_layer(height: float, wanted: list[tuple[str, str, float, float]]) -> None:
    rows = "outline = { circle = 120 }\n"
    text = 'name = "x"\ncutter = 3\nmaterials.w = { wood = "ash", sold = 20 }\nmaterials.m = { metal = "brass" }\n'
    for name, own in (("base", ""), ("ring", "wall = 20\n"), ("cap", "")):
        text += f'[[layer]]\nname = "{name}"\nmaterial = "w"\n{rows}{own}\n'
    text += f'[core]\nmaterial = "m"\noutline = {{ circle = 30 }}\nheight = {height}\nstands_on = "base"\n'
    (fault,) = clash(written_subject(text))
    found = [(way.part, way.key, way.now, way.guess) for way in fault.ways]
    assert found == [(*names, now, pytest.approx(guess, abs=1e-4)) for *names, now, guess in wanted]


def test_a_rod_far_too_large_for_its_holes_wants_them_wider() -> None:
    text = 'name = "x"\ncutter = 3\nmaterials.w = { wood = "ash", sold = 20 }\nmaterials.m = { metal = "brass" }\n'
    for name in ("low", "high"):
        text += f'[[layer]]\nname = "{name}"\nmaterial = "w"\noutline = {{ circle = 60 }}\nopening = {{ circle = 3.5 }}\n'
    text += '[[post]]\nname = "rod"\nmaterial = "m"\noutline = { circle = 4 }\nfrom = "low"\nto = "high"\n'
    (fault,) = run_checks(written_subject(text), (CHECK,))
    # 0.25 per side, and the play of 0.05
    assert [(way.part, way.key, way.guess) for way in fault.ways] == [
        (name, "size of opening 0", pytest.approx(0.3)) for name in ("low", "high")
    ]


def test_no_overlap_is_silence() -> None:
    assert clash(subject()) == clash(subject(Finding("seat", Level.FAULT, "plate", "no"))) == ()


def test_the_checks_name_is_that_of_its_findings() -> None:
    (found,) = clashes((box("one", (0, 0, 0), (1, 1, 1)), box("other", (0, 0, 0), (1, 1, 1))), 0.05)
    assert found.check == CHECK.name
    assert CHECK.run is clash
