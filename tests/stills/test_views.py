import numpy as np
import pytest

from stackview.errors import OutputError
from stackview.stills.views import VIEWS, check_frames, check_size, check_units, check_view, chosen, size_of


def test_all_views_or_chosen_ones_each_once_in_order():
    assert chosen([]) == tuple(VIEWS)
    assert chosen(["half", " Studio ", "half"]) == ("studio", "half")


@pytest.mark.parametrize(("wrong", "near"), [("evning", "evening"), ("studoi", "studio"), ("eye", "eyes")])
def test_an_unknown_name_offers_the_nearest(wrong, near):
    with pytest.raises(OutputError, match=f'"{near}"'):
        chosen(["front", wrong])


def test_a_name_like_none_offers_them_all():
    with pytest.raises(OutputError, match="studio, evening, front"):
        chosen(["qqqq"])


def test_sizes_that_suit_a_view_and_half_a_size():
    assert size_of("studio", None, None) == (1600, 1200)
    assert size_of("spread", None, None) == (1200, 1600)
    assert size_of("turn", None, None) == (640, 480)
    assert size_of("studio", 800, None) == (800, 600)
    assert size_of("spread", None, 800) == (600, 800)
    assert size_of("turn", 300, 200) == (300, 200)


def test_8k_is_allowed_and_more_is_refused_with_the_limit():
    check_view(0, 0, (7680, 4320))
    with pytest.raises(OutputError, match="36 million"):
        check_view(0, 0, (8192, 8192))
    with pytest.raises(OutputError, match="8192"):
        check_view(0, 0, (10_000, 10))


def test_words_need_room_and_a_turntable_has_many_frames():
    check_size("studio", (64, 64))
    with pytest.raises(OutputError, match="640 × 480"):
        check_size("spread", (320, 240))
    check_size("turn", (1920, 1080))
    with pytest.raises(OutputError, match="36 frames of 2000 × 1100 are more than 75 million pixels"):
        check_size("turn", (2000, 1100))


@pytest.mark.parametrize(
    ("bearing", "elevation", "size", "said"),
    [
        ("front", 0.0, (800, 600), r"bearing 'front': give a number of degrees"),
        (None, 0.0, (800, 600), r"bearing None: give a number"),
        (float("nan"), 0.0, (800, 600), r"bearing nan: give a number"),
        (True, 0.0, (800, 600), r"bearing True: give a number"),
        (0.0, "high", (800, 600), r"elevation 'high': give degrees from -90"),
        (0.0, 90.5, (800, 600), r"elevation 90.5: give degrees from -90"),
        (0.0, 0.0, "big", r"size 'big': give width and height in whole pixels"),
        (0.0, 0.0, (800,), r"size \(800,\): give width and height"),
        (0.0, 0.0, (800.5, 600), r"size \(800.5, 600\): give width and height"),
        (0.0, 0.0, None, r"size None: give width and height"),
        (0.0, 0.0, 800, r"size 800: give width and height"),
        (0.0, 0.0, (800, 60), r"height 60: give a number of pixels from 64 to 8192"),
    ],
)
def test_what_is_no_view_is_told_in_one_sentence(
    bearing: object, elevation: object, size: object, said: str
) -> None:
    with pytest.raises(OutputError, match=said):
        check_view(bearing, elevation, size)  # type: ignore[arg-type]


def test_numbers_of_arrays_are_numbers() -> None:
    check_view(np.float32(35.0), np.int64(10), (np.int64(800), np.int32(600)))  # type: ignore[arg-type]


@pytest.mark.parametrize("frames", ["x", 0, 2.5, True, 3601])
def test_no_number_of_frames(frames: object) -> None:
    with pytest.raises(OutputError, match="give a whole number from 1 to 3600, such as 36"):
        check_frames(frames)  # type: ignore[arg-type]


def test_no_drawing_is_lettered_in_a_unit_of_its_own() -> None:
    for units in ("mm", "in", "both", None):
        check_units(units)
    with pytest.raises(OutputError, match=r'units \'furlong\': give "mm", "in" or "both"'):
        check_units("furlong")
