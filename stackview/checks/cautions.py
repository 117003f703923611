"""Cautions: fire, dust, fumes, blades, eyes and electricity, as far as they concern this lamp."""

from stackview.checks.subject import Check, Subject
from stackview.description.cautions_table import cautions_table
from stackview.findings import Finding, Level
from stackview.stack.joints import glue_of, glued_joints

_STEPS = {"layer": "cutting", "strip": "wiring", "light": "electricity and light", "pendant": "hanging"}
"""How the words of the table that are no material and no glue are shown."""


def cautions(subject: Subject) -> tuple[Finding, ...]:
    """A note for every hazard that the lamp's materials, glues and steps bring with them."""
    there = present(subject)
    return tuple(
        Finding(
            check="caution",
            level=Level.NOTE,
            where=", ".join(_STEPS.get(word, word) for word in caution.when if word in there),
            what=caution.says,
            source=caution.source,
        )
        for caution in cautions_table()
        if there & set(caution.when)
    )


def present(subject: Subject) -> frozenset[str]:
    """What this lamp is made of and made by, in the words of the table."""
    lamp = subject.lamp
    words: set[str] = {
        part.material.kind for part in subject.stack.placed if part.role in ("layer", "core", "post")
    }
    glues = {glue_of(lamp, joint).name for joint in glued_joints(subject.stack)}
    steps = {
        "layer": bool(lamp.layers),
        "light": bool(lamp.lights),
        "strip": any(light.layout.strip is not None for light in lamp.lights),
        "pendant": lamp.hangs_at is not None,
    }
    return frozenset({*words, *glues, *(word for word, holds in steps.items() if holds)})


CHECK = Check(
    name="caution",
    question="Which hazards do the lamp's materials, glues and steps bring?",
    formula="none: by what the lamp is made of",
    source="see each; local codes and licensed practice come first",
    limits=(),
    run=cautions,
)
