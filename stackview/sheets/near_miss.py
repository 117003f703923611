"""Rows that nearly fit: equal parts side by side right across a sheet, or along it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from stackview.curves.arcs import area
from stackview.description.sheet_at_hand import SheetAtHand
from stackview.one_line import one_line
from stackview.sheets.fits import Fits

RowWay = Literal["left to right", "front to back"]
_WAYS: tuple[RowWay, RowWay] = ("left to right", "front to back")
NEAR = 1.0
"""A row that lacks no more than this is told [mm]: a little less margin or skin would do."""
_HARDLY = 1e-3
"""What is less is no lack [mm]."""


@dataclass(frozen=True, slots=True)
class RowMiss:
    """So many equal parts in a row lack so much of the room of a sheet [mm]."""

    sheet: SheetAtHand
    parts: tuple[int, ...]
    """Numbers of the parts of which such a row can be made."""
    count: int
    way: RowWay
    lacks: float
    needs: float
    """What the row takes with its gaps [mm]."""
    room: float
    """What the sheet has between its margins [mm]."""

    __repr__ = one_line


def row_lack(size: float, gap: float, room: float, most: int) -> tuple[int, float] | None:
    """How many of ``size`` in a row would just not fit in ``room``, and what they lack [mm]; None where none nearly do.

    n·size + (n − 1)·gap − room, for the n one more than fits, and ``most`` parts there are.

    >>> row_lack(90.0, 4.0, 183.5, 9)
    (2, 0.5)
    >>> row_lack(90.0, 4.0, 184.0, 9) is None
    True
    """
    fits = int((room + gap + _HARDLY) // (size + gap))
    count = fits + 1
    lack = count * size + fits * gap - room
    return (count, lack) if count <= most and _HARDLY < lack <= NEAR else None


def near_misses(
    fits: Fits, counts: Sequence[int], numbers: Sequence[int], sheets: Sequence[tuple[SheetAtHand, float]]
) -> tuple[RowMiss, ...]:
    """Rows of equal parts that nearly fit on rectangular sheets.

    ``counts`` and ``numbers`` belong to the shapes of ``fits``; each sheet comes with the turn [°] that
    brought its grain along x. Single parts are no rows: one that does not fit is told elsewhere.
    """
    alike: dict[tuple[str, int, RowWay, float], RowMiss] = {}
    for sheet, turn in sheets:
        if not _is_rectangle(sheet) or turn % 90.0:
            continue
        rooms = [side - 2.0 * sheet.margin for side in sheet.size]
        for shape, (count, number) in enumerate(zip(counts, numbers, strict=True)):
            for k in range(len(fits.shapes[shape].turns)):
                x0, y0, x1, y1 = fits.fitted((shape, k)).box
                sizes = (x1 - x0, y1 - y0) if turn % 180.0 == 0.0 else (y1 - y0, x1 - x0)
                for size, room, way in zip(sizes, rooms, _WAYS, strict=True):
                    miss = row_lack(size, fits.gap, room, count)
                    if miss is None or miss[0] < 2:
                        continue
                    key = (sheet.name, miss[0], way, round(miss[1], 6))
                    others = alike[key].parts if key in alike else ()
                    parts = tuple(dict.fromkeys((*others, number)))
                    alike[key] = RowMiss(sheet, parts, miss[0], way, miss[1], room + miss[1], room)
    return tuple(alike.values())


def _is_rectangle(sheet: SheetAtHand) -> bool:
    width, depth = sheet.size
    return abs(area(sheet.path) - width * depth) <= 1e-6 * width * depth
