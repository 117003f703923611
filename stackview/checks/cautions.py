"""Cautions: fire, dust, fumes, blades, eyes and electricity, as far as they concern this lamp."""

from stackview.checks.subject import Check, Subject
from stackview.description.cautions_table import Caution, cautions_table
from stackview.findings import Finding, Level
from stackview.stack.joints import glue_of, glued_joints

_STEPS = {"layer": "cutting", "strip": "wiring", "light": "electricity and light", "pendant": "hanging"}
"""How the words of the table that are no material and no glue are shown."""


def cautions(subject: Subject) -> tuple[Finding, ...]:
    """One note on the hazards that the lamp's materials, glues and steps bring with them."""
    found = _applying(present(subject))
    if not found:
        return ()
    by_word: dict[str, list[str]] = {}
    for words, caution in found:
        by_word.setdefault(", ".join(words), []).append(caution.says)
    return (
        Finding(
            check="caution",
            level=Level.NOTE,
            where="working safely",
            what="; ".join(f"{word}: {', and '.join(says)}" for word, says in by_word.items()),
            source="; ".join(dict.fromkeys(part for _, one in found for part in one.source.split("; "))),
        ),
    )


def _applying(there: frozenset[str]) -> list[tuple[list[str], Caution]]:
    """The table's cautions that apply, each with what brings it up as a maker says it."""
    return [
        ([_STEPS.get(word, word) for word in caution.when if word in there], caution)
        for caution in cautions_table()
        if there & set(caution.when)
    ]


def present(subject: Subject) -> frozenset[str]:
    """What this lamp is made of and made by, in the words of the table."""
    lamp = subject.lamp
    words: set[str] = {
        part.material.kind for part in subject.stack.placed if part.is_layer or part.is_upright
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
