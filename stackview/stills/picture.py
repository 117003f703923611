"""A picture as Python gets it: an array of bytes that shows itself in a notebook."""

from io import BytesIO

import numpy as np
from numpy.typing import NDArray

from stackview.stills.views import MOST_PIXELS


class Picture(np.ndarray[tuple[int, ...], np.dtype[np.uint8]]):
    """Rows, columns and colours: (h, w, 3), or (h, w, 4) with opacity; uint8, sRGB.

    It is a numpy array in every way; ``PIL.Image.fromarray`` takes it, and ``stackview.save`` writes it.

    >>> picture_of(np.zeros((600, 800, 3), np.uint8))
    Picture of 800 × 600 pixels, RGB
    """

    def __repr__(self) -> str:
        if not self._is_whole():
            return repr(np.asarray(self))
        height, width, colours = self.shape
        return f"Picture of {width} × {height} pixels, {'RGBA' if colours == 4 else 'RGB'}"

    def _repr_png_(self) -> bytes | None:
        """The picture as a PNG for a notebook; None for a part of one that is no picture any more."""
        if not self._is_whole():
            return None
        from PIL import Image

        packed = BytesIO()
        Image.fromarray(np.asarray(self)).save(packed, "PNG", compress_level=3)
        return packed.getvalue()

    def _is_whole(self) -> bool:
        of_picture = self.ndim == 3 and self.shape[2] in (3, 4) and self.dtype == np.uint8
        return of_picture and 0 < self.shape[0] * self.shape[1] <= MOST_PIXELS


def picture_of(pixels: NDArray[np.uint8]) -> Picture:
    """The same pixels (h, w, 3 or 4) as a picture."""
    return pixels.view(Picture)
