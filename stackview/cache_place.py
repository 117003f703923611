"""Where things worked out once are kept on disk, so that the next run need not do so again."""

import errno
import os
import stat
from pathlib import Path
from typing import BinaryIO


def cache_folder() -> Path | None:
    """The folder for it: STACKVIEW_CACHE, or the platform's usual place; None if there is none.

    The usual place is platformdirs': XDG_CACHE_HOME if it is an absolute path (XDG Base Directory
    Specification 0.8), else ~/.cache, on macOS ~/Library/Caches, on Windows the local application
    data. The folder is not made here, and need not be one that can be written to.
    """
    own = os.environ.get("STACKVIEW_CACHE")
    if own:
        return Path(own)
    from platformdirs import user_cache_path

    try:
        return user_cache_path("stackview", appauthor=False)
    except RuntimeError:  # no home: HOME is not set and the user is in no list
        return None


def opened_entry(file: Path, most: int) -> BinaryIO:
    """Something kept, opened to be read.

    Raises OSError where it cannot be, and for what is no entry of ours: a pipe or a device, which would be waited for,
    a folder, or a file of more than ``most`` bytes.
    """
    # Without waiting for whoever writes into a pipe; elsewhere than on POSIX there are none among files.
    handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    state = os.fstat(handle)
    if not stat.S_ISREG(state.st_mode) or state.st_size > most:
        os.close(handle)
        raise OSError(errno.EINVAL, "no entry of ours", str(file))
    return os.fdopen(handle, "rb")
