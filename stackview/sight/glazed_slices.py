"""The traced beams over a level circle about the axis: between which heights light through clear acrylic is seen there."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.curves.ranges import ranges
from stackview.description.lamp import Surface
from stackview.sight.beams import Beams
from stackview.sight.crossings import wrapped
from stackview.sight.glazed import holds_a_pole
from stackview.sight.glazed_eyes import SLACK
from stackview.sight.surface import hidden_heights


@dataclass(frozen=True, slots=True, eq=False)
class Slices:
    """Stretches of height in which light points show through clear acrylic, tube by tube.

    point, at : (k,) number of the light point, and of the bearing; low, high : (k,) heights, and
    begin : (k,) that at which their light leaves the lamp [mm]
    """

    point: Whole
    at: Whole
    low: Floats
    high: Floats
    begin: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Tubes:
    """Beams laid out for cutting: corner rays' places and directions, each (3, 3, k) by axis, then corner."""

    point: Whole
    places: Floats
    ways: Floats
    middles: tuple[Floats, Floats, Floats]
    """Where they leave the lamp, in the middle of their corner rays: x, y and z (k,)."""

    @classmethod
    def of(cls, beams: Beams) -> "Tubes":
        """All tubes but those round straight up or down, in which no eye beside the lamp can be."""
        kept = np.flatnonzero(~holds_a_pole(beams.directions.astype(float)))
        places = beams.places[kept].astype(float)
        middles = places.mean(axis=1).T.copy()
        return cls(
            beams.point[kept].astype(np.int64),
            np.ascontiguousarray(places.transpose(2, 1, 0)),
            np.ascontiguousarray(beams.directions[kept].astype(float).transpose(2, 1, 0)),
            (middles[0], middles[1], middles[2]),
        )

    def __len__(self) -> int:
        return len(self.point)


def slices(
    tubes: Tubes, distance: float, bearings: Floats, lowest: float, highest: float, surface: Surface | None
) -> Slices:
    """Cut tubes by the cylinder of radius ``distance`` [mm], and what is cut by upright lines at bearings (b,) [rad].

    ``bearings`` stand evenly all round from the first; stretches wholly outside ``lowest`` to ``highest`` may be
    left out. As every eye is, a line is held against tubes a little wider than they are, so that no light
    is lost in their joints.
    """
    (px, py, pz), (wx, wy, wz) = tubes.places, tubes.ways
    level = np.maximum(wx * wx + wy * wy, 1e-12)
    along = px * wx + py * wy
    rest = distance**2 - px * px - py * py
    far = (np.sqrt(np.maximum(along * along + level * rest, 0.0)) - along) / level
    height = pz + far * wz
    slack = SLACK * far.max(axis=0)
    kept = np.flatnonzero(
        (rest > 0.0).all(axis=0)
        & (height.min(axis=0) - slack < highest)
        & (height.max(axis=0) + slack > lowest)
    )
    far, height, slack = far[:, kept], height[:, kept], slack[kept]
    corner = np.arctan2(px[:, kept] + far * wx[:, kept], -py[:, kept] - far * wy[:, kept])
    turn = wrapped(corner - corner[0])
    pair, at, aside = _crossing(corner[0], turn, slack / distance, bearings)
    low, high = _cut(turn, height, pair, aside)
    low -= slack[pair]
    high += slack[pair]
    if surface is not None:
        # Only below the surface's own height it can be in the way.
        under = np.flatnonzero(low < 0.0)
        own, sine, cosine = kept[pair[under]], np.sin(bearings), np.cos(bearings)
        middle_x, middle_y, middle_z = (axis[own] for axis in tubes.middles)
        x, y = distance * sine[at[under]], -distance * cosine[at[under]]
        hidden = hidden_heights((middle_x, middle_y, middle_z), x, y, surface)[1]
        low[under] = np.maximum(low[under], hidden)
    shows = np.flatnonzero(low < high)
    own = kept[pair[shows]]
    return Slices(tubes.point[own], at[shows], low[shows], high[shows], tubes.middles[2][own])


def _crossing(begin: Floats, turn: Floats, wide: Floats, bearings: Floats) -> tuple[Whole, Whole, Floats]:
    """Pairs of a cut tube and a bearing within it, and how far that is from its first corner, kept within the cut [rad]."""
    step = 2.0 * np.pi / len(bearings)
    low, high = turn.min(axis=0), turn.max(axis=0)
    begin = begin - bearings[0]
    first = np.ceil((begin + low - wide) / step).astype(np.int64)
    count = np.floor((begin + high + wide) / step).astype(np.int64) + 1 - first
    pair, where = np.repeat(np.arange(len(begin)), count), ranges(first, count)
    aside = where * step - begin[pair]
    return pair, where % len(bearings), np.clip(aside, low[pair], high[pair])


def _cut(turn: Floats, height: Floats, pair: Whole, aside: Floats) -> tuple[Floats, Floats]:
    """Lowest and highest height at which triangles with corners (3, k) of bearing and height are cut.

    ``pair`` (q,) are the triangles' numbers, ``aside`` (q,) the bearings: one side runs over the whole
    triangle, and one of the other two over each half of it.
    """
    order = np.argsort(turn, axis=0)
    turn, height = np.take_along_axis(turn, order, axis=0), np.take_along_axis(height, order, axis=0)

    def rise(one: int, other: int) -> Floats:
        apart = turn[other] - turn[one]
        return np.asarray((height[other] - height[one]) / np.where(apart > 0.0, apart, np.inf))

    rises = np.stack([rise(0, 1), rise(1, 2)])
    middle = turn[1][pair]
    whole = height[0][pair] + rise(0, 2)[pair] * (aside - turn[0][pair])
    half = height[1][pair] + rises[(aside > middle).astype(np.int64), pair] * (aside - middle)
    return np.minimum(whole, half), np.maximum(whole, half)
