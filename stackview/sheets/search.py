"""The better of several ways to lay out: some always tried, then small changes of the best, always the same ones.

What is tried depends on nothing but the question, and is bounded by number: the same question gets the
same answer unless time runs out first.
"""

import random
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from stackview.sheets.fits import Fits
from stackview.sheets.laying import LaidOut, LayingWay, OutOfTimeError, lay

_PLACINGS = 4000
"""Shapes that are placed in all ways together: a few seconds of work."""
_LEAST_WAYS, _MOST_WAYS = 16, 250
_SEED = 1
_LEFT_FIRST, _LOW_FIRST = (0, 1), (1, 0)


@dataclass(frozen=True, slots=True)
class Search:
    """The best layout that was found, in which way, and how far the search for it went."""

    best: LaidOut
    way: LayingWay
    tried: int
    planned: int
    interrupted: bool = False
    """Whether the maker stopped it."""

    @property
    def is_whole(self) -> bool:
        """Whether all was tried that was to be tried."""
        return self.tried >= self.planned


def ways_planned(count: int) -> int:
    """How many ways are tried for so many shapes: the more of them, the fewer; one way does for a single one.

    >>> ways_planned(1), ways_planned(24) >= ways_planned(1000) > 1
    (1, True)
    """
    return 1 if count <= 1 else max(_LEAST_WAYS, min(_MOST_WAYS, _PLACINGS // count))


def search(
    fits: Fits,
    shapes: Sequence[int],
    sheets: Sequence[int],
    *,
    until: float | None = None,
    ways: int | None = None,
    enough: Callable[[LaidOut], bool] | None = None,
) -> Search:
    """Lay shapes (by number, each as often as it is cut) on sheets (by region) in several ways; keep the best.

    It ends with the best so far when all ways are tried, when one is ``enough``, when the clock
    (``time.monotonic``) passes ``until``, or at Ctrl-C; before the first layout stands, Ctrl-C is raised
    as it is.
    """
    planned = ways_planned(len(shapes)) if ways is None else ways
    every = usual_ways(fits, shapes)
    way = next(every)
    found = Search(lay(fits, way, sheets), way, 1, planned)
    rank = layout_rank(fits, found.best)
    draw = random.Random(_SEED)
    known = {way}
    tried = 1
    try:
        while tried < planned and not (enough is not None and enough(found.best)):
            way = next(every, None) or _changed(found.way, fits, draw)
            tried += 1
            if way in known:
                continue
            known.add(way)
            if until is not None and time.monotonic() > until:
                raise OutOfTimeError
            laid = lay(fits, way, sheets, until)
            own = layout_rank(fits, laid)
            if own < rank:
                rank, found = own, Search(laid, way, tried, planned)
    except OutOfTimeError:
        return Search(found.best, found.way, tried - 1, planned)
    except KeyboardInterrupt:
        return Search(found.best, found.way, tried - 1, planned, interrupted=True)
    return Search(found.best, found.way, planned, planned)


def layout_rank(fits: Fits, laid: LaidOut) -> tuple[float, float, float]:
    """How good a layout is, the less the better: area left over, area of the sheets begun, and how little is left.

    What is left is the largest strip right across the last sheet, or along it, that no part touches [mm²].
    """
    over = sum(fits.shapes[shape].area for shape in laid.left_over)
    begun = sum(float(fits.regions[region].area) for region, _ in laid.sheets)
    return round(over, 3), round(begun, 3), -round(strip_left(fits, laid), 3) if laid.sheets else 0.0


def strip_left(fits: Fits, laid: LaidOut) -> float:
    """Area of the largest strip of the last sheet that no part touches [mm²]."""
    region, shapes = laid.sheets[-1]
    left, low, right, high = fits.regions[region].bounds
    boxes = [(one.x, one.y, fits.fitted((one.shape, one.turn)).box) for one in shapes]
    far = max(x + box[2] for x, _, box in boxes)
    tall = max(y + box[3] for _, y, box in boxes)
    return float(max((right - far) * (high - low), (right - left) * (high - tall)))


def usual_ways(fits: Fits, shapes: Sequence[int]) -> Iterator[LayingWay]:
    """Ways that are always tried: by size in several senses, both directions, turns free or all alike."""
    boxes = [fits.fitted((number, 0)).box for number in range(len(fits.shapes))]
    wide = [box[2] - box[0] for box in boxes]
    tall = [box[3] - box[1] for box in boxes]
    hulls = [float(shapely.Polygon(shape.corners).area) for shape in fits.shapes]
    senses = (
        [-area for area in hulls],
        [-max(w, t) for w, t in zip(wide, tall, strict=True)],
        [-t for t in tall],
        [-w for w in wide],
    )
    most = max(len(shape.turns) for shape in fits.shapes)
    choices: list[tuple[tuple[int, ...], ...]] = [tuple(tuple(range(len(s.turns))) for s in fits.shapes)]
    if most > 1:
        choices += [tuple((min(k, len(s.turns) - 1),) for s in fits.shapes) for k in range(most)]
    orders = dict.fromkeys(
        tuple(sorted(shapes, key=lambda number: (sense[number], number))) for sense in senses
    )
    for order in orders:
        for turns in choices:
            for axes in (_LEFT_FIRST, _LOW_FIRST):
                yield LayingWay(order, turns, axes)


def _changed(way: LayingWay, fits: Fits, draw: random.Random) -> LayingWay:
    """A way a little different: shapes exchanged in the order, one shape's turns, or the direction."""
    order, turns, axes = list(way.order), list(way.turns), way.axes
    kind = draw.random()
    if kind < 0.7 or len(set(order)) == 1:
        for _ in range(draw.choice((1, 1, 2, 3))):
            a, b = draw.randrange(len(order)), draw.randrange(len(order))
            order[a], order[b] = order[b], order[a]
    if kind > 0.6:
        shape = draw.choice(order)
        every = tuple(range(len(fits.shapes[shape].turns)))
        turns[shape] = draw.choice([every, *((one,) for one in every)])
    if kind > 0.95:
        axes = (axes[1], axes[0])
    return LayingWay(tuple(order), tuple(turns), axes)
