import pytest

from stackview.errors import OutputError
from stackview.stills.views import VIEWS, check_size, check_view, chosen, size_of


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
    check_view(0, 0, 7680, 4320)
    with pytest.raises(OutputError, match="36 million"):
        check_view(0, 0, 8192, 8192)
    with pytest.raises(OutputError, match="8192"):
        check_view(0, 0, 10_000, 10)


def test_words_need_room_and_a_turntable_has_many_frames():
    check_size("studio", (64, 64))
    with pytest.raises(OutputError, match="640 × 480"):
        check_size("spread", (320, 240))
    check_size("turn", (1024, 768))
    with pytest.raises(OutputError, match="36 frames"):
        check_size("turn", (1600, 1200))
