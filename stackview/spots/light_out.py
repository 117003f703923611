"""Light that leaves the lamp: how much, from which layer, where to, and what it gives on the table, each with its error.

Ways are followed out in batches; every figure is the mean of the batches, and its error their scatter. No
renderer is needed.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.checks.light_share import straight_shares
from stackview.description import defaults
from stackview.glow.flux import Flux
from stackview.glow.intensity import Intensity, of_rays
from stackview.glow.places import scatter
from stackview.glow.room import TABLE_GAP
from stackview.glow.scene import GlowScene
from stackview.glow.symmetry import Symmetry, lamp_symmetry
from stackview.light.colour import mean_light_colour
from stackview.light.points import LightPoints
from stackview.sight.bands import Kind
from stackview.sight.summary import Sightlines
from stackview.spots.outwards import FACE, Left, left, lit_alone
from stackview.spots.round_about import evened, ring_round
from stackview.stack.assembly import Stack

_DISTANCES = (250.0, 500.0, 1000.0)
"""Horizontal distances from the axis at which the table's light is told [mm]."""
_DISTANCES_IN_INCHES = (254.0, 508.0, 1016.0)
BARE = "bare light points"
_ELSE = "strip and fittings"
_BATCH, LEAST_BATCHES, _MOST = 32_768, 8, 120
"""Ways of a batch; fewest and most batches."""
_LEAVING = 60.0
"""Ways that leave within the bell curve of one direction, at least: an eighth of noise before it is evened out."""
_BLURS = (1.2, 8.0)
"""Narrowest and widest bell curve of a direction's light [°], standard deviation."""
_BAND = 0.05
"""Half-width of the ring of table that a distance stands for, as a share."""

_Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class LayerLight:
    """Lumens from one part as the last surface, with their standard error [lm]."""

    name: str
    lumens: float
    error: float


@dataclass(frozen=True, slots=True)
class OnTable:
    """Illuminance [lx] on a level surface at a horizontal distance from the axis [mm], and its standard error.

    least, most : over all bearings, as far as they differ by more than chance.
    """

    distance: float
    mean: float
    error: float
    least: float
    most: float


@dataclass(frozen=True, slots=True, eq=False)
class LightOut:
    """Light that leaves the lamp alone, without what it stands on.

    by_layer : from each part, from the bottom up, then the bare light points and the rest; together they are
    ``lumens``. share : of what the light points give. Errors are standard errors, ``error`` in lumens,
    ``peak_error`` of the greatest intensity in candela.
    """

    lumens: float
    error: float
    share: float
    by_layer: tuple[LayerLight, ...]
    intensity: Intensity
    peak_error: float
    table: tuple[OnTable, ...]
    table_height: float
    """Height of the surface above the floor [mm]."""
    ways: int

    @property
    def errors(self) -> tuple[float, ...]:
        """Relative standard errors of the light out and of the table's light."""
        found = [(self.error, self.lumens), *((ring.error, ring.mean) for ring in self.table)]
        return tuple(error / value if value > 0.0 else 0.0 for error, value in found)


def light_out(
    scene: GlowScene,
    stack: Stack,
    points: LightPoints,
    lines: Sightlines,
    flux: Flux,
    *,
    error: float,
    longest: float = 60.0,
    seed: int = 1,
    progress: _Progress = lambda _: None,
    enough: Callable[[], bool] = lambda: False,
) -> LightOut:
    """Follow the lamp's light out of it until the light out and on the table are known to ``error``, or time is up.

    ``error`` is relative; ``longest`` [s] ends the work after no fewer than :data:`LEAST_BATCHES` batches, and so does
    ``enough``, asked after each of them.
    """
    begun = time.monotonic()
    lit = lit_alone(scene, points, mean_light_colour(points.kelvin, flux.lumens))
    symmetry = lamp_symmetry(scene, points)
    chance = np.random.Generator(np.random.SFC64([11, seed]))
    batches: list[Left] = []
    wanted = LEAST_BATCHES
    while len(batches) < wanted:
        batches.append(left(lit, _BATCH, chance))
        progress(len(batches) / max(wanted, 1))
        if len(batches) >= LEAST_BATCHES and enough():
            break
        if len(batches) == wanted and wanted < _MOST:
            worst = max(_told(batches, stack, lines, flux, symmetry, finished=False).errors)
            spent = time.monotonic() - begun
            fitting = int(len(batches) * longest / max(spent, 1e-6))
            # The error itself is only estimated: a tenth more than it asks for, and never on one lucky look alone.
            asked = int(np.ceil(len(batches) * min(1.2 * (worst / error) ** 2, 4.0)))
            wanted = min(max(asked, wanted), max(fitting, wanted), _MOST)
    progress(1.0)
    return _told(batches, stack, lines, flux, symmetry, finished=True)


def _told(
    batches: Sequence[Left],
    stack: Stack,
    lines: Sightlines,
    flux: Flux,
    symmetry: Symmetry,
    *,
    finished: bool,
) -> LightOut:
    """What batches of ways tell; the intensity only when all are there, for it takes time."""
    bare = _bare(lines, flux)
    parts = _by_part(batches, len(stack.placed))
    above = table_above(stack)
    table = tuple(_on_table(batches, above, distance, symmetry) for distance in distances_for(stack))
    other = parts.sum(axis=1)
    lumens, error = bare + float(other.mean()), _error_of(other)
    intensity, peak_error = _intensity(batches, symmetry) if finished else (_nothing(), 0.0)
    return LightOut(
        lumens=lumens,
        error=error,
        share=lumens / flux.total if flux.total > 0 else 0.0,
        by_layer=_by_layer(parts, bare, stack, least=_of_one_way(batches)),
        intensity=intensity,
        peak_error=peak_error,
        table=table,
        table_height=stack.floor + (0.0 if stack.lamp.hangs_at is None else above),
        ways=len(batches) * _BATCH,
    )


