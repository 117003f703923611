"""Writing text files: finished beside the target, then renamed; never over somebody's work."""

import os
import tempfile
from contextlib import suppress
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
            raise _taken(target)
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as out:
                out.write(text)
            let_all_read(Path(beside))
            _put_in_place(Path(beside), target)
        finally:
            Path(beside).unlink(missing_ok=True)
    except OSError as error:
        raise OutputError(
            f"{target}: cannot be written here ({error.strerror or error}); choose another folder"
        ) from None


def let_all_read(file: Path) -> None:
    """Give a file that only its owner may read the usual rights, where the disk knows of such."""
    with suppress(OSError):
        file.chmod(0o644)


def _put_in_place(beside: Path, target: Path) -> None:
    """Give a finished file its name; raises OutputError where something has come to stand there meanwhile.

    A link never replaces anything. Disks that have none (FAT, many network shares) first get an empty
    file of that name, which only one of several can make, and the finished one in place of it.
    """
    try:
        os.link(beside, target)
    except FileExistsError:
        raise _taken(target) from None
    except OSError:
        _reserve_and_replace(beside, target)


def _reserve_and_replace(beside: Path, target: Path) -> None:
    try:
        os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        raise _taken(target) from None
    try:
        if target.stat().st_size:
            raise _taken(target)
        beside.replace(target)
    except BaseException:
        with suppress(OSError):
            if not target.stat().st_size:
                target.unlink()
        raise


def _taken(target: Path) -> OutputError:
    return OutputError(
        f"{target}: there is already something of that name, and it is not replaced; choose another name"
    )


def check_ours(target: Path, head: str) -> None:
    """Raise OutputError where something stands that does not begin as our files of that kind do."""
    try:
        if target.is_symlink() or (target.exists() and not _is_ours(target, head)):
            raise OutputError(
                f"{target}: not replaced, because stackview did not write it; "
                "move it away or choose another name"
            )
    except OSError as error:
        raise OutputError(f"{target}: cannot be written ({error.strerror or error})") from None


def write_ours(target: Path, text: str, head: str) -> None:
    """Write a text file that begins with ``head``, in place of one of ours if there is one.

    Line ends stay as they are in ``text``. Raises OutputError as :func:`check_ours` does.
    """
    check_ours(target, head)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
        beside = Path(name)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
                out.write(text)
            let_all_read(beside)
            beside.replace(target)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        raise OutputError(
            f"{target}: cannot be written here ({error.strerror or error}); choose another folder"
        ) from None


def _is_ours(target: Path, head: str) -> bool:
    if not target.is_file():
        return False
    with target.open("rb") as file:
        return file.read(len(head.encode())) == head.encode()
