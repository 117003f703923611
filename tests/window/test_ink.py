"""The panels' paper and type: words that fit, signs of the classes, and paper with round corners."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.sight.bands import HIDDEN, Kind
from stackview.window.ink import LONGEST, MARKS, PANEL_PAPER, Slip, font


@pytest.fixture(scope="module")
def slip() -> Slip:
    return Slip(300, 120, 14.0)


@given(st.text(max_size=80), st.floats(20.0, 400.0))
def test_words_that_are_cut_fit(words: str, width: float) -> None:
    slip = Slip(10, 10, 14.0)
    cut = slip.cut(words, width)
    assert slip.long(cut) <= max(width, slip.long("…"))
    if cut != words:
        assert cut.endswith("…")
        assert words.startswith(cut[:-1])


def test_words_without_end_are_cut_at_once(slip: Slip) -> None:
    assert len(slip.cut("w" * 10**6, 10**9)) <= LONGEST + 1


def test_folding_keeps_every_word_while_there_is_room(slip: Slip) -> None:
    words = "To hide three of the bare points move the ring further out"
    lines = slip.folded(words, 200.0, most=9)
    assert " ".join(lines) == words
    assert all(slip.long(line) <= 200.0 for line in lines)
    two = slip.folded(words, 120.0, most=2)
    assert len(two) == 2
    assert two[-1].endswith("…")
    assert slip.folded("", 100.0) == [""]


def test_larger_and_bolder_type_is_longer(slip: Slip) -> None:
    plain = slip.long("light points")
    assert slip.long("light points", bold=True) > plain
    assert slip.long("light points", 2.0) == pytest.approx(2.0 * plain, rel=0.03)
    # Type is never set smaller than can be read.
    assert slip.long("light points", 0.01) == font(7).getlength("light points")


def test_what_is_written_is_kept_as_a_box() -> None:
    slip = Slip(300, 120, 14.0)
    slip.write((20, 60), "bare", bold=True)
    slip.write((280, 60), "hidden", anchor="rs")
    (one, other) = slip.texts
    assert one[0] >= 19
    assert one[3] <= 61
    assert other[2] <= 281
    assert one[2] < other[0]
    changed = np.argwhere((slip.pixels() != Slip(300, 120, 14.0).pixels()).any(axis=2))
    # Nothing is drawn outside the boxes.
    for row, column in changed:
        assert any(
            left - 1 <= column <= right + 1 and top - 1 <= row <= foot + 1
            for left, top, right, foot in slip.texts
        )


def test_paper_has_round_corners_and_is_even_inside() -> None:
    pixels = Slip(120, 80, 16.0).pixels()
    assert pixels.shape == (80, 120, 4)
    assert pixels[0, 0, 3] == pixels[-1, -1, 3] == 0
    # Scaling down rounds by one step of 255 at most.
    assert np.abs(pixels[20:60, 20:100].astype(int) - PANEL_PAPER).max() <= 1
    # The same from every corner.
    assert np.abs(pixels.astype(int) - pixels[:, ::-1]).max() <= 2


@pytest.mark.parametrize("kind", [*Kind, HIDDEN])
def test_signs_have_their_classes_colours(kind: int) -> None:
    slip = Slip(60, 60, 14.0, (0, 0, 0, 255))
    before = slip.pixels().copy()
    slip.mark(kind, (30, 30), 8.0)
    drawn = slip.pixels()
    changed = (drawn != before).any(axis=2)
    assert changed.any()
    rows, columns = np.nonzero(changed)
    # Round its place, no farther than its radius and a pixel or two.
    assert max(abs(rows - 30).max(), abs(columns - 30).max()) <= 11
    strongest = drawn[changed].astype(int)
    assert np.abs(strongest[:, :3] - MARKS[kind][:3]).sum(axis=1).min() <= 6


def test_signs_differ_by_shape_as_well_as_by_colour() -> None:
    shapes = []
    for kind in (*Kind, HIDDEN):
        slip = Slip(60, 60, 14.0, (0, 0, 0, 255))
        before = slip.pixels().copy()
        slip.mark(kind, (30, 30), 8.0)
        shapes.append((slip.pixels() != before).any(axis=2))
    for one in range(len(shapes)):
        for other in range(one):
            assert (shapes[one] != shapes[other]).sum() > 20
