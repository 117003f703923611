"""Values as JSON in whatever encoding the output has."""

import json
from typing import Any, TextIO


def json_text(value: Any, out: TextIO, *, indent: int | None = None) -> str:
    r"""A value as JSON text for ``out``: as it is in UTF-8 (RFC 8259, 8.1), with escapes in any lesser encoding.

    >>> import io
    >>> json_text("1°", io.TextIOWrapper(io.BytesIO(), "latin-1")), json_text("1°", io.StringIO())
    ('"1\\u00b0"', '"1°"')
    """
    encoding = (getattr(out, "encoding", None) or "utf-8").lower().replace("_", "-")
    return json.dumps(value, ensure_ascii=encoding not in ("utf-8", "utf8"), allow_nan=False, indent=indent)
