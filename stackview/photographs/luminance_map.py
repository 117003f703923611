"""The luminance map: how bright everything in the picture is, in false colours on a scale of decades."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import (
    INK,
    QUIET,
    SMALLEST_CHART,
    Sheet,
    blank,
    box_loop,
    draw_line,
    fill_area,
    head,
    image,
    pixels,
    write,
)
from stackview.in_figures import percent

COLOURS = "inferno"
"""matplotlib's scale of evenly rising lightness, which also reads in grey."""
UNDER_SCALE = "#4a545e"
"""Colour of what is darker than the scale: none of the scale's own."""
_DECADES = (2, 9)
"""Least and most decades on a scale that is chosen from the picture."""


@dataclass(frozen=True, slots=True)
class Span:
    """A scale from 10^low to 10^high cd/m²."""

    low: int
    high: int


def luminance_map(
    luminance: NDArray[np.floating], name: str, viewpoint: str, brightest: float | None = None
) -> NDArray[np.uint8]:
    """Draw the map of a luminance picture (h, w) [cd/m²], pixel for pixel, beside its scale: (h', w', 3).

    ``name`` is the lamp's, ``viewpoint`` says in words where it is seen from. The scale reaches
    from the decade of the darkest hundredth to that of the brightest pixel. ``brightest`` is told in place of
    the brightest pixel's, where the picture was made coarser than it was rendered [cd/m²].
    """
    scale = span_of(luminance)
    most = float(luminance.max()) if brightest is None else brightest
    title, under = f"{name}: luminance", f"{viewpoint}. {_range_words(luminance, scale, most)}"
    sheet = blank(_size(luminance.shape, title, under))
    top = head(sheet, title, under)
    em, (height, width) = sheet.em, luminance.shape
    # On a sheet that is larger than the picture needs it stays in the upper left.
    left, low = round(1.2 * em), round(top - 0.8 * em) - height
    image(sheet, false_coloured(luminance, scale), left, low)
    fill_area(sheet, [box_loop((left, low, left + width, low + height))], None, edge=QUIET, over=6.0)
    _scale(sheet, scale, left + width + 1.6 * em, low + 2.4 * em, low + height - 1.6 * em)
    return pixels(sheet)


def span_of(luminance: NDArray[np.floating]) -> Span:
    """Whole decades that hold a luminance picture (h, w), within :data:`_DECADES`.

    >>> span_of(np.array([[0.3, 20.0, 4000.0]]))
    Span(low=-1, high=4)
    """
    positive = luminance[luminance > 0.0]
    if not positive.size:
        return Span(0, _DECADES[0])
    high = int(np.ceil(np.log10(float(positive.max())) - 1e-9))
    low = int(np.floor(np.log10(float(np.percentile(positive, 1.0))) + 1e-9))
    return Span(min(max(low, high - _DECADES[1]), high - _DECADES[0]), high)


def false_coloured(luminance: NDArray[np.floating], span: Span) -> NDArray[np.uint8]:
    """Colour each pixel (h, w, 3) by the logarithm of its luminance; :data:`UNDER_SCALE` under the scale."""
    level = np.log10(np.maximum(luminance, 1e-30))
    place = np.clip((level - span.low) / (span.high - span.low), 0.0, 1.0)
    found: NDArray[np.uint8] = _table()[np.rint(place * 255).astype(np.int64)]
    found[level < span.low] = [int(UNDER_SCALE[at : at + 2], 16) for at in (1, 3, 5)]
    return found


def amount(value: float) -> str:
    """Write a luminance to two figures, thousands apart.

    >>> amount(0.0123), amount(4.0), amount(387000.0)
    ('0.012', '4', '390\u2009000')
    """
    if value <= 0.0:
        return "0"
    digits = 1 - int(np.floor(np.log10(value)))
    rounded = round(value, digits)
    words = f"{rounded:,.{max(digits, 0)}f}".replace(",", "\u2009")
    return words.rstrip("0").rstrip(".") if "." in words else words


def _table() -> NDArray[np.uint8]:
    from matplotlib import colormaps

    return np.asarray(np.rint(colormaps[COLOURS](np.arange(256))[:, :3] * 255.0), np.uint8)


def _range_words(luminance: NDArray[np.floating], span: Span, most: float) -> str:
    middle = float(np.median(luminance))
    share = float((luminance < 10.0**span.low).mean())
    words = f"Brightest {amount(most)} cd/m², half of the picture under {amount(middle)} cd/m²"
    if share > 0.0:
        words += f"; {percent(share)} of it lies below the scale"
    return f"{words}."


def _size(shape: tuple[int, ...], title: str, under: str) -> tuple[int, int]:
    """Width and height of a sheet that holds the picture, its head and its scale [px]."""
    height, width = shape
    size = SMALLEST_CHART
    # The size of the type follows from the sheet's, and the sheet's from the type.
    for _ in range(4):
        sheet = blank(size)
        above = sheet.height - head(sheet, title, under)
        wide = width + round(1.2 * sheet.em) + round(11.0 * sheet.em)
        high = height + round(above + 2.0 * sheet.em)
        size = max(wide, SMALLEST_CHART[0]), max(high, SMALLEST_CHART[1])
    return size


def _scale(sheet: Sheet, span: Span, left: float, low: float, high: float) -> None:
    """The bar of colours from ``low`` to ``high`` [px], a tick at every decade and small ones between."""
    em = sheet.em
    wide, count = max(round(1.3 * em), 8), max(round(high - low), 16)
    left, low = round(left), round(low)
    rise = 10.0 ** (span.low + (np.arange(count)[::-1, None] + 0.5) / count * (span.high - span.low))
    image(sheet, false_coloured(np.broadcast_to(rise, (count, wide)), span), left, low)
    fill_area(sheet, [box_loop((left, low, left + wide, low + count))], None, edge=QUIET, over=6.0)
    for decade in range(span.low, span.high + 1):
        y = low + count * (decade - span.low) / (span.high - span.low)
        draw_line(sheet, [[(left + wide, y), (left + wide + 0.45 * em, y)]], colour=QUIET)
        spot = (left + wide + 0.7 * em, y)
        write(sheet, spot, amount(10.0**decade), size=0.85, upright="center")
        for step in range(2, 10) if decade < span.high else ():
            y = low + count * (decade + np.log10(step) - span.low) / (span.high - span.low)
            draw_line(sheet, [[(left + wide, y), (left + wide + 0.22 * em, y)]], colour=QUIET, width=0.7)
    write(sheet, (left, low + count + 0.7 * em), "cd/m²", size=0.85, colour=INK, upright="baseline")
    box = (left, low - 1.9 * em, left + wide, low - 0.9 * em)
    fill_area(sheet, [box_loop(box)], UNDER_SCALE, edge=QUIET)
    spot = (left + wide + 0.7 * em, (box[1] + box[3]) / 2.0)
    write(sheet, spot, "less", size=0.85, upright="center")
