"""Clashes: no two parts take the same space."""

from stackview.checks.subject import Check, Subject
from stackview.findings import Finding


def clash(subject: Subject) -> tuple[Finding, ...]:
    """Faults of parts that overlap, as the stack found them."""
    return tuple(finding for finding in subject.stack.findings if finding.check == "overlap")


CHECK = Check(
    name="overlap",
    question="Do two parts take the same space?",
    formula="volume of the two solids' intersection",
    source="boolean intersection of the exact solids",
    limits=(),
    run=clash,
)
