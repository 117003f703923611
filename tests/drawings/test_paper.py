"""Paper: true millimetres in the PDF, and the boxes of words."""

import re
import zlib

import numpy as np
import pytest

from stackview.curves.corners import circle
from stackview.drawings.paper import (
    BROAD_LINE,
    PAPERS,
    PDF_CREATOR,
    Paper,
    broken_words,
    pdf_bytes,
    words_box,
    words_width,
)


def streams(pdf: bytes) -> list[bytes]:
    found = []
    for match in re.finditer(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            found.append(zlib.decompress(match[1]))
        except zlib.error:
            found.append(match[1])
    return found


def test_a_circle_of_130_mm_is_130_mm_on_the_paper() -> None:
    page = Paper(PAPERS["a4"])
    page.curve(BROAD_LINE, circle(65.0), 1.0, (105.0, 150.0))
    pdf = pdf_bytes([page], "circle")
    assert pdf.startswith(b"%PDF-")
    assert f"/Creator ({PDF_CREATOR})".encode() in pdf
    # ISO 32000-1: user space is points of 1/72 in; curves are "x1 y1 x2 y2 x3 y3 c"
    box = re.search(rb"/MediaBox \[ ?0 0 ([0-9.]+) ([0-9.]+)", pdf)
    assert box is not None
    assert [float(value) * 25.4 / 72.0 for value in box.groups()] == pytest.approx([210.0, 297.0], abs=1e-3)
    body = next(stream for stream in streams(pdf) if b" c\n" in stream or b" c " in stream)
    ends = np.array(
        [[float(a), float(b)] for a, b in re.findall(rb"(-?[0-9.]+) (-?[0-9.]+) (?:m|c)\b", body)]
    ) * 25.4 / 72.0  # fmt: skip
    away = np.hypot(*(ends - np.array((105.0, 150.0))).T)
    away = away[away < 100.0]  # the page's own ground begins in its corner
    assert away == pytest.approx(np.full(len(away), 65.0), abs=2e-4)
    assert len(ends) >= 12


def test_words_are_as_wide_as_their_letters() -> None:
    assert words_width("mm") == pytest.approx(2.0 * words_width("m"), rel=1e-2)
    assert words_width("12.7 mm", 5.0) == pytest.approx(2.0 * words_width("12.7 mm", 2.5))
    left, low, right, high = words_box((10.0, 20.0), "12.7 mm", across="center")
    assert 0.5 * (left + right) == pytest.approx(10.0)
    assert low < 20.0 < 22.5 < high
    # upright words reach to the left of their foot
    left, low, right, _ = words_box((10.0, 20.0), "12.7 mm", turn=90.0)
    assert left < 10.0 - 2.5
    assert low == 20.0
    assert right > 10.0


def test_long_words_are_cut_to_the_width() -> None:
    for width in (5.0, 20.0, 60.0):
        lines = broken_words("a " + "w" * 60 + " and more of it", width)
        assert all(words_width(line) <= width for line in lines)
        assert "".join(lines).replace(" ", "") == "a" + "w" * 60 + "andmoreofit"


def test_the_same_page_gives_the_same_bytes() -> None:
    def made() -> bytes:
        page = Paper(PAPERS["letter"])
        page.write((20.0, 20.0), "once")
        return pdf_bytes([page], "x")

    assert made() == made()
