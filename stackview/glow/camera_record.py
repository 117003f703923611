"""What a camera writes into its file of how a picture was taken (Exif 2.3; tag numbers from memory)."""

from dataclasses import dataclass
from math import isfinite
from typing import Any

_EXIF, _TIME, _STOP, _SPEED, _FOCAL_35, _WIDE, _TALL = 0x8769, 33434, 33437, 34855, 41989, 40962, 40963
_DNG, _SUBFILE, _SMALLER = 50706, 254, 1
_FILM = 36.0
"""Longer side of the frame that a 35 mm equivalent focal length is for [mm]."""
_LIMITS = {_TIME: (1e-6, 4000.0), _STOP: (0.5, 128.0), _SPEED: (1.0, 1e7), _FOCAL_35: (5.0, 2000.0)}


@dataclass(frozen=True, slots=True)
class CameraRecord:
    """What a camera wrote; None where it did not, or not of this picture."""

    exposure: float | None = None
    """Seconds · ISO / f-number²."""
    away: float | None = None
    """The camera's distance over the width that the picture's longer side shows there."""
    raw: bool = False
    """A raw file, whose ordinary picture is only a preview: DNG, or a TIFF that begins with a smaller copy of
    another picture in it (NewSubfileType, TIFF 6.0 section 8), as many cameras' own raw files do."""


def camera_record(picture: Any) -> CameraRecord:
    """Read what the camera wrote of an open Pillow picture; what is odd or broken counts as not written.

    Light on the sensor goes as t/N² (f-number N), and numbers for the same light as ISO speed. A
    picture that was cut or made smaller has another size than the record says, and no ``away``.
    """
    try:
        written = picture.getexif()
        own = written.get_ifd(_EXIF)
        raw = written.get(_DNG) is not None or bool(int(written.get(_SUBFILE, 0)) & _SMALLER)
        sizes = {int(own.get(_WIDE, 0)), int(own.get(_TALL, 0))}
        values = {tag: _number(own.get(tag), tag) for tag in _LIMITS}
    except (
        OSError,
        SyntaxError,
        ValueError,
        LookupError,
        TypeError,
        EOFError,
        ArithmeticError,
        AttributeError,
    ):
        return CameraRecord()
    seconds, stop, speed, focal = (values[tag] for tag in (_TIME, _STOP, _SPEED, _FOCAL_35))
    exposure = None if seconds is None else seconds * (speed or 100.0) / (stop or 1.0) ** 2
    whole = set(picture.size) == sizes
    return CameraRecord(exposure, focal / _FILM if focal is not None and whole else None, raw)


def _number(written: Any, tag: int) -> float | None:
    if isinstance(written, tuple):
        written = written[0] if written else None
    if written is None:
        return None
    value, (low, high) = float(written), _LIMITS[tag]
    return value if isfinite(value) and low <= value <= high else None
