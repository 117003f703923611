"""One way to lay shapes out: each in turn where it comes lowest or farthest left, waste of rings first."""

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from stackview.sheets.fits import Fits, Turned
from stackview.sheets.no_fit import shifted, without

_SAME_PLACE = 6
"""Decimal places of a millimetre beyond which two places are one."""


class OutOfTimeError(Exception):
    """The time that a search was given is over."""


@dataclass(frozen=True, slots=True)
class LaidShape:
    """A shape where it lies: number and turn, place of its origin in the sheet's frame [mm].

    ``waste_of`` is the number, on the same sheet, of the ring in whose waste it lies.
    """

    shape: int
    turn: int
    x: float
    y: float
    waste_of: int | None = None


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Shapes on sheets: for each sheet the number of its region and what lies on it; and what found no place."""

    sheets: tuple[tuple[int, tuple[LaidShape, ...]], ...]
    left_over: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LayingWay:
    """A way to lay out: the order of the shapes by number, the turns that each may take, and what comes first.

    ``axes`` (0, 1) puts each as far left as it goes, then as low; (1, 0) as low as it goes, then left.
    """

    order: tuple[int, ...]
    turns: tuple[tuple[int, ...], ...]
    axes: tuple[int, int]


@dataclass(slots=True, eq=False)
class _Room:
    """A sheet, or the waste of an opening: where shapes may stand in it, and those that do."""

    fits: Fits
    empty: Callable[[Turned], shapely.Geometry]
    laid: list[tuple[Turned, float, float]] = field(default_factory=list)
    free: dict[Turned, tuple[shapely.Geometry, int]] = field(default_factory=dict)

    def places(self, moved: Turned) -> shapely.Geometry:
        """Where a shape may stand; what was laid since it was last asked is taken off."""
        found, seen = self.free[moved] if moved in self.free else (self.empty(moved), 0)
        if seen < len(self.laid) and not found.is_empty:
            taken = [shifted(self.fits.no_fit(one, moved), (x, y)) for one, x, y in self.laid[seen:]]
            found = without(found, taken)
        self.free[moved] = (found, len(self.laid))
        return found

    def best(
        self, shape: int, turns: Sequence[int], axes: tuple[int, int]
    ) -> tuple[Turned, float, float] | None:
        """Where a shape's far corner comes nearest to the sheet's beginning, of all turns that it may take."""
        found: tuple[tuple[float, float, int], Turned, float, float] | None = None
        for turn in turns:
            places = shapely.get_coordinates(self.places((shape, turn)))
            if not len(places):
                continue
            far = np.round(places + self.fits.fitted((shape, turn)).box[2:], _SAME_PLACE)
            k = int(np.lexsort((far[:, axes[1]], far[:, axes[0]]))[0])
            rank = (float(far[k, axes[0]]), float(far[k, axes[1]]), turn)
            if found is None or rank < found[0]:
                found = (rank, (shape, turn), float(places[k, 0]), float(places[k, 1]))
        return None if found is None else found[1:]


@dataclass(slots=True, eq=False)
class _Sheet:
    region: int
    room: _Room
    wastes: list[tuple[int, _Room]] = field(default_factory=list)
    """The number of the ring on this sheet, and the room in one of its openings."""
    shapes: list[LaidShape] = field(default_factory=list)


def lay(fits: Fits, way: LayingWay, sheets: Sequence[int], until: float | None = None) -> LaidOut:
    """Lay shapes out in one way on the sheets there are, by numbers of their regions, the first first.

    Raises OutOfTimeError once the clock (``time.monotonic``) has passed ``until``.
    """
    stock = [_new_sheet(fits, region) for region in sheets]
    left_over = []
    for shape in way.order:
        if until is not None and time.monotonic() > until:
            raise OutOfTimeError
        if not _lay_one(fits, stock, shape, way):
            left_over.append(shape)
    laid = tuple((sheet.region, tuple(sheet.shapes)) for sheet in stock if sheet.shapes)
    return LaidOut(laid, tuple(left_over))


def _new_sheet(fits: Fits, region: int) -> _Sheet:
    return _Sheet(region, _Room(fits, lambda moved: fits.on_sheet(region, moved)))


def _lay_one(fits: Fits, stock: list[_Sheet], shape: int, way: LayingWay) -> bool:
    for sheet, ring, room in _rooms(stock):
        found = room.best(shape, way.turns[shape], way.axes)
        if found is None:
            continue
        turned, x, y = found
        room.laid.append((turned, x, y))
        sheet.shapes.append(LaidShape(*turned, x, y, ring))
        number = len(sheet.shapes) - 1
        for opening in range(len(fits.shapes[shape].wastes)):
            sheet.wastes.append((number, _Room(fits, _waste(fits, turned, opening, x, y))))
        return True
    return False


def _rooms(stock: list[_Sheet]) -> Iterator[tuple[_Sheet, int | None, _Room]]:
    """Rooms in the order in which they are tried: waste first, then sheets; of untouched equal ones the first."""
    for sheet in stock:
        yield from ((sheet, ring, room) for ring, room in sheet.wastes)
    untouched: set[int] = set()
    for sheet in stock:
        if sheet.shapes or sheet.region not in untouched:
            yield sheet, None, sheet.room
        if not sheet.shapes:
            untouched.add(sheet.region)


def _waste(
    fits: Fits, ring: Turned, opening: int, x: float, y: float
) -> Callable[[Turned], shapely.Geometry]:
    return lambda moved: shifted(fits.in_waste(ring, opening, moved), (x, y))
