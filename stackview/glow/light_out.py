"""Light that leaves the lamp: how much, from which layer, where to, and what it gives on the table."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stackview.checks.light_share import straight_shares
from stackview.description import defaults
from stackview.glow import engine
from stackview.glow.flux import Flux
from stackview.glow.intensity import Intensity, of_rays
from stackview.glow.photometer import OnTable, by_part, far_field, on_table
from stackview.glow.room import TABLE_GAP
from stackview.glow.scene import GlowScene
from stackview.sight.bands import Kind
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack

_DISTANCES = (250.0, 500.0, 1000.0)
"""Horizontal distances from the axis at which the table's light is told [mm]."""
_DISTANCES_IN_INCHES = (254.0, 508.0, 1016.0)
BARE = "bare light points"
_ELSE = "strip and fittings"
_PHOTONS = 24_000
"""Ways followed forwards for an error of one, so that the error falls as their root."""

_Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True, eq=False)
class LightOut:
    """Light that leaves the lamp alone, without what it stands on.

    by_layer : lumens from each part as the last surface, from the bottom up, then the bare light
    points and the rest; together they are ``lumens``. share : of what the light points give.
    """

    lumens: float
    share: float
    by_layer: tuple[tuple[str, float], ...]
    intensity: Intensity
    table: tuple[OnTable, ...]
    table_height: float
    """Height of the surface above the floor [mm]."""


def light_out(
    scene: GlowScene,
    stack: Stack,
    lines: Sightlines,
    flux: Flux,
    *,
    error: float,
    seed: int = 1,
    variant: str = engine.STEADY,
    progress: _Progress = lambda _: None,
) -> LightOut:
    """Follow the lamp's light out of it.

    Raises
    ------
    GlowMissingError
        the renderer is not installed
    """
    photons = int(min(max(_PHOTONS / error, 60_000), 3_000_000))
    thrown = far_field(scene, photons, seed, variant)
    progress(0.45)
    parts = by_part(scene, 96, int(np.clip(np.ceil(0.08 / error), 1, 4)), seed, variant)
    progress(0.75)
    above = table_above(stack)
    usual = _DISTANCES_IN_INCHES if stack.lamp.units.in_inches else _DISTANCES
    distances = tuple(distance for distance in usual if distance > _radius(stack)) or usual[-1:]
    table = on_table(scene, above, distances, photons, seed, variant)
    progress(1.0)
    total = thrown.total
    return LightOut(
        lumens=total,
        share=total / flux.total if flux.total > 0 else 0.0,
        by_layer=shared_out(total, parts, _bare(lines, flux), stack),
        intensity=of_rays(thrown.directions, thrown.lumens),
        table=table,
        table_height=stack.floor + (0.0 if stack.lamp.hangs_at is None else above),
    )


def shared_out(
    total: float, parts: dict[int, float], bare: float, stack: Stack
) -> tuple[tuple[str, float], ...]:
    """Lumens by part: bare light exactly as the sightlines have it, the rest by what was followed back."""
    bare = min(bare, total)
    rest = sum(parts.values())
    scale = (total - bare) / rest if rest > 0 else 0.0
    named = [(part.name, parts.get(number, 0.0) * scale) for number, part in enumerate(stack.placed)]
    other = sum(value for number, value in parts.items() if number < 0) * scale
    return (*((name, value) for name, value in named if value > 0.0), (BARE, bare), (_ELSE, other))


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
