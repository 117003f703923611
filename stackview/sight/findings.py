"""Findings from the sightlines: light points that show to a named eye, or sit inside a part."""

from stackview.findings import Bound, Finding, Level
from stackview.in_figures import bearing_words, degrees
from stackview.sight.bands import Kind
from stackview.sight.beams import WORDED
from stackview.sight.causes import Cause
from stackview.sight.eyes import Seen
from stackview.sight.summary import Sightlines

_SOURCE = "exact straight sightlines from each light point to the eye"

BURIED = "buried light"
"""The check of what sits inside a part."""


def shown_findings(lines: Sightlines) -> tuple[Finding, ...]:
    """Bare points are cautions, glazed and veiled ones notes; a buried point is a fault."""
    found = [
        Finding(
            check=BURIED,
            level=Level.FAULT,
            where=name,
            what=f"{count} light {'point sits' if count == 1 else 'points sit'} inside it",
            value=float(count),
            unit="light points",
            limit=0.0,
            bound=Bound.MOST,
            source="closed mesh, counted straight down",
            advice=f"Widen the opening of {name}, or move the light out of it: a strip by a thinner core.",
            parts=(name,),
            cause="inside a part",
        )
        for name, count in lines.buried.items()
    ]
    for seen, causes in zip(lines.from_middles, lines.causes, strict=True):
        found.extend(_of_eye(seen, causes, len(lines.points)))
    return tuple(found)


def _of_eye(seen: Seen, causes: tuple[Cause, ...], total: int) -> list[Finding]:
    found = []
    for kind, level, through in (
        (Kind.BARE, Level.CAUTION, "straight through air"),
        (Kind.GLAZED, Level.NOTE, "through clear acrylic"),
        (Kind.VEILED, Level.NOTE, "as spots behind sanded or opal acrylic"),
    ):
        counts = seen.counts(kind)
        most = int(counts.max()) if len(counts) else 0
        if not most:
            continue
        worst = int(counts.argmax())
        found.append(
            Finding(
                check=f"{kind.word} light",
                level=level,
                where=f'eye "{seen.eye.name}"',
                what=(
                    f"{_up_to(most, total)} {through}, {'most ' if total > 1 else ''}from bearing "
                    f"{bearing_words(seen.bearings[worst])}, at elevation {degrees(seen.elevation)}"
                ),
                short=f"{_up_to(most, total)} {kind.word}",
                value=float(most),
                unit="light points",
                limit=0.0,
                bound=Bound.MOST,
                source=WORDED if kind == Kind.GLAZED else _SOURCE,
                advice=past(causes) if kind == Kind.BARE else "",
                parts=_between(causes) if kind == Kind.BARE else (),
                cause=f'bare to eye "{seen.eye.name}"' if kind == Kind.BARE else kind.word,
            )
        )
    return found


def _between(causes: tuple[Cause, ...]) -> tuple[str, ...]:
    """The parts whose edges bound the gaps that the bare points show through."""
    return tuple(dict.fromkeys(part for cause in causes for part in cause.between))


def _up_to(most: int, total: int) -> str:
    if total == 1:
        return "its light point shows"
    return f"up to {most} of {total} light points show{'s' if most == 1 else ''}"


def past(causes: tuple[Cause, ...]) -> str:
    """Past which edges the bare points show; what would hide them is for trials on the rebuilt lamp to say."""
    if not causes:
        return ""
    alone = sum(cause.points for cause in causes) == 1
    if alone:
        return f"It shows past {causes[0].edge}."
    return f"They show past {'; '.join(f'{cause.edge} ({cause.points})' for cause in causes)}."
