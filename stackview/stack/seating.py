"""Seating: each layer drops onto what is below it, into a recess where its outline fits.

A layer comes down until one of its level faces meets a level face below. Where it fits wholly
inside a recess (or a layer below fits inside a recess in its underside), the face around that
recess is not in the way, and it drops in by the true depth.
"""

from collections.abc import Callable
from dataclasses import dataclass

from stackview.by_value import by_value
from stackview.curves.fit import Fit
from stackview.description.lamp import FaceSide, Layer, Recess
from stackview.description.units import MILLIMETRES, Units
from stackview.findings import Bound, Finding, Level, Place
from stackview.stack.footprint import LevelArea as FaceLevel
from stackview.stack.footprint import levels, shared_area
from stackview.stack.mending import fit_in, how_to_seat, ways_to_seat

_TOUCH = 0.05
"""Areas overlapping by less than this do not carry [mm²]: facets of equal curves differ by as much."""
_SHOWN = 0.005
"""Lengths below this are shown as nought [mm]."""
_KEPT = 16_000_000
"""Contacts kept for further variants of a lamp [bytes]."""


_HAIR = 1.0
"""A layer that reaches less than this past a drawn recess was meant to drop in: its rim would carry too little [mm]."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A layer seated in a neighbour's recess."""

    layer: str
    host: str
    depth: float
    """How deep the recess is, and so how deep the layer drops in [mm]."""
    clearance: float
    """Least gap per side between the two edges [mm]."""
    proud: float
    """How far the layer stands out of the recess; negative where it is sunk [mm]."""


@dataclass(frozen=True, slots=True, repr=False)
class Misfit:
    """A layer that does not fit the recess made for it, or drawn as large but for a hair, and by how much."""

    layer: Layer
    host: Layer
    recess: Recess
    fit: Fit

    def __repr__(self) -> str:
        """One line, without the layers."""
        return f'Misfit("{self.layer.name}" in "{self.host.name}", {self.fit.by:.3f} mm into the wall)'


@dataclass(frozen=True, slots=True, repr=False)
class Standing:
    """Where layers stand, before anything is built."""

    layers: tuple[Layer, ...] = ()
    undersides: tuple[float, ...] = ()
    """Height of each layer's underside above the first layer's [mm]; may be negative."""
    seats: tuple[Seat, ...] = ()
    rests_on: tuple[int | None, ...] = ()
    """For each layer, the number of the layer that carries it; None for the first, and where nothing does."""
    misfits: tuple[Misfit, ...] = ()
    """Layers that do not fit the recess made for them."""

    def findings(self, units: Units = MILLIMETRES) -> tuple[Finding, ...]:
        """Layers that nothing carries, and those that do not fit their recess, with what would mend it."""
        fallen = [
            _nothing_below(layer, below)
            for layer, below, carrier in zip(self.layers[1:], self.layers, self.rests_on[1:], strict=False)
            if carrier is None
        ]
        return (*fallen, *(_does_not_seat(misfit, units) for misfit in self.misfits))

    def __repr__(self) -> str:
        """One line, without the layers."""
        return f"Standing(layers: {len(self.layers)}, seats: {len(self.seats)}, misfits: {len(self.misfits)})"


def seated(layers: tuple[Layer, ...]) -> Standing:
    """Let the layers down one after the other, from the bottom up."""
    undersides: list[float] = []
    seats: list[Seat] = []
    rests_on: list[int | None] = []
    misfits: list[Misfit] = []
    for index, layer in enumerate(layers):
        carrier: int | None = None
        height: float | None = 0.0 if index == 0 else None
        for below in range(index - 1, -1, -1):
            host = layers[below]
            if height is not None and undersides[below] + host.thickness <= height:
                continue
            rise = contact(layer, host)
            if rise is not None and (height is None or undersides[below] + rise > height):
                height, carrier = undersides[below] + rise, below
        if index:
            neighbours: tuple[tuple[Layer, Layer, FaceSide], ...] = (
                (layer, layers[index - 1], "top"),
                (layers[index - 1], layer, "underside"),
            )
            for one, other, face in neighbours:
                taken, missed = _seats(one, other, face)
                seats.extend(taken)
                misfits.extend(missed)
        if height is None:
            height = undersides[-1] + layers[index - 1].thickness
        undersides.append(height)
        rests_on.append(carrier)
    return Standing(layers, tuple(undersides), tuple(seats), tuple(rests_on), tuple(misfits))


