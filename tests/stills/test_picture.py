"""A picture as Python gets it: an array in every way, a PNG in a notebook, and no more than that."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from stackview.stills.picture import Picture, picture_of


def pixels(colours: int = 3) -> np.ndarray:
    return np.random.default_rng(5).integers(0, 256, (12, 20, colours), dtype=np.uint8)


@pytest.mark.parametrize(("colours", "mode"), [(3, "RGB"), (4, "RGBA")])
def test_the_notebooks_png_holds_the_same_pixels(colours: int, mode: str) -> None:
    given = pixels(colours)
    packed = picture_of(given)._repr_png_()
    assert packed is not None
    # PNG signature (ISO/IEC 15948, 5.2).
    assert packed[:8] == b"\x89PNG\r\n\x1a\n"
    with Image.open(BytesIO(packed)) as image:
        assert image.mode == mode
        assert np.array_equal(np.asarray(image), given)


def test_it_is_the_same_memory_and_an_array() -> None:
    given = pixels()
    made = picture_of(given)
    assert isinstance(made, Picture)
    assert np.shares_memory(made, given)
    assert made.mean() == given.mean()
    assert np.array_equal(Image.fromarray(made), given)


def test_it_is_said_in_one_line() -> None:
    assert repr(picture_of(pixels())) == "Picture of 20 × 12 pixels, RGB"
    assert repr(picture_of(pixels(4))) == "Picture of 20 × 12 pixels, RGBA"


@pytest.mark.parametrize(
    "part",
    [np.s_[..., 0], np.s_[:, 0], np.s_[:0], np.s_[..., :2]],
    ids=["channel", "column", "nothing", "two"],
)
def test_a_part_that_is_no_picture_does_not_show_itself(part: object) -> None:
    piece = picture_of(pixels())[part]  # type: ignore[index]
    assert piece._repr_png_() is None
    assert repr(piece) == repr(np.asarray(piece))
    assert (piece.astype(float) * 2)._repr_png_() is None
