"""Photographs for the fuzzer: JPEG, PNG and TIFF of one bright spot, their bytes changed."""

import io
from pathlib import Path
from random import Random
from tempfile import gettempdir

import atheris
import numpy as np
from PIL import Image

from stackview.glow.finish_fit import Setup, fit_finish
from stackview.glow.photograph import PhotographError, read_photograph
from stackview.glow.spot import find_spot, profile_of
from tests.fuzz.finds import check_words

LONGEST = 40_000
_FILE = Path(gettempdir()) / "stackview-fuzz-photograph"
_NUMBERS = (
    0,
    1,
    2,
    7,
    8,
    16,
    31,
    32,
    33,
    63,
    64,
    127,
    128,
    255,
    256,
    32767,
    65535,
    8000,
    2**31 - 1,
    2**32 - 1,
)
_SETUP = Setup(distance=25.0, thickness=4.0, scale=0.5)


def seeds() -> list[bytes]:
    """A spot in every kind of file and pixel that is read, and some that are not."""
    y, x = np.mgrid[:64, :72] - 33.3
    spot = 0.03 + 0.9 / (1.0 + (x * x + y * y) / 40.0) ** 1.5
    grey = (spot * 255).astype(np.uint8)
    colour = np.repeat(grey[..., None], 3, axis=2)
    deep = (spot * 60000).astype(np.uint16)
    made = [
        (Image.fromarray(grey), "PNG", {}),
        (Image.fromarray(colour), "PNG", {}),
        (Image.fromarray(colour).convert("P"), "PNG", {}),
        (Image.fromarray(colour).convert("RGBA"), "PNG", {}),
        (Image.fromarray(deep), "PNG", {}),
        (Image.fromarray(grey), "JPEG", {"quality": 60}),
        (Image.fromarray(colour), "JPEG", {"quality": 60, "progressive": True}),
        (Image.fromarray(colour).convert("CMYK"), "JPEG", {}),
        (Image.fromarray(grey), "TIFF", {}),
        (Image.fromarray(deep), "TIFF", {}),
        (Image.fromarray(colour), "TIFF", {"compression": "tiff_deflate"}),
        (Image.fromarray(colour), "TIFF", {"compression": "packbits"}),
        (Image.fromarray(spot.astype(np.float32)), "TIFF", {}),
        (Image.fromarray(grey > 99), "TIFF", {"compression": "group4"}),
    ]
    files = []
    for picture, kind, options in made:
        file = io.BytesIO()
        picture.save(file, kind, **options)
        files.append(file.getvalue())
    return [*files, _colour_16(deep)]


def _colour_16(deep: "np.ndarray[tuple[int, int], np.dtype[np.uint16]]") -> bytes:
    """An uncompressed TIFF of 16-bit colour, byte by byte (TIFF 6.0): Pillow writes none."""
    tall, wide = deep.shape
    entries = [
        (256, 3, 1, wide), (257, 3, 1, tall), (258, 3, 3, 134), (259, 3, 1, 1), (262, 3, 1, 2), (273, 4, 1, 140),
        (277, 3, 1, 3), (278, 3, 1, tall), (279, 4, 1, tall * wide * 6), (284, 3, 1, 1),
    ]  # fmt: skip
    head = b"II*\0" + (8).to_bytes(4, "little") + len(entries).to_bytes(2, "little")
    for tag, kind, count, value in entries:
        head += b"".join(n.to_bytes(w, "little") for n, w in ((tag, 2), (kind, 2), (count, 4), (value, 4)))
    head += bytes(4) + (16).to_bytes(2, "little") * 3
    assert len(head) == 140, len(head)
    return head + np.repeat(deep[..., None], 3, axis=2).astype("<u2").tobytes()


def _taken(by: Random) -> bytes:
    """A photograph of spots, round or not, bright or clipped, in noise or none, in one of the kinds of file."""
    wide, tall = by.choice(((32, 32), (48, 40), (33, 90), (120, 120), (64, 200)))
    y, x = np.mgrid[:tall, :wide].astype(np.float64)
    light = np.full((tall, wide), by.choice((0.0, 0.02, 0.2)))
    for _ in range(by.choice((0, 1, 1, 1, 2, 5))):
        dx, dy = x - by.uniform(0, wide), y - by.uniform(0, tall)
        far = (dx * dx * by.choice((1, 1, 3)) + dy * dy) / by.uniform(0.5, 200)
        light += by.choice((0.01, 0.5, 0.9, 3)) / (1.0 + far) ** by.uniform(0.6, 3)
    light += by.choice((0, 0, 0.01, 0.1)) * np.random.default_rng(by.randrange(1000)).normal(size=light.shape)
    light = np.clip(light, 0.0, 1.0)
    grey = (255 * light).astype(np.uint8)
    picture = Image.fromarray(
        by.choice((grey, np.repeat(grey[..., None], 3, axis=2), (65535 * light).astype(np.uint16)))
    )
    file = io.BytesIO()
    kind = by.choice(("PNG", "TIFF")) if picture.mode.startswith("I") else by.choice(("PNG", "TIFF", "JPEG"))
    picture.save(file, kind)
    return file.getvalue()


def ask(data: bytes) -> bool:
    """Read a photograph, find its spot, and fit the roughness to some."""
    _FILE.write_bytes(data)
    try:
        photo = read_photograph(_FILE)
        assert np.isfinite(photo.light).all()
        assert photo.light.min() >= 0.0
        assert photo.light.max() <= 1.0 + 1e-9
        place = find_spot(photo)
        profile_of(photo, place)
        if len(data) % 8 == 0:
            fit = fit_finish([photo], _SETUP)
            assert 0.0 < fit.roughness < 1.0
            assert np.isfinite(fit.error)
    except PhotographError as refused:
        check_words(refused)
        return False
    return True


def changed(data: bytes, most: int, seed: int) -> bytes:
    """Another picture altogether, its bytes changed, or numbers of two or four bytes exchanged."""
    by = Random(seed)
    way = by.random()
    if way < 0.4:
        data = _taken(by)
    if way < 0.2:
        return data[:most]
    if way > 0.7 or len(data) < 8:
        return bytes(atheris.Mutate(data, most))
    made = bytearray(data)
    for _ in range(by.choice((1, 1, 2, 4))):
        wide = by.choice((1, 2, 4))
        at = by.randrange(min(len(made), 400) if by.random() < 0.6 else len(made))
        number = by.choice(_NUMBERS) % (1 << (8 * wide))
        made[at : at + wide] = number.to_bytes(wide, by.choice(("big", "little")))
    return bytes(made[:most])
