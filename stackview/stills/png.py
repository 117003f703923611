"""Pictures into PNG files."""

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from stackview.errors import OutputError
from stackview.stills.picture_file import SOFTWARE, check_target, is_ours, write_picture

__all__ = ["SOFTWARE", "as_png", "check_target", "is_ours", "write_png"]


def write_png(image: NDArray[np.uint8], target: str | Path, text: Mapping[str, str] | None = None) -> None:
    """Write a picture (h, w, 3), or (h, w, 4) with its own opacity, with ``text`` in it.

    All of it or nothing, into a folder that is made where there is none: raises OutputError where
    that is not possible, where another program's file stands in its place, or where the name does
    not end in .png.
    """
    if not isinstance(image, np.ndarray) or image.dtype != np.uint8 or image.shape[2:] not in ((3,), (4,)):
        raise OutputError(
            f"{target}: what is saved is a picture, an array (h, w, 3 or 4) of whole numbers to 255"
        )
    target = Path(target)
    check_target(target)
    if target.suffix.lower() != ".png":
        raise OutputError(f"{target}: what is written is a PNG file: give it a name that ends in .png")
    write_picture(as_png(image, text or {}), target)


def as_png(image: NDArray[np.uint8], text: Mapping[str, str]) -> bytes:
    """What goes into a PNG file: a picture (h, w, 3 or 4), with ``text`` and the mark of ours in it."""
    from PIL import Image
    from PIL.PngImagePlugin import PngInfo

    chunks = PngInfo()
    for key, value in {**text, "Software": SOFTWARE}.items():
        chunks.add_text(key, value)
    packed = BytesIO()
    Image.fromarray(np.ascontiguousarray(image)).save(packed, "PNG", pnginfo=chunks)
    return packed.getvalue()
