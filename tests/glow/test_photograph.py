"""Photographs as light."""

import os
import struct
import sys
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from stackview.glow.photograph import PhotographError, read_photograph


def ramp(high: int, kind: type) -> np.ndarray:
    return np.tile(np.linspace(0, high, 64).astype(kind), (48, 1))


def test_8_bit_grey_png_is_of_unknown_curve_and_measured_by_srgb(tmp_path: Path) -> None:
    Image.fromarray(np.full((40, 50), 128, np.uint8)).save(tmp_path / "a.png")
    photo = read_photograph(tmp_path / "a.png")
    assert photo.light.shape == (40, 50)
    assert photo.light == pytest.approx(((128 / 255 + 0.055) / 1.055) ** 2.4)
    assert not photo.clipped.any()
    assert (photo.curve, photo.bits) == ("unknown", 8)


def test_curve_can_be_told(tmp_path: Path) -> None:
    Image.fromarray(np.full((40, 50), 51, np.uint8)).save(tmp_path / "a.png")
    assert read_photograph(tmp_path / "a.png", "linear").light == pytest.approx(0.2)


@pytest.mark.parametrize("name", ["a.png", "a.tif"])
def test_16_bit_grey_is_taken_as_linear(tmp_path: Path, name: str) -> None:
    values = ramp(60000, np.uint16)
    Image.fromarray(values).save(tmp_path / name)
    photo = read_photograph(tmp_path / name)
    assert photo.light == pytest.approx(values / 65535.0)
    assert (photo.curve, photo.bits) == ("linear", 16)
    assert "taken as linear" in photo.notes[0]


def test_colour_counts_by_its_luminance_and_clips_by_any_channel(tmp_path: Path) -> None:
    values = np.zeros((40, 40, 3), np.uint8)
    values[:20, :, 0] = 255
    values[20:, :, 1] = 200
    Image.fromarray(values).save(tmp_path / "a.png")
    photo = read_photograph(tmp_path / "a.png")
    # Weights of ITU-R BT.709.
    assert photo.light[0, 0] == pytest.approx(0.2126)
    assert photo.light[-1, 0] == pytest.approx(0.7152 * ((200 / 255 + 0.055) / 1.055) ** 2.4)
    assert photo.clipped[:20].all()
    assert not photo.clipped[20:].any()


def tiff_16_colour(values: np.ndarray, order: str = "<", deflated: bool = False, smaller: int = 0) -> bytes:
    """A baseline TIFF (TIFF 6.0, sections 2, 6 and 8) of 16-bit colour in one strip, as it is or by zlib."""
    tall, wide, _ = values.shape
    data = values.astype(f"{order}u2").tobytes()
    if deflated:
        data = zlib.compress(data)
        data += b"\0" * (len(data) % 2)
    entries = [
        (254, 4, 1, smaller),
        (256, 3, 1, wide),
        (257, 3, 1, tall),
        (258, 3, 3, 8 + len(data)),
        (259, 3, 1, 8 if deflated else 1),
        (262, 3, 1, 2),
        (273, 4, 1, 8),
        (277, 3, 1, 3),
        (278, 3, 1, tall),
        (279, 4, 1, len(data)),
        (284, 3, 1, 1),
    ]
    head = (b"II*\0" if order == "<" else b"MM\0*") + struct.pack(f"{order}I", 8 + len(data) + 6)
    bits = struct.pack(f"{order}3H", 16, 16, 16)
    table = struct.pack(f"{order}H", len(entries))
    for tag, kind, count, value in entries:
        packed = f"{order}I" if kind == 4 or count > 2 else f"{order}Hxx"
        table += struct.pack(f"{order}HHI", tag, kind, count) + struct.pack(packed, value)
    return head + data + bits + table + struct.pack(f"{order}I", 0)


LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
"""Of ITU-R BT.709."""


