"""Where things worked out once are kept on disk, so that the next run need not do so again."""

import os
from pathlib import Path


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
