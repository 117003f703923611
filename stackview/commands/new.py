"""``stackview new``: a commented starter lamp."""

import sys
from pathlib import Path
from shlex import quote
from typing import Annotated

from cyclopts import Parameter

from stackview.errors import OutputError


def new(file: Annotated[Path, Parameter(help="The file to write; it must not exist yet.")], /) -> int:
    """Write a starter lamp that already works, to change number by number."""
    from stackview.commands.writing import write_new_text
    from stackview.description.starter import starter_text

    if not file.name or file.is_dir():
        raise OutputError(
            f"{file}: is a folder; give the name of a file to write, such as {file / 'lamp.toml'}"
        )
    target = file if file.suffix else file.with_suffix(".toml")
    write_new_text(target, starter_text())
    sys.stdout.write(f"Wrote {target}. Change a number, then: stackview preview {quote(str(target))}\n")
    return 0
