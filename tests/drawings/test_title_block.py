"""The title block: what a drawing has to say of itself."""

from dataclasses import replace

from stackview.description.units import Units
from stackview.drawings.paper import PAPERS, Paper, words_width
from stackview.drawings.title_block import (
    draw_bar,
    draw_table,
    draw_title,
    scale_words,
    table_lines,
    title_height,
    title_rows,
)
from tests.drawings.sheets import check_page, full_sheet, note_of


def test_what_it_says() -> None:
    cells = {word: value for row in title_rows(full_sheet(), note_of()) for word, value, _ in row}
    assert cells["part"] == "body"
    assert cells["pieces for one lamp"] == "1"
    assert cells["thickness"] == "18 mm"
    assert cells["grain"] == "left to right"
    assert cells["cut from"] == "top and underside: turn it over once"
    assert cells["scale (ISO 5455)"] == "1:1 (true size)"
    assert cells["page"] == "1 of 3"
    over = replace(full_sheet(), count=3, turned_over=("ring 2",))
    cells = {word: value for row in title_rows(over, note_of()) for word, value, _ in row}
    assert cells["pieces for one lamp"] == "3; turned over in the stack: ring 2"


def test_every_row_fills_the_width() -> None:
    assert all(
        abs(sum(share for _, _, share in row) - 1.0) < 1e-9 for row in title_rows(full_sheet(), note_of())
    )


def test_a_long_value_makes_its_row_taller_and_nothing_collides() -> None:
    sheet = replace(full_sheet(), title="ring of many names " * 8)
    page = Paper(PAPERS["a4"])
    draw_title(page, title_rows(sheet, note_of()), (8.0, 8.0), 194.0)
    check_page(page)
    assert title_height(title_rows(sheet, note_of()), 194.0) > title_height(
        title_rows(full_sheet(), note_of()), 194.0
    )


def test_the_table_breaks_its_rows() -> None:
    lines = table_lines(["short", "a long row " * 12], 80.0)
    assert [number for number, _ in lines[:3]] == ["1", "2", ""]
    assert all(words_width(words) <= 74.0 for _, words in lines)
    page = Paper(PAPERS["a4"])
    draw_table(page, lines, (10.0, 200.0))
    check_page(page)


def test_the_bar_is_a_round_length_in_the_lamps_unit() -> None:
    for unit, long, said in (("mm", 50.0, "50 mm"), ("in", 50.8, "2 in"), ("cm", 50.0, "5 cm")):
        page = Paper(PAPERS["a4"])
        draw_bar(page, Units(unit), (20.0, 50.0))
        (_, _, line, _), *_ = page.strokes
        assert abs(line[1, 0] - line[0, 0] - long) < 1e-9
        assert page.boxes[0][0].startswith(said)


def test_scales_in_words() -> None:
    assert [scale_words(scale) for scale in (50.0, 1.0, 0.5, 0.2, 0.05)] == [
        "50:1",
        "1:1",
        "1:2",
        "1:5",
        "1:20",
    ]
