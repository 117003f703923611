"""Words and lines over a rendered picture, on paper, or on nothing where it is to be cut out."""

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import Sheet

_TONE = (236, 234, 230)
"""Warm grey paper that white acrylic stands out from."""


def on_tone(
    picture: NDArray[np.uint8], tone: tuple[int, int, int] = _TONE, *, cut_out: bool = False
) -> NDArray[np.uint8]:
    """Lay a picture (h, w, 4) on even paper: (h, w, 3); ``cut_out`` leaves it as it is."""
    if cut_out:
        return picture
    share = picture[:, :, 3:].astype(np.float32) / np.float32(255.0)
    mixed = picture[:, :, :3] * share + np.asarray(tone, np.float32) * (1 - share)
    return np.asarray(np.rint(mixed), np.uint8)


def inked(sheet: Sheet, under: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Draw a sheet's lines and words over a picture (h, w, 3 or 4) of its own size."""
    renderer = sheet.renderer
    renderer.clear()
    canvas = np.asarray(renderer.buffer_rgba())
    canvas[:, :, : under.shape[2]] = under
    if under.shape[2] == 3:
        canvas[:, :, 3] = 255
    sheet.figure.draw(renderer)
    return np.array(canvas[:, :, : under.shape[2]])
