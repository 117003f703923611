"""The page of steps: as much black in each as it says, within the paper's margins, and its words below it."""

import numpy as np
import pytest

from stackview.drawings.paper import PAPERS, pdf_bytes
from stackview.drawings.step_page import draw_step_page
from stackview.glow.step_sheet import DRAWN_SHARES, LINE_PITCH

PRINTERS_MARGIN = 6.0
"""What office printers leave white [mm] (common practice)."""


@pytest.mark.parametrize("paper", list(PAPERS))
def test_each_step_has_its_share_of_black_and_fits_the_paper(paper: str) -> None:
    page, size = draw_step_page(paper), PAPERS[paper]
    corners = np.array([places for _, places in page.filled])
    low, high = corners.min(axis=(0, 1)), corners.max(axis=(0, 1))
    assert low[0] > PRINTERS_MARGIN
    assert high[0] < size.width - PRINTERS_MARGIN
    # White is paper alone, so the row begins one step before the first line.
    width = (high[0] - low[0]) / (len(DRAWN_SHARES) - 1)
    areas = (corners[:, 2, 0] - corners[:, 0, 0]) * (corners[:, 2, 1] - corners[:, 0, 1])
    step = ((corners[:, 0, 0] - low[0] + 1e-6) // width).astype(int) + 1
    for number, share in enumerate(DRAWN_SHARES):
        assert areas[step == number].sum() == pytest.approx(share * width * (high[1] - low[1]), rel=1e-6)
    broad = corners[step == 2]
    assert np.diff(np.sort(broad[:, 0, 0])) == pytest.approx(np.full(len(broad) - 1, LINE_PITCH))


@pytest.mark.parametrize("dots", [600, 1200])
@pytest.mark.parametrize("shifted", [0.0, 0.3, 0.9])
def test_a_printer_of_whole_dots_makes_all_lines_broader_alike(dots: int, shifted: float) -> None:
    # It blackens every dot that a line touches (PDF's rule, ISO 32000); the fit knows one gain for all steps.
    dot = 25.4 / dots
    corners = np.array([places for _, places in draw_step_page("a4").filled])
    left, right = corners[:-1, 0, 0], corners[:-1, 2, 0]  # the last is black all over
    begins = np.floor((left - left[0]) / dot + shifted + 1e-6)
    ends = np.ceil((right - left[0]) / dot + shifted - 1e-6)
    gain = (ends - begins) * dot - (right - left)
    assert np.ptp(gain) < 1e-6
    assert gain[0] == pytest.approx(dot if shifted else 0.0, abs=1e-6)


def test_words_stand_on_the_page_and_none_over_another() -> None:
    page = draw_step_page("letter")
    boxes = [box for _, box in page.boxes]
    for number, (left, low, right, high) in enumerate(boxes):
        assert left > PRINTERS_MARGIN
        assert right < PAPERS["letter"].width - PRINTERS_MARGIN
        assert low > PRINTERS_MARGIN
        for a, b, c, d in boxes[:number]:
            assert right <= a or c <= left or high <= b or d <= low


def test_it_is_a_pdf_of_one_page() -> None:
    content = pdf_bytes([draw_step_page("a4")], "steps")
    assert content.startswith(b"%PDF-")
    assert content.count(b"/Type /Page ") == 1
