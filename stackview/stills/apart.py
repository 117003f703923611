"""The lamp spread apart: every part lifted along the axis until none touches another."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.light.layout import LightLayout
from stackview.solids.placing import placed as moved
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stills.coloured_mesh import ColouredMesh, strip_mesh
from stackview.stills.setting import Setting, moved_points, points_lit

_GAP = 0.15
"""Room between neighbours, as a share of the lamp's largest width."""
_LEAST = 6.0
"""Room between neighbours, at least [mm]."""


def building_order(stack: Stack) -> tuple[Placed, ...]:
    """Parts in the order in which they go on, from the bottom up, the cord left out.

    Layers stand as they were written; a core follows what it stands on (or comes before what
    it hangs from), a post follows the layer that it starts in, feet come first.
    """
    order = [part for part in stack.placed if part.is_layer]
    core = stack.lamp.core
    after = {pin.name: pin.start for pin in stack.lamp.posts}
    for part in stack.placed:
        names = [other.name for other in order]
        if part.is_foot:
            order.insert(0, part)
        elif part.is_core and core is not None and core.stands_on in names:
            order.insert(names.index(core.stands_on) + 1, part)
        elif part.is_core and core is not None and core.hangs_from in names:
            order.insert(names.index(core.hangs_from), part)
        elif part.is_post and after.get(part.name) in names:
            order.insert(names.index(after[part.name]) + 1, part)
        elif part.is_upright:
            order.append(part)
    return tuple(order)


def lifts(stack: Stack, gap: float | None = None) -> dict[str, float]:
    """How far each part is lifted, by name, so that it clears the one before by ``gap`` [mm]."""
    order = building_order(stack)
    if gap is None:
        every = np.concatenate([part.solid.vertices[:, :2] for part in order])
        gap = max(_GAP * float(np.ptp(every, axis=0).max()), _LEAST)
    found: dict[str, float] = {}
    at = 0.0
    for part in order:
        low, high = (float(pick(part.solid.vertices[:, 2])) for pick in (np.min, np.max))
        found[part.name] = at - low
        at += high - low + gap
    return found


def spread_apart(stack: Stack, light: LightLayout) -> Setting:
    """Lift every part clear of the one before; light points and strips go with what carries them."""
    up = lifts(stack)
    parts = tuple(_lifted(part, up[part.name]) for part in building_order(stack))
    carried = np.array([up.get(lit.light.layout.carrier, 0.0) for lit in light.lit])
    by_point = carried[light.points.source] if len(carried) else np.zeros(0)
    core = up.get("core", 0.0)
    ribbons = tuple(_raised(strip_mesh(ribbon), core) for ribbon in light.ribbons)
    return Setting(parts, moved_points(points_lit(light), np.asarray(by_point, float)), ribbons, ground=False)


def _lifted(part: Placed, by: float) -> Placed:
    solid = moved(part.solid, 0.0, by)
    return replace(part, solid=solid, underside=part.underside + by, top=part.top + by)


def _raised(mesh: ColouredMesh, by: float) -> ColouredMesh:
    vertices: NDArray[np.float64] = mesh.vertices + np.array([0.0, 0.0, by])
    return replace(mesh, vertices=vertices)
