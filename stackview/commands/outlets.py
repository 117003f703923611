"""Standard output and error as they may be: closed, full, read by nobody, in an old encoding.

What cannot be written is remembered and told once, at the end; commands that write files go on
with them, for those are wanted whether or not anybody reads along.
"""

import errno
import io
import os
import sys
from typing import Any, TextIO, cast

from stackview.commands.plain_words import WRITTEN_PLAINLY

_NOBODY = {errno.EPIPE, errno.ESHUTDOWN, errno.ECONNRESET}


class OutletError(Exception):
    """Standard output takes nothing more, and the command has nothing else to do."""


class _Outlet(io.FileIO):
    """An open file that takes what is written to it after a failure too, and keeps the failure."""

    trouble: OSError | None = None
    goes_on = True

    def write(self, data: Any, /) -> int:
        if self.trouble is None:
            try:
                return super().write(data) or 0
            except OSError as trouble:
                self.trouble = trouble
        if not self.goes_on:
            self.goes_on = True  # raised once; what is still held back for writing is dropped
            raise OutletError from self.trouble
        return memoryview(data).nbytes


_outlets: dict[str, _Outlet] = {}


def open_outlets() -> None:
    """Put streams that never fail in place of standard output and error; closed ones are kept from being reused."""
    closed = [number for number in (0, 1, 2) if _is_closed(number)]
    while closed and os.open(os.devnull, os.O_RDWR) < 2:
        pass
    for name, number in (("stdout", 1), ("stderr", 2)):
        stream: TextIO | None = getattr(sys, name)
        if number in closed or stream is None:
            outlet = _Outlet(os.open(os.devnull, os.O_WRONLY), "wb")
            outlet.trouble = OSError(errno.EBADF, os.strerror(errno.EBADF))
            encoding = "utf-8"
        elif _is_file(stream):
            stream.flush()
            outlet = _Outlet(number, "wb", closefd=False)
            encoding = stream.encoding
        else:  # a console of its own kind: it knows no other encoding, and cannot be full
            cast(io.TextIOWrapper, stream).reconfigure(errors=WRITTEN_PLAINLY)
            continue
        _outlets[name] = outlet
        # whole blocks for a pipe, whole lines for a person and for what went wrong
        by_line = name == "stderr" or outlet.isatty()
        buffered = io.BufferedWriter(outlet)
        setattr(sys, name, io.TextIOWrapper(buffered, encoding, WRITTEN_PLAINLY, line_buffering=by_line))


def read_on(goes_on: bool) -> None:
    """Whether a command goes on with its files where standard output takes nothing more."""
    if "stdout" in _outlets:
        _outlets["stdout"].goes_on = goes_on


def last_words(code: int) -> int:
    """Write what is held back, and say what could not be written; returns the exit code that comes of it."""
    read_on(True)
    sys.stdout.flush()
    outlet = _outlets.get("stdout")
    trouble = None if outlet is None else outlet.trouble
    if trouble is not None and trouble.errno not in _NOBODY and code in (0, 1):
        why = "it is closed" if trouble.errno == errno.EBADF else trouble.strerror or str(trouble)
        sys.stderr.write(
            f"standard output takes no more ({why}): what was printed is not whole; what went into files is\n"
        )
        code = 2
    sys.stderr.flush()
    return code


def _is_file(stream: TextIO) -> bool:
    buffer = getattr(stream, "buffer", None)
    return isinstance(getattr(buffer, "raw", buffer), io.FileIO)  # unbuffered, the file itself is the buffer


def _is_closed(number: int) -> bool:
    try:
        os.fstat(number)
    except OSError:
        return True
    return False
