"""Edges: what chamfers leave of a rim or a face, and cuts that run out through the outer edge."""

from math import radians, tan

from stackview.checks.held import under
from stackview.checks.subject import Subject
from stackview.checks.voids import Void
from stackview.curves.fit import gap, inside
from stackview.description.lamp import Layer
from stackview.description.outline import path_of
from stackview.findings import Bound, Finding, Level, Place

_ROUNDING = 1e-6


def edges_left(subject: Subject, layer: Layer, voids: list[Void]) -> list[Finding]:
    """Cautions for knife edges between chamfers, and for cuts through the wall."""
    return [*_rims(subject, layer), *_faces(subject, layer), *_run_out(subject, layer, voids)]


def rims_of(layer: Layer) -> list[tuple[str, float]]:
    """What chamfers leave of the upright sides, outer and opening: thickness less c·tan α of each [mm]."""
    found = []
    for loop, name in (("outer", "outer edge"), ("opening", "edge of the opening")):
        heights = [
            one.width * tan(radians(one.angle)) for one in layer.chamfers if one.edge.endswith(f" {loop}")
        ]
        if heights:
            found.append((name, layer.thickness - sum(heights)))
    return found


def faces_left(layer: Layer) -> list[tuple[str, float, tuple[float, float]]]:
    """What chamfers leave of each face between outer edge and opening, where no recess lies: width, and where [mm]."""
    outer, found = path_of(layer.outline), []
    for face in ("top", "underside"):
        outside = sum(one.width for one in layer.chamfers if one.edge == f"{face} outer")
        inner = sum(one.width for one in layer.chamfers if one.edge == f"{face} opening")
        recessed = any(recess.face == face for recess in layer.recesses)
        for opening in layer.openings if (outside or inner) and not recessed else ():
            if opening.around is not None:
                continue
            wall = gap(path_of(opening.outline, "opening"), outer)
            found.append((face, wall.by - outside - (inner if opening.main else 0.0), wall.at))
    return found


def _rims(subject: Subject, layer: Layer) -> list[Finding]:
    units, limit = subject.lamp.units, subject.limits["edge_least"]
    return [
        Finding(
            check="walls",
            level=Level.CAUTION,
            where="",
            what=f"its chamfers leave {units.show(max(left, 0.0))} of its {name} upright: a knife edge, which chips",
            value=left,
            unit="mm",
            limit=limit.value,
            bound=limit.bound,
            source=f"thickness less width × tan(angle) of each chamfer; {limit.source}",
            advice="Make one of the two chamfers narrower, or bevel one side only.",
            cause=f"knife edge at the {name}",
        )
        for name, left in rims_of(layer)
        if under(left, limit.value)
    ]


def _faces(subject: Subject, layer: Layer) -> list[Finding]:
    units, limit = subject.lamp.units, subject.limits["edge_least"]
    return [
        Finding(
            check="walls",
            level=Level.CAUTION,
            where="",
            what=(
                f"its chamfers leave {units.show(left)} of its {face} between outer edge and opening: a knife edge, "
                "which chips"
                if left > _ROUNDING
                else f"its chamfers take the whole of its {face} between outer edge and opening, and "
                f"{units.show(-left)} more: it comes out lower there"
            ),
            value=left,
            unit="mm",
            limit=limit.value,
            bound=limit.bound,
            source=f"exact distance of the edges less the chamfers' widths; {limit.source}",
            advice="Make the chamfers narrower, or the wall wider.",
            places=(Place(layer.name, *at),),
            cause=f"knife edge on the {face}",
        )
        for face, left, at in faces_left(layer)
        if under(left, limit.value)
    ]


def _run_out(subject: Subject, layer: Layer, voids: list[Void]) -> list[Finding]:
    """Openings, recesses and grooves that cut through the outer edge."""
    units, outer = subject.lamp.units, path_of(layer.outline)
    worst: dict[str, Finding] = {}
    for void in voids:
        if void.entered == "side":
            continue
        fit = inside(void.path, outer)
        if fit.by <= _ROUNDING or (void.name in worst and (worst[void.name].value or 0.0) >= fit.by):
            continue
        worst[void.name] = Finding(
            check="walls",
            level=Level.CAUTION,
            where="",
            what=f"its {void.name} runs out through the outer edge, by {units.show(fit.by)} at {units.at(*fit.at)}",
            value=fit.by,
            unit="mm",
            limit=0.0,
            bound=Bound.MOST,
            source="exact distance of the cut from the outer edge",
            advice="Make it smaller or move it inwards, if no notch in the side is meant.",
            places=(Place(layer.name, *fit.at),),
            cause=f"{void.name} through the edge",
        )
    return list(worst.values())
