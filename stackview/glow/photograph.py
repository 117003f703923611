"""Photographs as light: a JPEG, PNG or TIFF file → linear luminance, with what was clipped marked.

sRGB values become light by IEC 61966-2-1; its luminance weights are those of ITU-R BT.709. A colour
profile inside the file is not applied. Where the tone curve is not known, light is by sRGB all the
same: the yardstick that :mod:`stackview.glow.tone_curves` measures other curves by.
"""

import warnings
from dataclasses import dataclass
from math import ceil, sqrt
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.errors import StackviewError
from stackview.glow.camera_record import CameraRecord, camera_record
from stackview.glow.tone_curves import to_light

ToneCurve = Literal["srgb", "linear", "unknown"]
_MOST_PHOTO_PIXELS, _MOST_PHOTO_BYTES = 64_000_000, 500_000_000
_LEAST_SIDE = 32
_LONGEST_OF_WIDTH = 20
"""A longer strip shows no whole spot, and is nought wide once it is averaged."""
_WORKED = 1_500_000
"""Pixels that are looked at; larger photographs are averaged in squares first, as light."""
_WEIGHTS = np.array([0.2126, 0.7152, 0.0722])
_CLIPPED = 0.975
"""Share of full scale from which a pixel counts as clipped; JPEG blurs the edge of what was."""
_PLATEAU = 30
_UNCOMPRESSED, _BITS, _COMPRESSION, _STRIPS, _PLANAR = 1, 258, 259, 273, 284


class PhotographError(StackviewError):
    """A photograph cannot be read or does not show what is needed."""


@dataclass(frozen=True, slots=True, eq=False)
class Photograph:
    """``light`` (h, w) linear, 1 at full scale; ``clipped`` (h, w); read-only.

    ``shrink`` file pixels make one pixel here, along each side.
    """

    name: str
    light: Floats
    clipped: NDArray[np.bool_]
    shrink: int
    curve: ToneCurve
    notes: tuple[str, ...] = ()
    bits: int = 16
    record: CameraRecord = CameraRecord()

    def __post_init__(self) -> None:
        self.light.setflags(write=False)
        self.clipped.setflags(write=False)


