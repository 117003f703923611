"""Parts that no sheet of their stock holds, and what they lack."""

from collections.abc import Sequence

from stackview.description.sheet_at_hand import SheetAtHand
from stackview.description.units import Units
from stackview.errors import StackviewError
from stackview.sheets.fits import Fits
from stackview.sheets.pieces import SheetPart


def check_parts_fit(
    source: str, fits: Fits, sheets: Sequence[SheetAtHand], parts: Sequence[SheetPart], units: Units
) -> None:
    """Raise StackviewError with every part that none of the sheets holds, and by how much the best falls short.

    ``source`` : the lamp's file. The first regions of ``fits`` are those of the sheets.
    """
    told, narrower = [], True
    for shape, part in enumerate(parts):
        turns = range(len(fits.shapes[shape].turns))
        if any(not fits.on_sheet(k, (shape, t)).is_empty for k in range(len(fits.regions)) for t in turns):
            continue
        k, lacks = min(
            ((k, lack(fits, k, shape)) for k in range(len(sheets))),
            key=lambda found: (max(found[1]), found[0]),
        )
        told.append(f"{part.title}: {_words(sheets[k], lacks, units)}")
        narrower = narrower and max(lacks) <= 2.0 * sheets[k].margin
    if told:
        material = parts[0].layer.material.name
        raise StackviewError(
            f"{source}: parts of {material} that no sheet of it holds: {'; '.join(told)}. "
            f"List a larger sheet{', or give less margin' if narrower else ''}"
        )


def lack(fits: Fits, region: int, shape: int) -> tuple[float, float]:
    """What the rectangle about a part lacks along the grain and across, in its best turn [mm]; 0 for none."""
    left, low, right, high = fits.regions[region].bounds
    lacks = []
    for turn in range(len(fits.shapes[shape].turns)):
        x0, y0, x1, y1 = fits.fitted((shape, turn)).box
        lacks.append((max(x1 - x0 - (right - left), 0.0), max(y1 - y0 - (high - low), 0.0)))
    return min(lacks, key=lambda pair: (max(pair), sum(pair)))


def _words(sheet: SheetAtHand, lacks: tuple[float, float], units: Units) -> str:
    named = f'"{sheet.name}" ({units.span(*sheet.size)}, margin {units.show(sheet.margin)})'
    along, across = (
        ("along the grain", "across it") if sheet.material.is_figured else ("one way", "the other")
    )
    short = [f"{units.least(by)} {way}" for by, way in zip(lacks, (along, across), strict=True) if by > 1e-3]
    if not short:
        return f"{named} is large enough, but not clear of its zones and its own outline"
    return f"{named} is short by {' and '.join(short)}"
