"""Photographs as light: a JPEG, PNG or TIFF file → linear luminance, with what was clipped marked.

sRGB values become light by IEC 61966-2-1; its luminance weights are those of ITU-R BT.709. A colour
profile inside the file is not applied. Where the tone curve is not known, light is by sRGB all the
same: the yardstick that :mod:`stackview.glow.tone_curves` measures other curves by.
"""

import sys
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
_BITS = 258


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
                        f"{file}: a raw file is not read, only previews in it would be; have it converted to a "
                        "linear 16-bit TIFF or PNG: gamma 1, no tone curve, no automatic brightness"
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
    mode, raw = picture.mode, _raw_mode(picture)
    if mode in ("I;16", "I;16B", "I;16L", "I"):
        return np.asarray(picture).astype(np.uint16)[..., None], 16
    if ";16" in raw or set(_tiff_bits(picture)) == {16}:
        return _colour_16(file, picture), 16
    if mode in ("F", "CMYK", "LAB"):
        raise PhotographError(f"{file}: {mode} pixels are not read; save it as RGB of 8 or 16 bits")
    return np.asarray(picture.convert("L" if mode in ("1", "L", "LA") else "RGB")).reshape(
        picture.size[1], picture.size[0], -1
    ), 8


def _tiff_bits(picture: Any) -> tuple[int, ...]:
    tags = getattr(picture, "tag_v2", None)
    return tuple(tags.get(_BITS, ())) if tags is not None else ()


def _raw_mode(picture: Any) -> str:
    """How Pillow takes the file's bytes, such as RGB;16B: colours, then bits and order of bytes."""
    given = picture.tile[0].args if picture.tile else ""
    return str(given if isinstance(given, str) else given[0] if given else "")


def _colour_16(file: Path, picture: Any) -> NDArray[np.uint16]:
    """16-bit colour (h, w, 3), of which Pillow keeps one byte of two: it is asked for each in turn.

    A raw mode that ends in 16B keeps the first byte of each pair, one in 16L the second. What
    libtiff unpacks comes in the machine's own order (16N).
    """
    raw = _raw_mode(picture)
    colours, _, order = raw.partition(";")
    if colours not in ("RGB", "RGBA", "RGBX") or order not in ("16B", "16L", "16N"):
        raise PhotographError(
            f"{file}: of 16-bit pictures greyscale and RGB are read, not {raw or 'this kind'}; "
            "save it as a 16-bit PNG or TIFF in RGB, without transparency"
        )
    first, second = _half(file, f"{colours};16B"), _half(file, f"{colours};16L")
    is_first_high = order == "16B" or (order == "16N" and sys.byteorder == "big")
    values, low = (first, second) if is_first_high else (second, first)
    values <<= 8
    values |= low
    return values


def _half(file: Path, raw: str) -> NDArray[np.uint16]:
    """One byte of each number (h, w, 3)."""
    from PIL import Image

    with Image.open(file, formats=["PNG", "TIFF"]) as picture:
        picture.tile = [
            tile._replace(args=raw if isinstance(tile.args, str) else (raw, *(tile.args or ())[1:]))
            for tile in picture.tile
        ]
        pixels = np.asarray(picture)
    return pixels[..., :3].astype(np.uint16)


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
