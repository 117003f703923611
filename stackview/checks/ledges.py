"""Ledges: how much of a plate's edge lies on the face or recess floor that carries it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.checks.against import against
from stackview.checks.held import under
from stackview.checks.proposals import larger
from stackview.checks.subject import Subject
from stackview.curves.arcs import pieces_of, turned
from stackview.curves.fit import gap, inside, reach_outside
from stackview.description.lamp import FaceSide, Layer, Recess
from stackview.description.outline import path_of
from stackview.findings import Finding, Place, Way
from stackview.stack.seating import Seat

_ROUNDING = 1e-6
_NOTHING = 0.005
"""Widths that are said as nought [mm]."""


@dataclass(frozen=True, slots=True)
class Ledge:
    """Where a plate lies on the floor of its recess: least width, what bevels take of it, and where [mm].

    ``width`` is negative where the opening reaches past the plate. ``at`` is in the host's own frame.
    """

    width: float
    bevels: float
    at: tuple[float, float]
    opening: int
    """The number of the opening beside it."""


def ledges(subject: Subject) -> list[tuple[Finding, tuple[str, ...]]]:
    """A caution for every ledge that is narrower than its limit, with the layer that has it."""
    limit, units = subject.limits["ledge"], subject.lamp.units
    found: list[tuple[Finding, tuple[str, ...]]] = []
    for layer, host, ledge in narrow_ledges(subject):
        if not all(one.carried for one in subject.stack.supports.of(layer.name)):
            continue  # told as what stands on nothing
        left = ledge.width - ledge.bevels
        eaten = f", of which chamfers take {units.show(ledge.bevels)}" if ledge.bevels else ""
        if abs(ledge.width) < _NOTHING:
            what = "its opening is as wide as what lies on it: no ledge is left"
        elif ledge.width > 0.0:
            what = f"the ledge under what lies on it is only {units.show(ledge.width)} wide{eaten}"
        else:
            what = f"its opening reaches {units.show(-ledge.width)} past the plate that lies in it"
        by = limit.value - left
        finding = against(
            limit,
            left,
            "walls",
            f"{what} at {units.at(*ledge.at)}",
            advice="Make the opening smaller, or what lies on it larger.",
            places=(Place(host.name, *ledge.at),),
            cause="narrow ledge" if ledge.width > 0.0 else "opening past its plate",
            ways=(
                Way(host.name, f"size of opening {ledge.opening}", 0.0, -by, along="size of the opening"),
                larger(layer.name, by, "size of what lies on it"),
            ),
        )
        found.append((finding, (host.name,)))
    return found


def narrow_ledges(subject: Subject) -> list[tuple[Layer, Layer, Ledge]]:
    """Every ledge narrower than its limit, in a recess or on a plain face: the plate, its host, the ledge."""
    layers = {layer.name: layer for layer in subject.lamp.layers}
    limit = subject.limits["ledge"].value
    found = []
    for seat in subject.stack.seats:
        layer, host = layers[seat.layer], layers[seat.host]
        found += [(layer, host, ledge) for ledge in ledges_of(layer, host, seat)]
    for layer, host in _on_faces(subject):
        # What does not reach all round the opening bridges it, and is no ledge.
        found += [(layer, host, ledge) for ledge in _along(layer, host, "top") if ledge.width > 0.0]
    return [one for one in found if under(one[2].width - one[2].bevels, limit)]


def _on_faces(subject: Subject) -> Iterator[tuple[Layer, Layer]]:
    """Every layer with the one that carries it, where neither is seated in the other."""
    layers = subject.lamp.layers
    seated = [{seat.layer, seat.host} for seat in subject.stack.seats]
    seated += [{misfit.layer.name, misfit.host.name} for misfit in subject.stack.misfits]
    for layer, below in zip(layers, subject.stack.rests_on, strict=False):
        if below is not None and {layer.name, layers[below].name} not in seated:
            yield layer, layers[below]


def ledges_of(layer: Layer, host: Layer, seat: Seat) -> list[Ledge]:
    """The ledge of a seated plate at each main opening of its host, exact, less the bevels that it loses."""
    recess = _recess(host, seat)
    return [] if recess is None else _along(layer, host, recess.face)


def _along(layer: Layer, host: Layer, side: FaceSide) -> list[Ledge]:
    if layer.around is not None or host.around is not None:
        return []
    facing: FaceSide = "underside" if side == "top" else "top"
    bevels = sum(one.width for one in host.chamfers if one.edge == f"{side} opening")
    bevels += sum(one.width for one in layer.chamfers if one.edge == f"{facing} outer")
    plate = turned(path_of(layer.outline), layer.turn - host.turn)
    found = []
    for number, opening in enumerate(host.openings):
        if not opening.main:
            continue
        edge = path_of(opening.outline, "opening")
        least = gap(edge, plate)
        if least.by > _ROUNDING and reach_outside(np.array((least.at,)), pieces_of(plate))[0] < 0.0:
            found.append(Ledge(least.by, bevels, least.at, number))
        else:
            fit = inside(edge, plate)  # how far it reaches past the plate
            found.append(Ledge(-fit.by, bevels, fit.at, number))
    return found


def _recess(host: Layer, seat: Seat) -> Recess | None:
    alike = [recess for recess in host.recesses if abs(recess.depth - seat.depth) < _ROUNDING]
    fitted = [recess for recess in alike if recess.fitted_to == seat.layer]
    return next(iter(fitted or alike), None)
