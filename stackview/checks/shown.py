"""Light points that show to a named eye, or that sit inside a part."""

from stackview.checks.subject import Check, Subject
from stackview.findings import Finding
from stackview.sight.findings import shown_findings


def points_shown(subject: Subject) -> tuple[Finding, ...]:
    """Cautions for bare points, notes for glazed and veiled ones, faults for buried ones."""
    return shown_findings(subject.sightlines)


CHECK = Check(
    name="bare light",
    question="Which light points show to the named eyes, and is any inside a part?",
    formula="open elevations between the tangents of all edges in the plane through point and eye",
    source="plane geometry; terms after CIE S 017 (17-30-035, cut-off angle)",
    limits=(),
    run=points_shown,
    also=("glazed light", "veiled light", "buried light"),
    asks_sight=True,
)
