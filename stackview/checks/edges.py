"""Edges: what chamfers leave of a rim or a face, and cuts that run out through the outer edge."""

from math import radians, tan

from stackview.checks.against import against
from stackview.checks.held import under
from stackview.checks.proposals import larger, narrower_chamfers, resized, thicker
from stackview.checks.subject import Subject
from stackview.checks.voids import Void
from stackview.curves.fit import gap, inside
from stackview.description.lamp import Layer
from stackview.description.limits_table import Limit
from stackview.description.outline import path_of
from stackview.findings import Bound, Finding, Level, Place, Way

_ROUNDING = 1e-6


def edges_left(subject: Subject, layer: Layer, voids: list[Void], wall: Limit) -> list[Finding]:
    """Cautions for knife edges between chamfers, and for cuts through the wall, which ``wall`` limits."""
    return [*_rims(subject, layer), *_faces(subject, layer), *_run_out(subject, layer, voids, wall)]


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


def faces_left(layer: Layer) -> list[tuple[str, float, tuple[float, float], int]]:
    """What chamfers leave of each face between outer edge and opening, where no recess lies.

    The face, the width [mm], where, and the number of the opening.
    """
    outer, found = path_of(layer.outline), []
    for face in ("top", "underside"):
        outside = sum(one.width for one in layer.chamfers if one.edge == f"{face} outer")
        inner = sum(one.width for one in layer.chamfers if one.edge == f"{face} opening")
        recessed = any(recess.face == face for recess in layer.recesses)
        for number, opening in enumerate(layer.openings) if (outside or inner) and not recessed else ():
            if opening.around is not None:
                continue
            wall = gap(path_of(opening.outline, "opening"), outer)
            found.append((face, wall.by - outside - (inner if opening.main else 0.0), wall.at, number))
    return found


def _rims(subject: Subject, layer: Layer) -> list[Finding]:
    units, limit = subject.lamp.units, subject.limits["edge_least"]
    return [
        against(
            limit,
            left,
            "walls",
            f"its chamfers leave {units.show(max(left, 0.0))} of its {name} upright: a knife edge, which chips",
            by="thickness less width × tan(angle) of each chamfer",
            advice="Make one of the two chamfers narrower, or bevel one side only.",
            short=f"its chamfers leave a knife edge of {units.show(max(left, 0.0))}",
            cause=f"knife edge at the {name}",
            ways=_rim_left(layer, name, limit.value - left),
        )
        for name, left in rims_of(layer)
        if under(left, limit.value)
    ]


def _rim_left(layer: Layer, name: str, by: float) -> tuple[Way, ...]:
    """A chamfer of one of the two faces narrower, so that ``by`` [mm] more of the rim stays upright; or a thicker sheet."""
    loop = "outer" if name == "outer edge" else "opening"
    ways: list[Way] = []
    for one in layer.chamfers:
        if one.edge.endswith(f" {loop}"):
            ways += narrower_chamfers(layer, (one.edge,), by / tan(radians(one.angle)))
    return (*ways, *thicker(layer, by))


def _faces(subject: Subject, layer: Layer) -> list[Finding]:
    units, limit = subject.lamp.units, subject.limits["edge_least"]
    return [
        against(
            limit,
            left,
            "walls",
            (
                f"its chamfers leave {units.show(left)} of its {face} between outer edge and opening: a knife edge, "
                "which chips"
                if left > _ROUNDING
                else f"its chamfers take the whole of its {face} between outer edge and opening, and "
                f"{units.show(-left)} more: it comes out lower there"
            ),
            by="exact distance of the edges less the chamfers' widths",
            advice="Make the chamfers narrower, or the wall wider.",
            places=(Place(layer.name, *at),),
            cause=f"knife edge on the {face}",
            ways=(
                *narrower_chamfers(layer, (f"{face} outer", f"{face} opening"), limit.value - left),
                Way(layer.name, f"size of opening {number}", 0.0, left - limit.value),
                larger(layer.name, limit.value - left),
            ),
        )
        for face, left, at, number in faces_left(layer)
        if under(left, limit.value)
    ]


def _run_out(subject: Subject, layer: Layer, voids: list[Void], wall: Limit) -> list[Finding]:
    """Openings, recesses and grooves that cut through the outer edge; mended, they leave a wall there."""
    units, outer = subject.lamp.units, path_of(layer.outline)
    worst: dict[str, Finding] = {}
    for void in voids:
        if void.entered == "side":
            continue
        fit = inside(void.path, outer)
        needed = min(wall.value, void.high - void.low)
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
            ways=(*resized(layer, void, -fit.by - needed), larger(layer.name, fit.by + needed)),
            places=(Place(layer.name, *fit.at),),
            cause=f"{void.name} through the edge",
        )
    return list(worst.values())
