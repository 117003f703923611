"""Light points for adding up: those of a continuous strip spread along it, as its light is."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.light.layout import LightLayout
from stackview.light.points import LightPoints

_PARTS = 4


@dataclass(frozen=True, slots=True, eq=False)
class ShiningPoints:
    """``points`` with ``lumens`` (n,) of each.

    ``own`` (m,) is the flux of the lamp's light points as laid out, ``continuous`` (m,) whether each
    stands for a piece of continuous strip. Read-only.
    """

    points: LightPoints
    lumens: NDArray[np.float64]
    own: NDArray[np.float64]
    continuous: NDArray[np.bool_]

    def __post_init__(self) -> None:
        self.lumens.setflags(write=False)
        self.own.setflags(write=False)
        self.continuous.setflags(write=False)

    def at(self, which: NDArray[np.int64]) -> tuple[LightPoints, NDArray[np.float64]]:
        """Some of the points, with the lumens of each."""
        return taken(self.points, which), self.lumens[which]


def spread_along(light: LightLayout, lumens: NDArray[np.float64]) -> ShiningPoints:
    """Light points as laid out, but four for each one of a continuous strip, along its spacing.

    A continuous strip counts as a light point every 5 mm; taken as points, it would show spots
    that it does not have.
    """
    points = light.points
    spacing = np.zeros(len(points))
    for source, one in enumerate(light.lit):
        strip = one.light.layout.strip
        if strip is not None and strip.continuous:
            spacing[points.source == source] = strip.spacing
    count = np.where(spacing > 0.0, _PARTS, 1)
    index = np.repeat(np.arange(len(points)), count)
    number = np.arange(len(index)) - np.repeat(np.cumsum(count) - count, count)
    shift = np.where(count[index] > 1, ((number + 0.5) / _PARTS - 0.5) * spacing[index], 0.0)
    along = np.zeros((len(points), 3))
    if points.corners.shape[1] == 4:
        along = points.corners[:, 1] - points.corners[:, 0]
        along = along / np.maximum(np.linalg.norm(along, axis=1, keepdims=True), 1e-12)
    spread = replace(taken(points, index), centres=points.centres[index] + shift[:, None] * along[index])
    return ShiningPoints(spread, np.asarray(lumens)[index] / count[index], np.array(lumens), spacing > 0.0)


def taken(points: LightPoints, which: NDArray[np.int64]) -> LightPoints:
    """Some light points, in the order given; one may be taken more than once."""
    return LightPoints(
        centres=points.centres[which],
        directions=points.directions[which],
        corners=points.corners[which],
        beams=points.beams[which],
        lumens=points.lumens[which],
        kelvin=points.kelvin[which],
        source=points.source[which],
    )
