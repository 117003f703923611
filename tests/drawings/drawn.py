"""Shared by the tests of charts and drawings: studied lamps, and the rules that their words keep."""

from itertools import combinations

import numpy as np

from stackview.description.lamp import Eye, Lamp, Surface
from stackview.drawings.chart_style import PAPER, Sheet, pixels
from stackview.light.points import LightPoints
from stackview.sight.summary import Sightlines, sightlines
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stack.seating import Standing

EYES = (
    Eye("seated by the window", 1500.0, 1200.0),
    Eye("standing", 1500.0, 1600.0),
    Eye("lying", 900.0, 700.0),
    Eye("the far end of the reading room, by the door to the yard", 5000.0, 1590.0),
    Eye("$x^2$ 月 \\frac", 1400.0, 1190.0),
    Eye("over it", 150.0, 1900.0),
)
TABLE = Surface(740.0, (1200.0, 700.0), (0.0, 100.0))
SIZES = [(640, 480), (1000, 1400), (1600, 1000), (1920, 540)]


def studied(
    placed: tuple[Placed, ...],
    points: LightPoints,
    *,
    name: str = "Test Lamp",
    eyes: tuple[Eye, ...] = (),
    surface: Surface | None = None,
    unit: str = "mm",
    bearings: int = 72,
) -> tuple[Sightlines, Stack]:
    """A stack of placed parts and what shows of its light points."""
    height = max(part.top for part in placed)
    lamp = Lamp(name, unit, (), eyes=eyes, surface=surface)
    stack = Stack(lamp, placed, Standing(), height, surface.height if surface else 0.0)
    return sightlines(stack, points, bearings=bearings), stack


def check_words(sheet: Sheet) -> None:
    """Every word lies inside the picture, on bare paper, and off every other word."""
    texts = [text for text in sheet.axes.texts if text.get_text()]
    boxes = [text.get_window_extent(sheet.renderer) for text in texts]
    for text, box in zip(texts, boxes, strict=True):
        inside = box.x0 >= 1 and box.y0 >= 1 and box.x1 <= sheet.width - 1 and box.y1 <= sheet.height - 1
        assert inside, f"{text.get_text()!r} is cropped: {box}"
        assert text.get_fontsize() * 128 / 72 >= 8.0, f"{text.get_text()!r} is too small to read"
    for (one, first), (other, second) in combinations(zip(texts, boxes, strict=True), 2):
        apart = (
            first.x1 <= second.x0 + 0.5
            or second.x1 <= first.x0 + 0.5
            or first.y1 <= second.y0 + 0.5
            or second.y1 <= first.y0 + 0.5
        )
        assert apart, f"{one.get_text()!r} overlaps {other.get_text()!r}"
    for text in texts:
        text.set_visible(False)
    drawn = pixels(sheet)
    paper = np.array([int(PAPER[at : at + 2], 16) for at in (1, 3, 5)])
    for text, box in zip(texts, boxes, strict=True):
        rows = slice(sheet.height - int(np.ceil(box.y1)), sheet.height - int(np.floor(box.y0)))
        under = drawn[rows, int(np.floor(box.x0)) : int(np.ceil(box.x1))]
        assert np.array_equal(under, np.broadcast_to(paper, under.shape)), (
            f"{text.get_text()!r} lies on the drawing"
        )
        text.set_visible(True)


def words_of(sheet: Sheet) -> list[str]:
    return [text.get_text() for text in sheet.axes.texts]
