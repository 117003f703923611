"""Writing text files: finished beside the target, then renamed; never over somebody's work."""

import os
import tempfile
from pathlib import Path

from stackview.errors import OutputError


def write_new_text(target: Path, text: str) -> None:
    """Write a file that must not exist yet; one that already holds this very text is left alone.

    Raises OutputError where something else is there, or the folder cannot be written to.
    """
    try:
        if target.exists() or target.is_symlink():
            if target.is_file() and target.read_text(encoding="utf-8", errors="replace") == text:
                return
            raise OutputError(
                f"{target}: there is already something of that name, and it is not replaced; choose another name"
            )
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as out:
                out.write(text)
            Path(beside).chmod(0o644)
            # A link, unlike a rename, never replaces what has come to stand there meanwhile.
            os.link(beside, target)
        finally:
            Path(beside).unlink(missing_ok=True)
    except OSError as error:
        raise OutputError(
            f"{target}: cannot be written here ({error.strerror or error}); choose another folder"
        ) from None
