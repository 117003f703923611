"""What cameras write: exposure, distance by focal length, and records that are odd, broken or of another picture."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

from stackview.glow.camera_record import CameraRecord, camera_record
from stackview.glow.photograph import PhotographError, read_photograph


def saved(file: Path, tags: dict[int, object], size: tuple[int, int] = (60, 40)) -> Path:
    """A JPEG with these Exif tags."""
    exif = Image.Exif()
    exif._ifds[0x8769] = tags
    Image.fromarray(np.full((size[1], size[0]), 90, np.uint8)).save(file, exif=exif)
    return file


def record(file: Path) -> CameraRecord:
    with Image.open(file) as picture:
        return camera_record(picture)


def test_light_goes_as_time_and_speed_over_f_number_squared(tmp_path: Path) -> None:
    # 1/60 s, f/1.8, ISO 100: 0.514; ISO 400 has four times that.
    tags = {33434: IFDRational(1, 60), 33437: IFDRational(18, 10), 34855: 100}
    one = record(saved(tmp_path / "a.jpg", tags)).exposure
    four = record(saved(tmp_path / "b.jpg", {**tags, 34855: 400})).exposure
    assert one == pytest.approx(100.0 / 60.0 / 1.8**2)
    assert four == pytest.approx(4.0 * 100.0 / 60.0 / 1.8**2)


def test_distance_over_width_is_focal_length_over_film_of_the_whole_picture_alone(tmp_path: Path) -> None:
    tags = {41989: 27, 40962: 60, 40963: 40}
    assert record(saved(tmp_path / "a.jpg", tags)).away == pytest.approx(27.0 / 36.0)
    assert record(saved(tmp_path / "b.jpg", tags, (50, 40))).away is None


@pytest.mark.parametrize(
    "tags",
    [
        {},
        {33434: IFDRational(1, 0)},
        {33434: IFDRational(0, 1)},
        {33434: IFDRational(2**31, 1)},
        {33434: b"x", 34855: "fast"},
    ],
)
def test_what_is_odd_counts_as_not_written(tmp_path: Path, tags: dict[int, object]) -> None:
    try:
        file = saved(tmp_path / "a.jpg", tags)
    except (TypeError, ValueError, AttributeError):
        pytest.skip("Pillow does not write such a tag")
    assert record(file) == CameraRecord()


def test_a_raw_file_s_preview_is_not_taken_for_it(tmp_path: Path) -> None:
    file = tmp_path / "a.dng"
    picture = Image.fromarray(np.full((40, 60), 90, np.uint8))
    # DNGVersion, tag 50706 (Adobe DNG specification; from memory).
    picture.save(file, format="TIFF", tiffinfo={50706: b"\1\4\0\0"})
    with pytest.raises(PhotographError, match="linear 16-bit TIFF"):
        read_photograph(file)
