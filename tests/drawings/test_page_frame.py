"""Pages on which a long table goes on."""

from stackview.drawings.page_frame import continued_pages
from stackview.drawings.paper import PAPERS
from stackview.drawings.title_block import title_rows
from tests.drawings.sheets import check_page, full_sheet, note_of


def test_a_long_table_takes_as_many_pages_as_it_needs() -> None:
    rows = [f"row {k} of a long table" for k in range(120)]
    pages = list(continued_pages(rows, title_rows(full_sheet(), note_of()), PAPERS["a4"]))
    assert len(pages) == 3
    said = [words for page in pages for words, _ in page.boxes]
    assert [word for word in said if word.startswith("row ")] == rows
    for page in pages:
        check_page(page)
