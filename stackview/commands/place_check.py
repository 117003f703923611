"""Whether files can go where they are wanted, asked before the work that makes them."""

import os
import shutil
import tempfile
from pathlib import Path

from stackview.errors import OutputError

_LEAST_ROOM = 1_000_000
"""Bytes that have to be free: hardly any answer of pictures or drawings takes less."""


def check_folder(folder: Path, instead: str = "choose another with --out") -> None:
    """Raise OutputError where a folder, or the nearest one above it that is there, cannot take files.

    The folder is asked by a file without a name (with one that is gone at once, where the platform has
    none without), for rights alone do not tell of read-only disks, shares and quotas. Nothing is left
    there. What can only be known while writing is told then.
    """
    try:
        above = folder
        while not os.path.lexists(above) and above != above.parent:
            above = above.parent
        if not above.is_dir():
            what = "is a file, not a folder" if above.exists() else "leads nowhere"
            raise OutputError(f"{above}: cannot be written into, for it {what}; {instead}")
        _try_file(above, instead)
        free = shutil.disk_usage(above).free
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise OutputError(f"{folder}: cannot be written to ({why}); {instead}") from None
    if free < _LEAST_ROOM:
        raise OutputError(
            f"{above}: its disk has {free / 1e6:.1f} MB left, and at least {_LEAST_ROOM / 1e6:.0f} MB is needed; "
            f"make room, or {instead}"
        )


def _try_file(folder: Path, instead: str) -> None:
    try:
        with tempfile.TemporaryFile(dir=folder):
            pass
    except PermissionError:
        raise OutputError(f"{folder}: cannot be written into; make it writable, or {instead}") from None
    except OSError as error:
        raise OutputError(
            f"{folder}: cannot be written into ({error.strerror or error}); {instead}"
        ) from None
