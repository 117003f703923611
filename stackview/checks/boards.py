"""Boards of light points: whether the layer that they are said to lie on is under them at all."""

from collections.abc import Iterator

from stackview.checks.subject import Subject
from stackview.description.light_source import Diode, Panel
from stackview.findings import Finding, Level
from stackview.light.board import REACH, lies_at


def boards(subject: Subject) -> Iterator[Finding]:
    """A caution for each panel or diode over an opening that leaves nothing to fasten it to."""
    for lit in subject.light.lit:
        layout = lit.light.layout
        if not isinstance(layout, Panel | Diode):
            continue
        if lies_at(layout, lit.light.emitter, subject.stack.part(layout.on)) is not None:
            continue
        units = subject.lamp.units
        yield Finding(
            check="support",
            level=Level.CAUTION,
            where=f'light "{lit.light.name}"',
            parts=(layout.on,),
            what=f"it lies on nothing: {layout.on} is open under it, and {units.show(REACH)} round about",
            source="areas of level faces under the light-giving face and about it; half a star board, common practice",
            advice=f"Move it onto {layout.on}, make the opening smaller, or name the layer below as the one it is on.",
            cause="a board on nothing",
        )
