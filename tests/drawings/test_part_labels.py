"""Labels beside parts: sizes are whole, or are not written, and then the picture says so."""

import pytest

from stackview.drawings.chart_style import blank
from stackview.drawings.part_labels import Label, write_labels
from tests.drawings.drawn import check_words, words_of

LONG = "plate-stock (clear acrylic, sanded), .1175 in (2.98 mm) thick, 5.0155 in × 3.797 in (127.39 mm × 96.44 mm)"
CROWDED = [(20, (800, 600)), (24, (1600, 700))]
BRIEF = ("5.0155 in × 3.797 in, .1175 in thick", "plate-stock (clear acrylic, sanded)")


def written(count: int, size: tuple[int, int], *, alike: bool = True, column: float = 0.5) -> list[str]:
    sheet = blank(size)
    high = 0.8 * size[1]
    labels = [
        Label(f"plate {k + 1}", LONG if alike else f"{LONG} {k}", BRIEF, (20.0, 40.0 + high * k / count))
        for k in range(count)
    ]
    write_labels(sheet, labels, column * size[0])
    check_words(sheet)
    return words_of(sheet)


def test_where_there_is_room_each_part_has_all_its_words() -> None:
    words = written(4, (1200, 1000))
    assert " ".join(words).count(LONG) == 4
    assert [word for word in words if word.startswith("plate ")] == [f"plate {k}" for k in range(1, 5)]


def test_parts_alike_are_told_once_where_they_crowd() -> None:
    words = written(12, (900, 480))
    assert " ".join(words).count(LONG) == 1
    assert words.count("as plate 1") == 11


def test_parts_of_their_own_have_one_line_each_where_they_crowd() -> None:
    words = written(16, (1600, 480), alike=False)
    assert [word for word in words if word.startswith(BRIEF[0])] == [", ".join(BRIEF)] * 16


def test_the_material_goes_before_a_size_does() -> None:
    words = written(12, (720, 480), alike=False)
    assert words.count(BRIEF[0]) == 12


@pytest.mark.parametrize("count", [12, 40])
def test_names_stand_alone_where_no_size_fits_and_the_picture_says_so(count: int) -> None:
    words = written(count, (640, 480), alike=False, column=0.7)
    assert "At this size names alone fit: a larger picture has every size." in words
    assert not any("thick" in word or "×" in word for word in words)


@pytest.mark.parametrize(
    ("count", "size"),
    [(9, (640, 480)), *(pytest.param(*one, marks=pytest.mark.slow) for one in CROWDED)],
)
@pytest.mark.parametrize("alike", [True, False])
def test_no_size_is_ever_cut(count: int, size: tuple[int, int], alike: bool) -> None:
    for column in (0.3, 0.5, 0.7):
        words = written(count, size, alike=alike, column=column)
        assert not any("…" in word and "×" in word for word in words)
        told = " ".join(words)
        assert LONG in told or BRIEF[0] in told or "a larger picture has every size." in told
