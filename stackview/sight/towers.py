"""Many bodies at once: what layers stacked on each other surely hide together, and which of them a line may meet.

Layers in the order of their heights are halved again and again. Of each run of them two things are known. Where
they lie on each other without a gap, the area in which every one of them is solid from its lowest to its highest
point stands through the whole run: a prism over it hides no line that they do not. And a line that, between the
lowest and the highest point of a run, stays off everything that one of them covers in plan, meets none of them.
"""

from dataclasses import dataclass, field, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, read_only
from stackview.sight.pieces import piece_of
from stackview.solids.upright import in_both, in_either, prism, upright
from stackview.stack.placed import Placed

_TOUCHING = 1e-9
"""Bodies no farther above each other leave no gap through which anything is seen [mm]."""
_NOTHING = shapely.MultiPolygon()
_LEAST = 1.0
"""A prism over a smaller area hides next to nothing [mm²]."""
_FINER = 8
"""Into how many parts a run is divided where a line may meet what its prism does not hold."""
_SHARE = 0.5
"""A prism over less than this share of the least layer's area is not worth having: lines pass beside it."""
_GROWN = 1e-6
"""How far off a line may pass a body and still be said to meet it, for rounding [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class _Run:
    """Bodies ``first`` up to ``stop`` in the towers' order.

    through : area in which all are solid without a gap; within : outside it there is none of them
    halves : the runs it is made of; none of a single body; least : smallest of their areas through [mm²]
    """

    first: int
    stop: int
    bottom: float
    top: float
    through: shapely.Geometry
    within: shapely.Geometry
    halves: tuple[int, ...]
    least: float


@dataclass(frozen=True, slots=True, eq=False)
class TakenParts:
    """Which parts are taken by themselves, ``own`` (n,), and which runs as prisms, by their numbers."""

    own: NDArray[np.bool_]
    runs: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Towers:
    """Placed parts in order of height, layers first, and runs of them, the whole last.

    order : (n,) numbers of the parts; runs : the runs, and of each bottom and top (r,) [mm] and within (r,)
    across : farther than any two places of the parts are from each other in plan [mm]
    """

    placed: tuple[Placed, ...]
    order: Whole
    runs: tuple[_Run, ...]
    bottom: Floats
    top: Floats
    within: NDArray[np.object_]
    across: float
    _made: dict[int, Placed | None] = field(default_factory=dict)
    """Prisms that were asked for, by the number of their run."""

    def __post_init__(self) -> None:
        read_only((self.order, self.bottom, self.top, self.within))

    def taken(self, most: Whole) -> "TakenParts":
        """Every part by itself, in a run of as many as ``most`` (n,) allows for each in it, or not at all.

        ``most`` of nought asks for the part by itself. A layer that is alone between runs stands by itself too; what
        lies apart from its neighbours is left out.
        """
        allowed = most[self.order]
        own, runs = most == 0, []
        ask = [(len(self.runs) - 1, False)] if self.runs else []
        while ask:
            number, joined = ask.pop()
            run = self.runs[number]
            size = run.stop - run.first
            free = allowed[run.first : run.stop].min() >= size
            if size == 1:
                own[self.order[run.first]] |= free and joined
            elif free and self._stand_in(number) is not None:
                runs.append(number)
            else:
                ask += [(half, self._stand_in(number) is not None) for half in run.halves]
        return TakenParts(own, tuple(runs))

    def parts(self, taken: "TakenParts") -> tuple[Placed, ...]:
        """What is taken: parts, and prisms that hide what layers hide together."""
        runs = (self._stand_in(number) for number in taken.runs)
        own = (part for part, one in zip(self.placed, taken.own, strict=True) if one)
        return (*own, *(one for one in runs if one is not None))

    def finer(self, most: Whole, taken: "TakenParts", met: NDArray[np.bool_]) -> Whole:
        """Less for runs of which a part is ``met`` (n,): nought for these parts, or an eighth for a longer run."""
        found = np.where(met, 0, most)
        for number in taken.runs:
            run = self.runs[number]
            members = self.order[run.first : run.stop]
            if len(members) >= 2 * _FINER and met[members].any():
                found[members] = len(members) // _FINER
        return found

    def _stand_in(self, number: int) -> Placed | None:
        if number not in self._made:
            run = self.runs[number]
            solid = prism(run.through, run.bottom, run.top) if run.through.area > _LEAST else None
            part = self.placed[self.order[run.first]]
            self._made[number] = None if solid is None else replace(part, solid=solid)
        return self._made[number]

    def met(self, places: Floats, bearings: Floats, low: Floats, high: Floats) -> NDArray[np.bool_]:
        """Which parts (k, n) may be met by lines from each place (k, 3) along its bearing, between two elevations [rad].

        None that is met is left out.
        """
        found = np.zeros((len(places), len(self.placed)), dtype=bool)
        ways = np.column_stack((np.sin(bearings), -np.cos(bearings)))
        low, high = np.tan(low), np.tan(high)
        single = np.array([not run.halves for run in self.runs], dtype=bool)
        line, number = np.arange(len(places)), np.full(len(places), len(self.runs) - 1)
        while len(line):
            hit = self._hit(places[line], ways[line], low[line], high[line], number)
            line, number = line[hit], number[hit]
            ends = single[number]
            first = np.array([self.runs[k].first for k in number[ends]], dtype=np.int64)
            found[line[ends], self.order[first]] = True
            halves = [self.runs[k].halves for k in number[~ends]]
            line, number = np.repeat(line[~ends], 2), np.array(halves, dtype=np.int64).ravel()
        return found

    def _hit(
        self, places: Floats, ways: Floats, low: Floats, high: Floats, number: Whole
    ) -> NDArray[np.bool_]:
        """Whether lines between two tangents may meet runs, one for one."""
        down = self.bottom[number] - places[:, 2] - _GROWN
        up = self.top[number] - places[:, 2] + _GROWN
        near, far = _away(down, up, low, high)
        far = np.minimum(far, self.across)
        found = near <= far
        at, way, near, far = places[found, :2], ways[found], near[found, None], far[found, None]
        lines = shapely.linestrings(np.stack([at + near * way, at + far * way], axis=1))
        found[found] = shapely.dwithin(self.within[number[found]], lines, _GROWN)
        return np.asarray(found)


def _away(down: Floats, up: Floats, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """How far away at least and at most lines between two tangents are between two heights above their beginning.

    At a distance r they are between low·r and high·r, which are to reach ``down`` and not to pass ``up``.
    """
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        by_high, by_low = down / high, up / low
    near = np.maximum(np.where(high > 0.0, by_high, 0.0), np.where(low < 0.0, by_low, 0.0))
    far = np.minimum(np.where(high < 0.0, by_high, np.inf), np.where(low > 0.0, by_low, np.inf))
    never = ((high == 0.0) & (down > 0.0)) | ((low == 0.0) & (up < 0.0))
    return np.maximum(near, 0.0), np.where(never, -1.0, far)


def towers_of(placed: tuple[Placed, ...]) -> Towers:
    """The towers of placed parts."""
    pieces = [piece_of(part.solid) for part in placed]
    bottom = np.array([part.solid.lift + piece.bottom for part, piece in zip(placed, pieces, strict=True)])
    top = np.array([part.solid.lift + piece.top for part, piece in zip(placed, pieces, strict=True)])
    order = np.lexsort((top, bottom, np.array([not part.is_layer for part in placed])))
    runs: list[_Run] = []

    def made(first: int, stop: int) -> int:
        if stop - first == 1:
            part = placed[order[first]]
            areas = upright(part.solid)
            through = areas.through if part.is_layer else _NOTHING
            at = order[first]
            runs.append(_Run(first, stop, bottom[at], top[at], through, areas.within, (), through.area))
        else:
            middle = (first + stop) // 2
            halves = made(first, middle), made(middle, stop)
            runs.append(_joined(runs[halves[0]], runs[halves[1]], halves))
        return len(runs) - 1

    if placed:
        made(0, len(placed))
    within = np.array([run.within for run in runs], dtype=object)
    shapely.prepare(within)
    return Towers(
        placed,
        order,
        tuple(runs),
        np.array([run.bottom for run in runs]),
        np.array([run.top for run in runs]),
        within,
        2.0 * max((piece.radius for piece in pieces), default=0.0) + 1.0,
    )


def _joined(one: _Run, other: _Run, halves: tuple[int, int]) -> _Run:
    gap = max(one.bottom, other.bottom) - min(one.top, other.top)
    through = in_both(one.through, other.through) if gap <= _TOUCHING else _NOTHING
    least = min(one.least, other.least)
    if through.area < _SHARE * least:
        through = _NOTHING
    within = in_either(one.within, other.within)
    return _Run(
        one.first,
        other.stop,
        min(one.bottom, other.bottom),
        max(one.top, other.top),
        through,
        within,
        halves,
        least,
    )
