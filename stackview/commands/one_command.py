"""Runs one command, and turns whatever ends it into an exit code and words for the maker."""

import sys
from collections.abc import Sequence

from stackview.commands.outlets import OutletError, read_on
from stackview.commands.plain_words import control_shown, has_controls
from stackview.commands.stopping import STOPPED, Stopped, asked_to_stop
from stackview.errors import StackviewError


def run_command(argv: Sequence[str]) -> int:
    """Run the command that ``argv`` names; returns 0, 1 for findings, 2 for what could not be done, 130 if stopped.

    Exit code 1 comes from a command alone: it means a finding, and never that something failed.
    """
    try:
        return _result(argv)
    except KeyboardInterrupt:
        return _stopped()
    except StackviewError as error:
        return _stopped() if asked_to_stop() else _refused(str(error))
    except OutletError:
        return 0  # whether that is anybody's fault is told with the last words
    except MemoryError as error:
        return _stopped() if asked_to_stop() else _refused(_no_memory(error))
    except Exception as error:
        return _stopped() if asked_to_stop() else _unforeseen(error, argv)


def _result(argv: Sequence[str]) -> int:
    for written in argv:
        if has_controls(written):
            return _refused(
                f'"{control_shown(written)[:200]}" holds control characters, which no name here may: '
                "type it anew, or rename the file"
            )
    from cyclopts import CycloptsError, UnusedCliTokensError

    from stackview.commands.every_command import ONLY_PRINT, app

    read_on(not argv or argv[0] not in ONLY_PRINT)
    try:
        result = app(list(argv), exit_on_error=False, print_error=False, result_action="return_value")
    except UnusedCliTokensError as error:
        more = [f'"{word}"' for word in error.unused_tokens or ()]
        are = "are words" if len(more) > 1 else "is a word"
        return _refused(f"{', '.join(more)} {are} too many: see stackview {argv[0]} --help")
    except CycloptsError as error:
        return _refused(f"{' '.join(str(error).split())} See stackview --help.")
    sys.stdout.flush()
    return result if isinstance(result, int) else 0


def _refused(what: str) -> int:
    """Say what is wrong, line by line, with nothing in it that a terminal would obey."""
    print(*map(control_shown, what.split("\n")), sep="\n", file=sys.stderr)
    return 2


def _stopped() -> int:
    why = asked_to_stop() or Stopped.BY_KEY
    print(STOPPED, file=sys.stderr)
    return why.exit_code


def _no_memory(error: MemoryError) -> str:
    more = f" ({error})" if str(error) else ""
    return f"there is not enough memory for this{more}; nothing half-written is left: close other programs, or ask for less"


def _unforeseen(error: Exception, argv: Sequence[str]) -> int:
    from stackview.commands.mishap import told
    from stackview.commands.missing_library import missing_library

    missing = missing_library(error) if isinstance(error, ImportError) else None
    return _refused(missing or told(error, argv))
