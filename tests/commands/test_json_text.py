"""JSON says the same in every encoding."""

import io
import json

import pytest

from stackview.commands.json_text import json_text

VALUE = {"name": "café 月", "angle": "35°", "z": [1.5, None]}


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-8", "UTF_8", "utf8"])
def test_every_encoding_carries_it_whole(encoding: str) -> None:
    out = io.TextIOWrapper(io.BytesIO(), encoding, "strict")
    out.write(json_text(VALUE, out))
    out.flush()
    assert json.loads(out.buffer.getvalue().decode(encoding)) == VALUE  # type: ignore[attr-defined]


def test_utf_8_stays_readable() -> None:
    assert "35°" in json_text(VALUE, io.StringIO())
    assert json_text([1], io.StringIO(), indent=2) == "[\n  1\n]"


def test_no_number_that_json_lacks() -> None:
    with pytest.raises(ValueError, match="JSON"):
        json_text(float("nan"), io.StringIO())
