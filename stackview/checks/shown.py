"""Light points that show to a named eye, or that sit inside a part."""

from dataclasses import replace

from stackview.checks.strip_openings import all_strips, openings_for, out_of_opening
from stackview.checks.subject import Check, Subject
from stackview.findings import Finding, Way
from stackview.sight.findings import BURIED, shown_findings


def points_shown(subject: Subject) -> tuple[Finding, ...]:
    """Cautions for bare points, notes for glazed and veiled ones, faults for buried ones."""
    return tuple(
        replace(found, ways=_out_of(subject, found.parts[0])) if found.check == BURIED else found
        for found in shown_findings(subject.sightlines)
    )


def _out_of(subject: Subject, name: str) -> tuple[Way, ...]:
    """What lets the strip that sits in a layer pass its opening with play: the opening wider, or the core thinner."""
    layer = next((each for each in subject.lamp.layers if each.name == name), None)
    sections = all_strips(subject.lamp)
    by = out_of_opening(layer, sections) if layer is not None and sections else None
    if by is None:
        return ()
    least = subject.limits.value("line_up_least")
    return openings_for(subject, sections, [name], by + least) if by + least > 0.0 else ()


CHECK = Check(
    name="bare light",
    question="Which light points show to the named eyes, and is any inside a part?",
    formula="open elevations between the tangents of all edges in the plane through point and eye",
    source="plane geometry; terms after CIE S 017 (17-30-035, cut-off angle)",
    limits=(),
    run=points_shown,
    also=("glazed light", "veiled light", BURIED),
    asks_sight=True,
)
