"""How a value of ours shows itself in a notebook: a title over a small table of plain words."""

from collections.abc import Iterable
from html import escape

_CELL = "text-align:left;vertical-align:top"


def html_table(title: str, rows: Iterable[tuple[str, str]]) -> str:
    """Rows of a name and what there is to say, as HTML; whatever a file may hold is escaped.

    >>> html_table("<Lamp>", [("height", "162 mm")]).count("&lt;Lamp&gt;")
    1
    """
    lines = [
        f'<tr><th style="{_CELL}">{escape(name)}</th><td style="{_CELL}">{escape(what)}</td></tr>'
        for name, what in rows
    ]
    return f"<table><caption>{escape(title)}</caption>{''.join(lines)}</table>"
