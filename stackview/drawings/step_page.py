"""A printed page of steps from white to black, to be photographed: it shows what a camera does to light.

Each step is made of black lines on the paper's white, as broad as its share of black asks
(:mod:`stackview.glow.step_sheet` has the shares, and what printers make of them). Greys would go
through the printer's own curve, which nobody knows.
"""

from stackview.drawings.paper import FINE_LINE, PAPERS, PLAIN_LETTERS, SMALL_LETTERS, Paper
from stackview.glow.step_sheet import DRAWN_SHARES, LINE_PITCH
from stackview.in_figures import percent

_LINES = 43
"""Lines in a step."""
_STEP_WIDTH, _STEP_HEIGHT = _LINES * LINE_PITCH, 44.0
"""Whole lines, so that all begin alike on a printer's dots."""
_ABOVE = 60.0
"""From the page's top to the row of steps [mm]."""
_WORDS = (
    "Steps for stackview finish --steps",
    "Print at 100%, black only, on matt white paper, at the printer's best quality.",
    "Light it evenly: by a clouded sky, or a lamp far off. Photograph it from 1 m or more, so that the lines",
    "run together, with the camera, mode and settings that the spot was or will be photographed with.",
    "Cut out of the photograph the row of steps alone, from white to black: the two marks above it",
    "show where it ends. Save it as PNG.",
    "What a printer does: it draws lines a little too broad, and its black gives back some light. The fit",
    "takes both as unknown, and adds them to the error that it tells.",
)


def draw_step_page(paper: str) -> Paper:
    """Draw the page; ``paper`` is one of ``PAPERS``."""
    size = PAPERS[paper]
    page = Paper(size)
    left = (size.width - _STEP_WIDTH * len(DRAWN_SHARES)) / 2.0
    top = size.height - _ABOVE
    for number, share in enumerate(DRAWN_SHARES):
        start = left + number * _STEP_WIDTH
        broad, lines = share * LINE_PITCH, _LINES
        if share == 1.0:
            broad, lines = _STEP_WIDTH, 1
        for line in range(lines if share > 0.0 else 0):
            at = start + line * LINE_PITCH
            page.fill(
                "#000000",
                [(at, top - _STEP_HEIGHT), (at + broad, top - _STEP_HEIGHT), (at + broad, top), (at, top)],
            )
        page.write((start + _STEP_WIDTH / 2.0, top - _STEP_HEIGHT - 5.0), percent(share), across="center")
    # Where the row ends: white paper shows no edge of its own.
    for end in (left, left + _STEP_WIDTH * len(DRAWN_SHARES)):
        page.lines(FINE_LINE, [[(end, top + 2.0), (end, top + 8.0)]])
    for number, words in enumerate(_WORDS):
        tall = PLAIN_LETTERS if number == 0 else SMALL_LETTERS
        page.write((left, top - _STEP_HEIGHT - 16.0 - 5.0 * number), words, tall=tall, bold=number == 0)
    return page
