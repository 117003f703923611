"""Short grain: where a ring of solid wood runs across its grain, only the wall's width holds it."""

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.checks.held import under
from stackview.checks.subject import Subject
from stackview.curves.arcs import Path, cos_sin, pieces_of, polygon
from stackview.curves.fit import reach_outside
from stackview.description.lamp import Layer
from stackview.description.outline import path_of
from stackview.findings import Finding, Level, Place

_FACETS = 0.002
"""Chord error of the outer edge [mm]: a wall at its limit keeps it."""
_STEP = 2.0
"""Walls are measured this often along the outer edge [mm]."""
_ACROSS = float(np.cos(np.radians(45.0)))
"""A wall runs across the grain where the grain is nearer to its width than to its length."""


def short_grain(subject: Subject, layer: Layer) -> list[Finding]:
    """A caution where a wall that runs across the grain is thinner than its limit."""
    limit, units = subject.limits["short_grain"], subject.lamp.units
    if layer.material.kind != "wood":
        return []
    found = []
    for opening in layer.openings:
        if not opening.main:
            continue
        least = thinnest_across(path_of(layer.outline), path_of(opening.outline, "opening"), layer.grain)
        if least is None or not under(least[0], limit.value):
            continue
        width, (x, y) = least
        found.append(
            Finding(
                check="walls",
                level=Level.CAUTION,
                where="",
                what=(
                    f"short grain: the grain runs across its wall, which is only {units.show(width)} wide at "
                    f"{units.at(x, y)}"
                ),
                value=width,
                unit="mm",
                limit=limit.value,
                bound=limit.bound,
                source=limit.source,
                advice=(
                    f"Make the wall {units.least(limit.value - width)} wider there, turn the grain by 90°, or use "
                    "plywood."
                ),
                places=(Place(layer.name, x, y),),
                cause="short grain",
            )
        )
    return found


def thinnest_across(outer: Path, opening: Path, grain: float) -> tuple[float, tuple[float, float]] | None:
    """The least width [mm] of a wall where the grain runs across it, and where on the outer edge.

    ``grain`` is the bearing along which the grain runs [°]. None where the grain crosses no wall.
    """
    points, normals = _along(outer)
    cos, sin = cos_sin(grain)
    across = np.abs(normals @ np.array((sin, -cos))) >= _ACROSS
    if not across.any():
        return None
    widths = reach_outside(points[across], pieces_of(opening))
    least = int(np.argmin(widths))
    x, y = points[across][least]
    return float(widths[least]), (float(x), float(y))


def _along(outer: Path) -> tuple[Floats, Floats]:
    """Middles (n, 2) of short stretches of a curve and their normals (n, 2), of unit length."""
    ring = shapely.segmentize(shapely.linearrings(polygon(outer, _FACETS)), _STEP)
    corners = shapely.get_coordinates(ring)
    step = np.diff(corners, axis=0)
    size = np.hypot(step[:, 0], step[:, 1])[:, None]
    return 0.5 * (corners[1:] + corners[:-1]), np.column_stack((step[:, 1], -step[:, 0])) / size