def contact(layer: Layer, host: Layer) -> float | None:
    """Height above the host's underside at which the layer comes to rest on it; None if it misses."""
    return _contact(layer.as_met, host.as_met)


@by_value(_KEPT)
def _contact(layer: Layer, host: Layer) -> float | None:
    carried = _reachable(levels(host, "top"), lambda recess: fit_in(layer, host, recess).fits)
    resting = _reachable(levels(layer, "underside"), lambda recess: fit_in(host, layer, recess).fits)
    best: float | None = None
    for top, below in carried:
        for underside, above in resting:
            rise = top - underside
            if (best is None or rise > best) and shared_area(below.area, above.area) > _TOUCH:
                best = rise
    return best


def _reachable(faces: tuple[FaceLevel, ...], fits: Callable[[Recess], bool]) -> list[tuple[float, FaceLevel]]:
    """The level at which each area of a face is met by a neighbour, which may not fit its recesses.

    Where the neighbour fits a recess, the face around that is not in the way. Over a recess
    that it does not fit, it is held up at the level around that.
    """
    face = faces[0].height
    fitting = [level for level in faces if level.recess is not None and fits(level.recess)]
    met = []
    for level in faces:
        if level.recess is None:
            if not fitting:
                met.append((level.height, level))
        elif level in fitting:
            met.append((level.height, level))
        else:
            around = [one.height for one in fitting if abs(one.height - face) < abs(level.height - face)]
            met.append((max(around, key=lambda height: abs(height - face), default=face), level))
    return met


def _seats(layer: Layer, host: Layer, face: FaceSide) -> tuple[list[Seat], list[Misfit]]:
    """The seats of a layer in its neighbour's recesses, and the recesses made for it that it does not fit."""
    taken: list[Seat] = []
    missed: list[Misfit] = []
    for recess in host.recesses:
        if recess.face != face:
            continue
        fit = fit_in(layer, host, recess)
        if fit.fits:
            taken.append(Seat(layer.name, host.name, recess.depth, -fit.by, layer.thickness - recess.depth))
        elif recess.fitted_to == layer.name or (layer.around is None and fit.by < _HAIR - 1e-9):
            missed.append(Misfit(layer, host, recess, fit))
    # Recesses that each take one of several pieces make one seat.
    return list(dict.fromkeys(taken)), missed


def _does_not_seat(misfit: Misfit, units: Units) -> Finding:
    layer, host, recess, fit = misfit.layer, misfit.host, misfit.recess, misfit.fit
    return Finding(
        check="seat",
        level=Level.FAULT,
        where=f"{layer.name} in {host.name}",
        what=(
            f"it does not fit the recess in the {recess.face}: it reaches {_said(fit.by, units)} into the wall at "
            f"{units.at(*fit.at)}, and rests on top"
        ),
        short=f"does not seat: it fouls the recess by {_said(fit.by, units)}",
        value=fit.by,
        unit="mm",
        limit=0.0,
        bound=Bound.MOST,
        source="plane geometry on the exact curves; the cutter leaves its own radius in inside corners",
        advice=how_to_seat(layer, host, recess, units),
        ways=ways_to_seat(layer, host, recess),
        parts=(layer.name, host.name),
        places=(Place(layer.name, *fit.at),),
        cause=f"clearance {recess.clearance:g} about a {type(layer.outline.shape).__name__}",
    )


def _said(by: float, units: Units) -> str:
    """A length that is never said as nought, for it is why a layer does not seat."""
    return units.show(by) if by >= _SHOWN else f"less than {units.show(2.0 * _SHOWN)}"


def _nothing_below(layer: Layer, below: Layer) -> Finding:
    return Finding(
        check="support",
        level=Level.FAULT,
        where=layer.name,
        what=f"nothing below carries it: it would fall through {below.name}; shown at the height of its top",
        short=f"it would fall through {below.name}",
        advice=f"Make {layer.name} larger, or the opening of {below.name} smaller.",
        parts=(layer.name, below.name),
    )