def read_photograph(file: Path, curve: ToneCurve | None = None) -> Photograph:
    """Read one photograph.

    Parameters
    ----------
    file : JPEG, PNG or TIFF
    curve : how its numbers stand for light; by default linear for 16 bits without a colour
        profile, as raw files are saved untouched, and else not known

    Raises
    ------
    PhotographError
        no file, not a picture, truncated, too large or too small; the message says what to do
    """
    values, depth, profile, record = _values(file)
    own: ToneCurve = curve or ("linear" if depth == 16 and not profile else "unknown")
    full = 2.0**depth - 1.0
    top = float(values.max(initial=0))
    at_top = int((values == top).any(axis=2).sum())
    level = _CLIPPED * full
    if top < level and at_top >= max(_PLATEAU, values.shape[0] * values.shape[1] // 10_000) and depth == 16:
        level = _CLIPPED * top  # a raw file's white is often below full scale
    shrink = max(1, ceil(sqrt(values.shape[0] * values.shape[1] / _WORKED)))
    light, clipped = _shrunk(values, level, full, own, shrink)
    notes = []
    if own == "linear" and curve is None:
        notes.append(
            "taken as linear light, as raw files are saved untouched; "
            "if it looks right on a screen it is not, so give --curve unknown"
        )
    return Photograph(file.name, light, clipped, shrink, own, tuple(notes), depth, record)


def _values(file: Path) -> tuple[NDArray[Any], int, bool, CameraRecord]:
    """Pixels (h, w, 1 or 3), bits, whether there is a colour profile, and what the camera wrote."""
    from PIL import Image, UnidentifiedImageError

    try:
        kind = file.stat().st_mode
        if not (S_ISREG(kind) or S_ISDIR(kind)):
            raise PhotographError(f"{file}: is not an ordinary file; give a photograph's file")
        if file.stat().st_size > _MOST_PHOTO_BYTES:
            raise PhotographError(f"{file}: larger than {_MOST_PHOTO_BYTES // 1_000_000} MB; save it smaller")
        with warnings.catch_warnings():
            # Pillow warns of sizes that are refused below, and of odd tags that do not matter here.
            warnings.simplefilter("ignore")
            with Image.open(file, formats=["JPEG", "PNG", "TIFF"]) as picture:
                _check_size(file, picture.size)
                profile = bool(picture.info.get("icc_profile"))
                values, bits = _pixels(file, picture)
                # Asked last, for Pillow forgets how a PNG's pixels are stored once it looks for a record.
                record = camera_record(picture)
                if record.raw:
                    raise PhotographError(
                        f"{file}: a DNG file is not read, only previews in it would be; "
                        "save it as linear 16-bit TIFF, greyscale or uncompressed colour"
                    )
                return values, bits, profile, record
    except FileNotFoundError:
        raise PhotographError(f"{file}: there is no such file") from None
    except IsADirectoryError:
        raise PhotographError(f"{file}: this is a folder; give a photograph's file") from None
    except PhotographError:
        raise
    except Image.DecompressionBombError:
        raise PhotographError(
            f"{file}: more than {_MOST_PHOTO_PIXELS // 1_000_000} million pixels; cut out the offcut"
        ) from None
    except UnidentifiedImageError:
        raise PhotographError(f"{file}: not a JPEG, PNG or TIFF picture") from None
    except (OSError, SyntaxError, ValueError, KeyError, TypeError, EOFError) as error:
        # Pillow raises these for broken files.
        reason = " ".join(str(error).split())[:100] or "its content is broken"
        raise PhotographError(f"{file}: cannot be read as a picture ({reason})") from None


def _check_size(file: Path, size: tuple[int, int]) -> None:
    wide, tall = size
    if wide * tall > _MOST_PHOTO_PIXELS:
        raise PhotographError(
            f"{file}: {wide} × {tall} pixels; at most {_MOST_PHOTO_PIXELS // 1_000_000} million: cut out the offcut"
        )
    if min(size) < _LEAST_SIDE:
        raise PhotographError(f"{file}: {wide} × {tall} pixels; at least {_LEAST_SIDE} each way")
    if max(size) > _LONGEST_OF_WIDTH * min(size):
        raise PhotographError(
            f"{file}: {wide} × {tall} pixels; at most {_LONGEST_OF_WIDTH} times as long as wide: cut out the offcut"
        )


def _pixels(file: Path, picture: Any) -> tuple[NDArray[Any], int]:
    mode, raw = picture.mode, str(picture.tile[0][3]) if picture.tile else ""
    if mode in ("I;16", "I;16B", "I;16L", "I"):
        return np.asarray(picture).astype(np.uint16)[..., None], 16
    if ";16" in raw or _tiff_bits(picture) == (16, 16, 16):
        return _colour_16(file, picture), 16
    if mode in ("F", "CMYK", "LAB"):
        raise PhotographError(f"{file}: {mode} pixels are not read; save it as RGB of 8 or 16 bits")
    return np.asarray(picture.convert("L" if mode in ("1", "L", "LA") else "RGB")).reshape(
        picture.size[1], picture.size[0], -1
    ), 8


def _tiff_bits(picture: Any) -> tuple[int, ...]:
    tags = getattr(picture, "tag_v2", None)
    return tuple(tags.get(_BITS, ())) if tags is not None else ()


def _colour_16(file: Path, picture: Any) -> NDArray[np.uint16]:
    """16-bit colour, which Pillow would cut to 8 bits: from an uncompressed TIFF's own strips."""
    tags = getattr(picture, "tag_v2", None)
    if (
        tags is None
        or tags.get(_COMPRESSION) != _UNCOMPRESSED
        or tags.get(_PLANAR, 1) != 1
        or _tiff_bits(picture) != (16, 16, 16)
    ):
        raise PhotographError(
            f"{file}: 16-bit colour is read from uncompressed TIFF only; "
            "save it so, or as a 16-bit greyscale PNG or TIFF"
        )
    wide, tall = picture.size
    order = ">u2" if tags.prefix == b"MM" else "<u2"
    rows_each = min(int(tags.get(278, tall)), tall)
    content = file.read_bytes()
    rows = []
    for number, start in enumerate(tags[_STRIPS]):
        count = min(rows_each, tall - number * rows_each) * wide * 3
        if start + 2 * count > len(content):
            raise PhotographError(f"{file}: cannot be read as a picture (it is truncated)")
        rows.append(np.frombuffer(content, order, count, start))
    values = np.concatenate(rows).astype(np.uint16)
    return values.reshape(tall, wide, 3)


def _shrunk(
    values: NDArray[Any], level: float, full: float, curve: ToneCurve, shrink: int
) -> tuple[Floats, NDArray[np.bool_]]:
    """Luminance and clipping, averaged as light in squares; bands of rows keep the memory small."""
    tall, wide = values.shape[0] // shrink, values.shape[1] // shrink
    light, clipped = np.empty((tall, wide)), np.empty((tall, wide), np.bool_)
    weights = _WEIGHTS if values.shape[2] == 3 else np.ones(1)
    step = max(1, 200_000 // (wide * shrink * shrink))
    for row in range(0, tall, step):
        end = min(row + step, tall)
        band = values[row * shrink : end * shrink, : wide * shrink]
        plain = band / full
        linear = (plain if curve == "linear" else to_light(plain)) @ weights
        squares = (end - row, shrink, wide, shrink)
        light[row:end] = linear.reshape(squares).mean(axis=(1, 3))
        clipped[row:end] = (band >= level).any(axis=2).reshape(squares).max(axis=(1, 3))
    return light, clipped
