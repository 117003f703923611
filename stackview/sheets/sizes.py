"""Sizes of sheets that would do, where the file lists none: each one tried by laying the parts on it."""

import math
from collections.abc import Sequence

import shapely

from stackview.description.units import Units
from stackview.sheets.fits import Fits
from stackview.sheets.laying import LaidOut, lay
from stackview.sheets.layout import SizeThatDoes
from stackview.sheets.no_fit import Region
from stackview.sheets.search import usual_ways

_WAYS = 6
_TYPICAL_SHARE = 0.6
"""Share that such layouts come to; it only says where to begin."""
_ROWS = (1.0, 2.0, 3.0)


def sizes_that_do(fits: Fits, pieces: Sequence[int], margin: float, units: Units) -> tuple[SizeThatDoes, ...]:
    """Sheets that hold all pieces: as narrow as the parts allow, two and three rows wide, and about as wide as long.

    Lengths along the grain come first. Both sides have ``margin`` [mm] added and are rounded up to what a
    maker measures; on every size that is returned all pieces were laid out.
    """
    boxes = [
        [fits.fitted((shape, turn)).box for turn in range(len(fits.shapes[shape].turns))]
        for shape in set(pieces)
    ]
    row = max(min(box[3] - box[1] for box in turns) for turns in boxes)
    area = sum(fits.shapes[shape].area for shape in pieces)
    widths = [rows * (row + fits.gap) - fits.gap for rows in _ROWS]
    widths.append(max(math.sqrt(area / _TYPICAL_SHARE), row))
    found: dict[tuple[float, float], SizeThatDoes] = {}
    for width in sorted(widths):
        across = _rounded_up(width + 2.0 * margin, units)
        size = _laid_on(fits, pieces, across - 2.0 * margin, margin, units)
        if size is not None and not any(
            other.along <= size.along and other.across <= size.across for other in found.values()
        ):
            found[size.along, size.across] = size
    return tuple(found.values())


def _laid_on(
    fits: Fits, pieces: Sequence[int], width: float, margin: float, units: Units
) -> SizeThatDoes | None:
    """The shortest sheet of a usable width that holds all pieces in one of a few ways."""
    longest = sum(max(box[2] - box[0], box[3] - box[1]) + fits.gap for box in _largest(fits, pieces))
    strip = Fits(fits.shapes, [Region(shapely.box(0.0, 0.0, longest, width))], fits.gap)
    ways = [way for way in usual_ways(strip, pieces) if way.axes == (0, 1)][:_WAYS]
    found = [laid for laid in (lay(strip, way, (0,)) for way in ways) if not laid.left_over]
    if not found:
        return None
    along = _rounded_up(min(_reach(strip, laid) for laid in found) + 2.0 * margin, units)
    across = width + 2.0 * margin
    net = sum(fits.shapes[shape].area for shape in pieces)
    return SizeThatDoes(along, across, net / (along * across))


def _largest(fits: Fits, pieces: Sequence[int]) -> list[tuple[float, float, float, float]]:
    return [fits.fitted((shape, 0)).box for shape in pieces]


def _reach(fits: Fits, laid: LaidOut) -> float:
    return max(one.x + fits.fitted((one.shape, one.turn)).box[2] for one in laid.sheets[0][1])


def _rounded_up(mm: float, units: Units) -> float:
    """Up to the next whole millimetre, or the next eighth of an inch."""
    step = 25.4 / 8.0 if units.in_inches else 1.0
    return math.ceil(mm / step - 1e-6) * step
