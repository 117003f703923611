"""Several files of one answer, written all or none, and only over files of ours."""

import os
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from stackview.commands.writing import let_all_read
from stackview.errors import OutputError


def write_together(contents: Mapping[Path, bytes], marks: Mapping[str, bytes]) -> None:
    """Write files; first all of them beside their places, then each into its own.

    ``marks`` give for each ending what every file of ours with that ending holds. A folder that was
    not there and was made for them is taken away again where they cannot be written. Raises OutputError
    where the folder does not take them or something that is not ours stands in the way.
    """
    for target in contents:
        _check_place(target, marks[target.suffix])
    beside: dict[Path, Path] = {}
    folders: list[Path] = []
    try:
        for folder in dict.fromkeys(target.parent for target in contents):
            folders += _made(folder)
        for target, content in contents.items():
            handle, name = tempfile.mkstemp(dir=target.parent, prefix=".stackview-", suffix=".part")
            beside[target] = Path(name)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            let_all_read(beside[target])
        with _alone_in({target.parent for target in beside}):
            for target, part in beside.items():
                part.replace(target)
        folders = []
    except OSError as error:
        where = error.filename if isinstance(error.filename, str) and not beside else target
        raise OutputError(
            f"{where}: cannot be written here ({error.strerror or error}); nothing was written: "
            "make room, or choose another folder with --out"
        ) from None
    finally:
        for part in beside.values():
            with suppress(OSError):
                part.unlink(missing_ok=True)
        for folder in reversed(folders):
            with suppress(OSError):
                folder.rmdir()


@contextmanager
def _alone_in(folders: set[Path]) -> Iterator[None]:
    """Hold folders while files go into their places, so that two answers that are written at once never mix.

    By an advisory lock on the folder itself, which leaves nothing behind and ends with the process;
    where the platform has none, or the folder takes none, without it.
    """
    held = []
    try:
        with suppress(ImportError, OSError):
            import fcntl

            for folder in sorted(folders):
                held.append(os.open(folder, os.O_RDONLY))
                fcntl.flock(held[-1], fcntl.LOCK_EX)
        yield
    finally:
        for number in held:
            os.close(number)


def _made(folder: Path) -> list[Path]:
    """Make a folder and those above it; returns the ones that were not there, the uppermost first."""
    missing = []
    above = folder
    while not above.exists():
        missing.append(above)
        above = above.parent
    folder.mkdir(parents=True, exist_ok=True)
    return missing[::-1]


def _check_place(target: Path, mark: bytes) -> None:
    try:
        if os.path.lexists(target) and (target.is_symlink() or not target.is_file()):
            raise OutputError(
                f"{target}: something that is no plain file stands there; move it away, or choose another "
                "folder with --out"
            )
        if target.exists() and not is_marked(target, mark):
            raise OutputError(
                f"{target}: not replaced, because stackview did not write it; move it away, or choose "
                "another folder with --out"
            )
    except OSError as error:
        raise OutputError(
            f"{target}: cannot be written ({error.strerror or error}); choose another folder with --out"
        ) from None


def is_marked(file: Path, mark: bytes) -> bool:
    """Whether a file holds the mark of ours, at its beginning or, in a container, wherever its own words stand."""
    with file.open("rb") as opened:
        content = opened.read(_MOST_READ)
    if content.startswith(_CONTAINERS):
        return mark in content
    return content.startswith(mark)


_MOST_READ = 200_000_000
_CONTAINERS = (b"%PDF-", b"glTF", b"PK\x03\x04")
"""How files begin that keep their words further on: PDF, GLB, and 3MF, which is a ZIP archive."""
