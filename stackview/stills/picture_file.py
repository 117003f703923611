"""Picture files that stackview knows as its own, and no other file lost."""

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from stackview.errors import OutputError

SOFTWARE = "stackview"
"""The mark in every picture file: in a PNG under its keyword "Software", registered in the PNG
specification (W3C, 3rd ed., 11.3.3.1); in a GIF as its comment extension (GIF89a, 24); in a WebP
as tag 305 "Software" of its Exif chunk (TIFF 6.0, p. 39)."""
SOFTWARE_TAG = 305


def write_picture(content: bytes, target: Path) -> None:
    """Write a picture file; all of it or nothing.

    It is written beside ``target`` first and then takes its place; a missing folder is made.
    Raises OutputError where the folder does not take it, or where another program's file
    stands in its place.
    """
    check_target(target)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        _place(content, target)
    except OSError as trouble:
        raise OutputError(f"{target}: cannot be written ({trouble.strerror or trouble})") from trouble


def check_target(target: Path) -> None:
    """Raise OutputError if something that stackview did not write stands where a picture should go."""
    try:
        taken = os.path.lexists(target)
        if taken and target.is_dir():
            raise OutputError(f"{target}: a folder stands where the picture should go; choose another name")
        if taken and not is_ours(target):
            raise OutputError(
                f"{target}: not replaced, because stackview did not write it; "
                "move it away or choose another name"
            )
    except OSError as trouble:
        raise OutputError(f"{target}: cannot be written ({trouble.strerror or trouble})") from trouble


def is_ours(file: Path) -> bool:
    """Whether a file is a PNG, GIF or WebP that stackview wrote."""
    from PIL import Image

    if not file.is_file():
        return False  # a pipe would be waited for
    try:
        with Image.open(file, formats=["PNG", "GIF", "WEBP"]) as picture:
            if picture.format == "GIF":
                return bool(picture.info.get("comment") == SOFTWARE.encode())
            if picture.format == "WEBP":
                return bool(picture.getexif().get(SOFTWARE_TAG) == SOFTWARE)
            return bool(picture.info.get("Software") == SOFTWARE)
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        # Pillow raises these for what is no picture, a broken one, or one with absurd chunks.
        return False


def _place(content: bytes, target: Path) -> None:
    """Write beside the target, then rename: a rename in one folder is all or nothing."""
    handle, name = tempfile.mkstemp(prefix=".stackview-", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        if os.name == "posix":
            # mkstemp keeps the file to its owner; a picture gets what any new file would get.
            mask = os.umask(0)
            os.umask(mask)
            with suppress(OSError):  # FAT and some shares know no rights
                Path(name).chmod(0o666 & ~mask)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
