"""Findings from the sightlines: light points that show to a named eye, or sit inside a part."""

import numpy as np

from stackview.findings import Bound, Finding, Level
from stackview.in_figures import bearing_words, degrees
from stackview.light.points import LightPoints
from stackview.sight.bands import Kind, taken_at
from stackview.sight.beams import WORDED
from stackview.sight.causes import Cause
from stackview.sight.crossings import beneath
from stackview.sight.eyes import Seen
from stackview.sight.scene import Scene
from stackview.sight.summary import Sightlines

_TOGETHER = 16
"""Light points looked at together."""


def buried(scene: Scene, points: LightPoints) -> dict[str, int]:
    """Number of light points inside each part that holds any.

    Straight down from a point inside a closed body, one more of its faces is left than entered.
    """
    places = taken_at(points)
    left = np.zeros((len(places), len(scene.names)))
    # Neighbours on a strip lie in a small box, which few triangles lie beneath.
    for start in range(0, len(places), _TOGETHER):
        run = places[start : start + _TOGETHER]
        near = scene.within_plan(np.arange(len(scene.triangles)), run.min(axis=0), run.max(axis=0))
        at, below, turned_to = beneath(scene, near, run)
        np.add.at(left, (at + start, scene.solid_of_triangle[below]), np.where(turned_to, -1.0, 1.0))
    found: dict[str, int] = {}
    for solid in np.nonzero(left > 0.5)[1].tolist():
        found[scene.names[solid]] = found.get(scene.names[solid], 0) + 1
    return found


_SOURCE = "exact straight sightlines from each light point to the eye"


def shown_findings(lines: Sightlines) -> tuple[Finding, ...]:
    """Bare points are cautions, glazed and veiled ones notes; a buried point is a fault."""
    found = [
        Finding(
            check="buried light",
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
        for name, count in buried(lines.scene, lines.points).items()
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
