"""How one LED's spot on a sanded sheet looks, from a table that the renderer made once.

``tables/make_spot_table.py`` made it. Everything scales: radius and thickness count in distances d
of the LED from the sheet's near face, luminance in I0/d². Straight on, from far away, for a small
Lambertian LED.
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from stackview.arrays import Floats
from stackview.glow.offcut import SIDES, SandedSides

LEAST_ROUGHNESS, GREATEST_ROUGHNESS = 0.02, 0.6
LEAST_DEPTH, GREATEST_DEPTH = 0.04, 1.28
"""Thickness over distance that the table holds."""
ERROR = 0.03
"""Largest share by which the width of a spot read between the table's lines was off a fresh rendering."""
_RINGS, _TURNS = 12, 32
_NEAR, _FAR = 81, 120


@dataclass(frozen=True, slots=True, eq=False)
class SpotTable:
    """log10 of luminance over I0/d², (roughness, depth, radius), for each choice of sanded faces. Read-only."""

    roughness: Floats
    depth: Floats
    radius: Floats
    spots: dict[SandedSides, Floats]

    def __post_init__(self) -> None:
        for array in (self.roughness, self.depth, self.radius, *self.spots.values()):
            array.setflags(write=False)


@cache
def spot_table() -> SpotTable:
    """The table that comes with the program."""
    with (files("stackview.glow") / "tables" / "spots.npz").open("rb") as file, np.load(file) as held:
        return SpotTable(
            roughness=held["roughness"].astype(np.float64),
            depth=held["depth"].astype(np.float64),
            radius=held["radius"].astype(np.float64),
            spots={side: held[side.replace("-", "_")].astype(np.float64) for side in SIDES},
        )


def spot(radius: Floats, roughness: float, depth: float, sanded: SandedSides = "both") -> Floats:
    """Luminance over I0/d² at radii from the spot's middle.

    Parameters
    ----------
    radius : any shape, over the LED's distance d
    roughness : GGX α; depth : the sheet's thickness over d

    Between two of the table's lines a spot is read from both at radii scaled to their roughness
    (a spot's width goes as α while angles are small), then mixed by log α, log depth and log L.
    Roughness and depth are held within the table.
    """
    table = spot_table()
    spots = table.spots[sanded]
    alpha = min(max(roughness, LEAST_ROUGHNESS), GREATEST_ROUGHNESS)
    over = min(max(depth, LEAST_DEPTH), GREATEST_DEPTH)
    i, share_i = _between(table.roughness, alpha)
    j, share_j = _between(table.depth, over)
    flat = np.asarray(radius, np.float64)
    total = np.zeros(flat.shape)
    nodes = np.log(table.radius)
    for row, weight in ((i, 1.0 - share_i), (i + 1, share_i)):
        scale = alpha / float(table.roughness[row])
        at = np.log(np.maximum(flat / scale, 1e-6))
        for column, more in ((j, 1.0 - share_j), (j + 1, share_j)):
            value = np.interp(at, nodes, spots[row, column])
            # Beyond the table's last ring light falls off as it did between the last two decades.
            value -= np.maximum(at - nodes[-1], 0.0) * (4.0 / np.log(10.0))
            total += weight * more * (value - 2.0 * np.log10(scale))
    return np.asarray(10.0**total)


def spot_of_face(radius: Floats, roughness: float, depth: float, sanded: SandedSides, face: float) -> Floats:
    """The same for a round LED whose face has radius ``face`` [distances]: the mean over the face."""
    if face <= 0.0:
        return spot(radius, roughness, depth, sanded)
    flat = np.asarray(radius, np.float64)
    reach = max(float(flat.max(initial=0.0)), 4.0 * face)
    nodes = np.concatenate(
        [np.linspace(0.0, 2.0 * face, _NEAR), np.geomspace(2.0 * face, reach + 1e-6, _FAR)[1:]]
    )
    fine = np.concatenate([[0.0], np.geomspace(1e-3, reach + 2.0 * face, 400)])
    level = np.log(spot(fine, roughness, depth, sanded))
    ring = face * np.sqrt((np.arange(_RINGS) + 0.5) / _RINGS)
    turn = (np.arange(_TURNS) + 0.5) * (np.pi / _TURNS)
    aside = (ring[:, None] * np.cos(turn)).ravel()
    away = np.sqrt(
        np.maximum(nodes[:, None] ** 2 + np.repeat(ring**2, _TURNS) - 2.0 * nodes[:, None] * aside, 0.0)
    )
    seen = np.exp(np.interp(away, fine, level)).mean(axis=1)
    return np.asarray(np.exp(np.interp(flat, nodes, np.log(seen))))


def _between(nodes: Floats, value: float) -> tuple[int, float]:
    """Index of the node below, and how far towards the next by logarithm."""
    index = int(np.clip(np.searchsorted(nodes, value) - 1, 0, len(nodes) - 2))
    low, high = np.log(nodes[index]), np.log(nodes[index + 1])
    return index, float((np.log(value) - low) / (high - low))