def noise_16(colours: int = 3) -> np.ndarray:
    """Numbers whose bytes are all different in kind, and none near white."""
    return np.random.default_rng(1).integers(0, 50000, (40, 36, colours), dtype=np.uint16)


@pytest.mark.parametrize("deflated", [False, True])
@pytest.mark.parametrize("order", ["<", ">"])
def test_16_bit_colour_tiff_keeps_all_its_bits(tmp_path: Path, order: str, deflated: bool) -> None:
    values = noise_16()
    (tmp_path / "a.tif").write_bytes(tiff_16_colour(values, order, deflated))
    photo = read_photograph(tmp_path / "a.tif")
    assert photo.light == pytest.approx(values / 65535.0 @ LUMINANCE, abs=1e-9)
    assert (photo.curve, photo.bits) == ("linear", 16)


def png_16(values: np.ndarray, kind: int) -> bytes:
    """A PNG of 16 bits (ISO/IEC 15948), its rows filtered in turn by none, left and above."""
    tall, wide, colours = values.shape
    raw = values.astype(">u2").view(np.uint8).reshape(tall, -1).astype(np.int64)
    left = np.concatenate([np.zeros((tall, 2 * colours), np.int64), raw[:, : -2 * colours]], axis=1)
    above = np.concatenate([np.zeros((1, raw.shape[1]), np.int64), raw[:-1]])
    rows = b"".join(
        bytes([row % 3]) + ((raw[row] - (0, left[row], above[row])[row % 3]) % 256).astype(np.uint8).tobytes()
        for row in range(tall)
    )
    header = struct.pack(">IIBBBBB", wide, tall, 16, kind, 0, 0, 0)
    chunks = b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in ((b"IHDR", header), (b"IDAT", zlib.compress(rows)), (b"IEND", b""))
    )
    return b"\x89PNG\r\n\x1a\n" + chunks


@pytest.mark.parametrize(("kind", "colours"), [(2, 3), (6, 4)])
def test_16_bit_colour_png_keeps_all_its_bits(tmp_path: Path, kind: int, colours: int) -> None:
    values = noise_16(colours)
    (tmp_path / "a.png").write_bytes(png_16(values, kind))
    photo = read_photograph(tmp_path / "a.png")
    assert photo.light == pytest.approx(values[..., :3] / 65535.0 @ LUMINANCE, abs=1e-9)
    assert (photo.curve, photo.bits) == ("linear", 16)


