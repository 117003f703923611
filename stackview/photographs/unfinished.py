"""A photograph that was drawn before it was finished says so under itself."""

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import SMALLEST_CHART, blank, broken_lines, image, pixels, write

_LINE = 1.5
"""From one line of words to the next, in heights of the type."""


def told_under(picture: NDArray[np.uint8], words: str) -> NDArray[np.uint8]:
    """The picture (h, w, 3) with words on a strip under it: (h', w', 3)."""
    height, width, _ = picture.shape
    size = max(width, SMALLEST_CHART[0]), max(height, SMALLEST_CHART[1])
    em = blank(size).em
    lines = broken_lines(blank(size), words, size[0] - 2.0 * em, most=3)
    strip = round((len(lines) + 0.7) * _LINE * em)
    sheet = blank((size[0], max(height + strip, SMALLEST_CHART[1])))
    image(sheet, picture, 0, sheet.height - height)
    for number, line in enumerate(lines):
        write(sheet, (em, sheet.height - height - (number + 1.0) * _LINE * em), line)
    return pixels(sheet)
