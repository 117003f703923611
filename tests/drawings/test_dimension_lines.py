"""Dimension lines: each label written once, none over another, in rows from the part outwards."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.drawings.dimension_lines import Measure, Rows, draw_measures
from stackview.drawings.label_room import LabelRoom, meets
from stackview.drawings.paper import PAPERS, Paper, words_width

WHOLE = (0.0, 0.0, 210.0, 297.0)


def drawn(rows: Rows, measures: list[Measure]) -> tuple[Paper, list[str]]:
    paper = Paper(PAPERS["a4"])
    return paper, draw_measures(paper, LabelRoom(WHOLE), rows, measures)


def test_nested_lengths_stand_one_row_apart_with_labels_in_their_middle() -> None:
    measures = [
        Measure(100.0 - half, 100.0 + half, (150.0, 150.0), f"{2 * half:.0f} mm") for half in (60, 30, 45)
    ]
    paper, left = drawn(Rows(True, 140.0, -7.0), measures)
    assert not left
    assert [words for words, _ in paper.boxes] == ["60 mm", "90 mm", "120 mm"]
    for k, (words, (x0, y0, x1, _)) in enumerate(paper.boxes):
        assert abs(0.5 * (x0 + x1) - 100.0) < 1e-9
        assert abs(x1 - x0 - words_width(words)) < 1e-9
        # above its line
        assert 140.0 - 7.0 * k < y0 + 0.9 < 140.0 - 7.0 * k + 2.0


def test_a_label_wider_than_its_length_stands_outside() -> None:
    paper, left = drawn(Rows(True, 140.0, -7.0), [Measure(100.0, 102.0, (150.0, 150.0), "2 mm")])
    assert not left
    ((_, box),) = paper.boxes
    assert box[0] > 102.0


def test_a_short_upright_length_has_its_label_level_beside_it() -> None:
    paper, left = drawn(Rows(False, 120.0, 7.0), [Measure(100.0, 103.0, (110.0, 110.0), "3.175 mm")])
    assert not left
    ((_, (x0, y0, x1, y1)),) = paper.boxes
    assert x0 > 120.0
    assert x1 - x0 > y1 - y0
    assert abs(0.5 * (y0 + y1) - 101.5) < 0.5


def test_what_finds_no_room_is_told() -> None:
    paper = Paper(PAPERS["a4"])
    room = LabelRoom((0.0, 0.0, 20.0, 20.0))
    assert draw_measures(
        paper, room, Rows(True, 10.0, -7.0), [Measure(2.0, 9.0, (12.0, 12.0), "1234.5 mm")]
    ) == ["1234.5 mm"]
    assert not paper.boxes


@given(
    spans=st.lists(
        st.tuples(st.floats(40.0, 150.0), st.floats(0.5, 50.0)), min_size=1, max_size=7, unique=True
    ),
    level=st.booleans(),
)
@settings(max_examples=60, deadline=None)
def test_random_lengths_never_collide(spans: list[tuple[float, float]], level: bool) -> None:
    measures = [Measure(at, at + size, (130.0, 130.0), f"{size:.2f} mm") for at, size in spans]
    paper, left = drawn(Rows(level, 122.0, -7.0), measures)
    assert len(paper.boxes) + len(left) == len(measures)
    for (_, a), (_, b) in itertools.combinations(paper.boxes, 2):
        assert not meets(a, b)
