"""Where things worked out once are kept on disk, so that the next run need not do so again."""

import os
import sys
from pathlib import Path


def cache_folder() -> Path | None:
    """The folder for it: STACKVIEW_CACHE, or the platform's usual place; None if there is none.

    XDG Base Directory Specification 0.8: XDG_CACHE_HOME, which must be an absolute path, else
    ~/.cache. On macOS ~/Library/Caches, on Windows %LOCALAPPDATA%.
    """
    own = os.environ.get("STACKVIEW_CACHE")
    if own:
        return Path(own)
    place = os.environ.get("XDG_CACHE_HOME", "")
    if place and Path(place).is_absolute():
        return Path(place) / "stackview"
    try:
        if sys.platform == "darwin":
            return Path.home() / "Library" / "Caches" / "stackview"
        if sys.platform == "win32":
            local = os.environ.get("LOCALAPPDATA")
            return Path(local) / "stackview" / "Cache" if local else None
        return Path.home() / ".cache" / "stackview"
    except RuntimeError:
        return None
