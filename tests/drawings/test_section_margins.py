"""Round the section: what gives way where there is no room, and the key that says the rest."""

from dataclasses import replace

import pytest

from stackview.drawings.chart_style import INK, KIND_COLOURS, Sheet, blank, text_width
from stackview.drawings.section_margins import (
    LIGHT,
    EdgeLabel,
    LayerName,
    draw_edge_labels,
    draw_names,
    edge_width,
    key_lines,
    key_rows,
    legend_entries,
    letter,
    names_width,
)
from stackview.drawings.section_rays import SectionRays, Wedge
from stackview.sight.bands import Kind
from tests.drawings.drawn import check_words, words_of
from tests.lamps import box

FRAME = (260.0, 90.0, 720.0, 520.0)
WEDGE = Wedge(
    Kind.BARE, (0.0, 20.0), -10.0, 25.0, "ring 1, top", "ring 2, underside", None, None, 0, (-10.0, 25.0)
)
LABEL = EdgeLabel("+12.0°", INK, (720.0, 300.0), "right", None, 0)


@pytest.fixture
def sheet() -> Sheet:
    return blank((1000, 640))


def rays(*wedges: Wedge) -> SectionRays:
    return SectionRays(0.0, None, 0.0, wedges, 0, {})  # type: ignore[arg-type]


def test_columns_are_as_wide_as_their_words_up_to_a_fifth_of_the_sheet(sheet: Sheet) -> None:
    assert names_width(sheet, []) == edge_width(sheet, []) == 4.0 * sheet.em
    assert names_width(sheet, ["lid", "base plate"]) == pytest.approx(
        text_width(sheet, "base plate", 0.85) + 4.0 * sheet.em
    )
    assert names_width(sheet, ["a very long name " * 9]) == pytest.approx(200.0 + 4.0 * sheet.em)
    assert edge_width(sheet, [LABEL]) == pytest.approx(text_width(sheet, "+12.0°", 0.85) + 4.0 * sheet.em)


def test_names_stand_in_the_order_of_their_heights(sheet: Sheet) -> None:
    names = [LayerName(f"ring {k}", (300.0, 480.0 - 40.0 * k)) for k in range(8)]
    draw_names(sheet, FRAME, names)
    check_words(sheet)
    heights = {text.get_text(): text.get_position()[1] for text in sheet.axes.texts}
    assert sorted(heights, key=lambda name: -heights[name]) == [f"ring {k}" for k in range(8)]


def test_names_without_room_are_counted(sheet: Sheet) -> None:
    names = [LayerName(f"plate {k}", (300.0, 100.0 + 2.0 * k)) for k in range(200)]
    draw_names(sheet, FRAME, names)
    check_words(sheet)
    words = words_of(sheet)
    named = [word for word in words if word.startswith("plate ")]
    assert f"{200 - len(named)} not named" in words
    # The outermost keep their names.
    assert {"plate 0", "plate 199"} <= set(named)


def test_what_ranks_last_gives_way_first(sheet: Sheet) -> None:
    crowd = [replace(LABEL, words=f"+{rank}.0°", at=(720.0, 300.0), rank=rank) for rank in range(90)]
    kept = draw_edge_labels(sheet, FRAME, crowd)
    assert 0 < len(kept) < 90
    assert [label.rank for label in kept] == list(range(len(kept)))
    check_words(sheet)


def test_labels_of_all_three_sides_are_kept_where_there_is_room(sheet: Sheet) -> None:
    some = (
        LABEL,
        replace(LABEL, words="+80.0°", at=(500.0, 520.0), side="top"),
        replace(LABEL, words="−70.0°", at=(400.0, 90.0), side="bottom"),
        replace(LABEL, words="standing", at=(720.0, 450.0), towards=(0.8, 0.6), rank=1),
    )
    kept = draw_edge_labels(sheet, FRAME, some)
    assert set(kept) == set(some)
    assert set(words_of(sheet)) == {label.words for label in some}


def test_the_key_says_elevations_only_where_the_frame_does_not() -> None:
    (row,) = key_rows(rays(WEDGE), set())
    assert row == ("A", "bare −10.0° to +25.0°, between ring 1, top and ring 2, underside")
    (told,) = key_rows(rays(WEDGE), {(0, "low"), (0, "high")})
    assert told == ("A", "bare between ring 1, top and ring 2, underside")
    (half,) = key_rows(rays(WEDGE), {(0, "low")})
    assert half == row


def test_points_that_are_alike_are_counted_with_their_reach() -> None:
    (row,) = key_rows(rays(replace(WEDGE, alike=3, reach=(-12.0, 30.0))), set())
    assert row[1].endswith("; 3 more alike, −12.0° to +30.0° in all")


def test_wedges_are_lettered() -> None:
    assert [letter(index) for index in range(3)] == ["A", "B", "C"]


def test_key_lines_fold_and_are_cut_to_the_room(sheet: Sheet) -> None:
    rows = [(letter(k), "a long row of words " * 12) for k in range(3)]
    free = key_lines(sheet, rows)
    assert [name for name, _ in free] == ["A", "", "B", "", "C", ""]
    tight = key_lines(sheet, rows, room=3)
    assert [name for name, _ in tight] == ["A", "B", "C"]
    room = sheet.width - 4.2 * sheet.em
    assert all(text_width(sheet, words, 0.85) <= room for _, words in (*free, *tight))
    assert key_lines(sheet, []) == []


def test_the_legend_names_each_look_once_and_breaks_before_the_edge(sheet: Sheet) -> None:
    parts = [box(f"part {k}", (0, 0, k), (10, 10, k + 1)) for k in range(5)]
    plates = [box("plate", (0, 0, 9), (1, 1, 10), "clear"), box("lid", (0, 0, 10), (1, 1, 11), "opal")]
    entries = legend_entries(sheet, [*parts, *plates])
    samples = [sample for _, sample, _, _ in entries]
    assert samples[: len(KIND_COLOURS)] == list(KIND_COLOURS)
    assert samples[len(KIND_COLOURS) : len(KIND_COLOURS) + 2] == [LIGHT, INK]
    # Five parts of one wood are one entry.
    assert len(entries) == len(KIND_COLOURS) + 2 + 3
    for words, _, left, _ in entries:
        assert left + 2.0 * sheet.em + text_width(sheet, words, 0.85) <= sheet.width
    rows = [row for _, _, _, row in entries]
    assert rows == sorted(rows)
    narrow = legend_entries(blank((640, 480)), [*parts, *plates])
    assert max(row for *_, row in narrow) >= max(rows)
