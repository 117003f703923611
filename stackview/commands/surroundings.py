"""Settings of the shell that would trip a library up, and none of which is about lamps."""

import logging
import os
import re

_WIDTHS = range(40, 1001)
"""Columns that tables can be laid out in."""


def mend_surroundings() -> None:
    """Take away nonsense that libraries stumble over. Pictures are drawn in memory, whatever MPLBACKEND says."""
    os.environ["MPLBACKEND"] = "agg"
    # it tells of folders in HOME that it cannot use, and then does without them
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    for name, sound in (("COLUMNS", _WIDTHS), ("LINES", range(5, 1001))):
        written = os.environ.get(name)
        if written is not None and not (re.fullmatch("[0-9]{1,4}", written) and int(written) in sound):
            del os.environ[name]