def test_16_bits_of_a_kind_that_would_be_cut_are_refused(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(png_16(noise_16(2), 4))
    with pytest.raises(
        PhotographError, match="greyscale and RGB are read, not LA;16B; .* without transparency"
    ):
        read_photograph(tmp_path / "a.png")


def test_a_raw_file_is_refused_and_its_preview_not_taken_for_it(tmp_path: Path) -> None:
    (tmp_path / "a.tif").write_bytes(tiff_16_colour(noise_16(), smaller=1))
    with pytest.raises(
        PhotographError, match="a raw file is not read, .* linear 16-bit TIFF or PNG: gamma 1"
    ):
        read_photograph(tmp_path / "a.tif")


def test_white_below_full_scale_is_found_by_its_plateau(tmp_path: Path) -> None:
    values = np.minimum(np.tile(np.linspace(0, 20000, 64), (64, 1)), 16383).astype(np.uint16)
    Image.fromarray(values).save(tmp_path / "raw.tif")
    photo = read_photograph(tmp_path / "raw.tif")
    assert (photo.clipped == (values >= 0.975 * 16383)).all()


def test_large_photographs_are_averaged_as_light(tmp_path: Path) -> None:
    checks = np.indices((1400, 1600)).sum(axis=0) % 2 * 255
    Image.fromarray(checks.astype(np.uint8)).save(tmp_path / "a.png")
    photo = read_photograph(tmp_path / "a.png")
    assert photo.shrink == 2
    assert photo.light.shape == (700, 800)
    assert photo.light == pytest.approx(0.5)
    assert photo.clipped.all()


@pytest.mark.parametrize(
    ("content", "word"),
    [(b"", "not a JPEG"), (b"no picture", "not a JPEG"), (b"\x89PNG\r\n\x1a\n" + b"\0" * 40, "a.png")],
)
def test_what_is_no_picture_is_refused(tmp_path: Path, content: bytes, word: str) -> None:
    (tmp_path / "a.png").write_bytes(content)
    with pytest.raises(PhotographError, match=word):
        read_photograph(tmp_path / "a.png")


@pytest.mark.parametrize("name", ["a.png", "a.jpg", "a.tif"])
def test_truncated_pictures_are_refused(tmp_path: Path, name: str) -> None:
    noise = np.random.default_rng(2).integers(0, 255, (200, 200, 3), dtype=np.uint8)
    Image.fromarray(noise).save(tmp_path / name)
    whole = (tmp_path / name).read_bytes()
    (tmp_path / name).write_bytes(whole[: len(whole) // 2])
    with pytest.raises(PhotographError, match=name):
        read_photograph(tmp_path / name)


def test_a_strip_that_shows_no_whole_spot_is_refused(tmp_path: Path) -> None:
    """Found by fuzzing: averaged in squares for the search, it was nought wide."""
    Image.fromarray(np.zeros((32, 640), np.uint8)).save(tmp_path / "a.png")
    assert read_photograph(tmp_path / "a.png").light.shape == (32, 640)
    Image.fromarray(np.zeros((700, 32), np.uint8)).save(tmp_path / "a.png")
    with pytest.raises(PhotographError, match="at most 20 times as long as wide: cut out the offcut"):
        read_photograph(tmp_path / "a.png")


def test_missing_tiny_and_huge_pictures_are_refused(tmp_path: Path) -> None:
    with pytest.raises(PhotographError, match="no such file"):
        read_photograph(tmp_path / "none.jpg")
    Image.new("L", (20, 20)).save(tmp_path / "tiny.png")
    with pytest.raises(PhotographError, match="at least 32"):
        read_photograph(tmp_path / "tiny.png")
    Image.new("1", (9000, 9000)).save(tmp_path / "huge.png")
    with pytest.raises(PhotographError, match="64 million"):
        read_photograph(tmp_path / "huge.png")
    with pytest.raises(PhotographError, match="this is a folder"):
        read_photograph(tmp_path)


def test_spoilt_files_are_read_or_refused_but_never_fail(tmp_path: Path) -> None:
    rng = np.random.default_rng(5)
    grey = rng.integers(0, 255, (40, 44), dtype=np.uint8)
    Image.fromarray(grey).save(tmp_path / "a.png")
    Image.fromarray(grey).save(tmp_path / "a.jpg")
    whole = [(tmp_path / name).read_bytes() for name in ("a.png", "a.jpg")]
    colour = np.repeat(grey[..., None], 3, axis=2).astype(np.uint16) * 200
    whole += [tiff_16_colour(colour), tiff_16_colour(colour, deflated=True), png_16(colour, 2)]
    for number in range(400):
        content = bytearray(whole[number % 5])
        for _ in range(3):
            place = int(rng.integers(0, len(content) if rng.random() < 0.5 else 150))
            content[-place if number % 5 == 2 else place] = int(rng.integers(0, 256))
        (tmp_path / "spoilt").write_bytes(content)
        try:
            photo = read_photograph(tmp_path / "spoilt")
        except PhotographError as error:
            assert len(str(error).splitlines()) == 1  # noqa: PT017 - either outcome is fine
        else:
            assert np.isfinite(photo.light).all()


@pytest.mark.skipif(sys.platform == "win32", reason="no such files there")
def test_pipes_and_devices_are_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.png")
    for file in (tmp_path / "pipe.png", Path("/dev/zero"), Path("/dev/null")):
        with pytest.raises(PhotographError, match="is not an ordinary file"):
            read_photograph(file)