def _error_of(values: Floats) -> float:
    """Standard error of the mean of batches' values (b,), the greatest counted as if it may come once more."""
    mean, error = scatter(values[:, None])
    return mean * error


def _of_one_way(batches: Sequence[Left]) -> float:
    """What a single way of light adds to a mean [lm]: no figure is known better, not even of what none has met."""
    return max((float(batch.lumens.max()) for batch in batches if len(batch.lumens)), default=0.0) / len(
        batches
    )


def _by_part(batches: Sequence[Left], count: int) -> Floats:
    """Lumens (b, count + 1) by the part that was met last, the last column strips and fittings; bare light left out."""
    found = np.zeros((len(batches), count + 1))
    for row, batch in zip(found, batches, strict=True):
        own = batch.last != FACE
        column = np.where(batch.last[own] >= 0, batch.last[own], count)
        row += np.bincount(column, batch.lumens[own], count + 1)
    return found


def _by_layer(parts: Floats, bare: float, stack: Stack, *, least: float) -> tuple[LayerLight, ...]:
    """Bare light exactly as the sightlines have it, the rest as it was followed; no error is under the ``least`` [lm]."""

    def followed(name: str, values: Floats) -> LayerLight:
        return LayerLight(name, float(values.mean()), max(_error_of(values), least))

    found = [
        followed(part.name, values)
        for part, values in zip(stack.placed, parts.T, strict=False)
        if values.any()
    ]
    return (*found, LayerLight(BARE, bare, 0.0), followed(_ELSE, parts[:, -1]))


def _on_table(batches: Sequence[Left], height: float, distance: float, symmetry: Symmetry) -> OnTable:
    """Light that falls on the ring of table about a distance."""
    low, high = distance * (1.0 - _BAND), distance * (1.0 + _BAND)
    area = np.pi * (high**2 - low**2) * 1e-6
    bearing, lux, batch = [], [], []
    for number, one in enumerate(batches):
        down = (one.travel[2] < -1e-6) & (one.at[2] > height)
        at, travel = one.at[:, down].astype(np.float64), one.travel[:, down].astype(np.float64)
        place = at + travel * ((height - at[2]) / travel[2])
        away = np.hypot(place[0], place[1])
        own = (away >= low) & (away < high)
        bearing.append(np.arctan2(place[0, own], -place[1, own]))
        # Light on a table falls about as the cube of the distance: brought to the ring's own.
        lux.append(one.lumens[down][own] * (away[own] / distance) ** 3 / area)
        batch.append(np.full(int(own.sum()), number))
    found = ring_round(
        np.concatenate(bearing), np.concatenate(lux), np.concatenate(batch), len(batches), symmetry
    )
    return OnTable(distance, *found)


def _intensity(batches: Sequence[Left], symmetry: Symmetry) -> tuple[Intensity, float]:
    """Intensity over the sphere, no finer than the ways bear, and what chance explains round the lamp evened out."""
    count = symmetry.copies * sum(len(batch.lumens) for batch in batches)
    blur = float(np.clip(np.degrees(np.sqrt(_LEAVING / max(count, 1))), *_BLURS))
    groups = [batches[start::LEAST_BATCHES] for start in range(LEAST_BATCHES)]
    grids = []
    for group in groups:
        travel = np.concatenate([batch.travel.T for batch in group]).astype(np.float64)
        lumens = np.concatenate([batch.lumens for batch in group]) / len(group)
        if not len(lumens):
            return _nothing(), 0.0
        grids.append(of_rays(travel, lumens, spread=blur))
    return evened(grids, symmetry)


def _nothing() -> Intensity:
    return Intensity(np.zeros(1), np.array([0.0, 90.0, 180.0]), np.zeros((1, 3)))


def distances_for(stack: Stack) -> tuple[float, ...]:
    """Horizontal distances [mm] at which the table's light is told: those outside the lamp."""
    usual = _DISTANCES_IN_INCHES if stack.lamp.units.in_inches else _DISTANCES
    return tuple(distance for distance in usual if distance * (1.0 - _BAND) > _radius(stack)) or usual[-1:]


def table_above(stack: Stack) -> float:
    """Height of the surface that the lamp lights, in the lamp's frame [mm].

    What it stands on; under a lamp that hangs a table of the usual height, or else the floor.
    """
    if stack.lamp.hangs_at is None:
        return -TABLE_GAP
    usual = defaults.SURFACE_HEIGHT.number
    return usual - stack.floor if usual < stack.floor - 50.0 else -stack.floor


def _bare(lines: Sightlines, flux: Flux) -> float:
    """Light that leaves straight through air [lm], exactly."""
    if not len(lines.points):
        return 0.0
    return float((straight_shares(lines.points, lines.bands)[Kind.BARE] * flux.lumens).sum())


def _radius(stack: Stack) -> float:
    places = [part.solid.vertices for part in stack.placed if len(part.solid.vertices)]
    return max(float(np.hypot(vertices[:, 0], vertices[:, 1]).max()) for vertices in places)
