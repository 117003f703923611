"""Small tables for notebooks."""

from html.parser import HTMLParser

from stackview.notebook import html_table


class Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:  # noqa: ARG002
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def test_a_reader_gets_back_what_was_said() -> None:
    given = [("height", "6-3/8 in"), ('eye "<script>"', "a & b")]
    reader = Words()
    reader.feed(html_table("Lamp <1>", given))
    assert reader.words == ["Lamp <1>", *(word for row in given for word in row)]
    assert set(reader.tags) == {"table", "caption", "tr", "th", "td"}
