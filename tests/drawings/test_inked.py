import numpy as np

from stackview.drawings.chart_style import blank, draw_line
from stackview.drawings.inked import inked, on_tone


def test_opaque_pixels_keep_their_colour_and_clear_ones_show_the_paper():
    picture = np.zeros((2, 2, 4), np.uint8)
    picture[0, 0] = (10, 20, 30, 255)
    picture[0, 1] = (0, 0, 0, 128)
    laid = on_tone(picture, (200, 100, 50))
    assert laid[0, 0].tolist() == [10, 20, 30]
    assert laid[1, 1].tolist() == [200, 100, 50]
    # Half covered: between, to within one step of eight bits.
    assert np.abs(laid[0, 1].astype(float) - np.array([200, 100, 50]) * (127 / 255)).max() <= 1
    assert on_tone(picture, cut_out=True) is picture


def test_lines_lie_over_the_picture_and_leave_the_rest_untouched():
    sheet = blank((640, 480))
    draw_line(sheet, [[(0.0, 240.0), (640.0, 240.0)]], colour="#000000", width=4.0)
    under = np.full((480, 640, 3), 200, np.uint8)
    drawn = inked(sheet, under)
    assert drawn.shape == (480, 640, 3)
    assert (drawn[:200] == 200).all()
    assert drawn[240, 320].max() < 60
    clear = np.zeros((480, 640, 4), np.uint8)
    over_nothing = inked(sheet, clear)
    assert over_nothing[100, 100, 3] == 0
    assert over_nothing[240, 320, 3] > 200
