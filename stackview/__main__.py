"""The command line: ``stackview COMMAND``.

Exit codes: 0 fine, 1 findings, 2 could not do it, 130 and 143 stopped. Nothing is imported before
the guards stand, so that a key pressed in the first moments stops as quietly as a later one.
"""

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import NoReturn


def main(argv: "Sequence[str] | None" = None) -> int:
    """Run one command in this process; returns the exit code.

    Whatever goes wrong ends in words on standard error, one line for each fault, and exit code 2.
    """
    from stackview.commands.one_command import run_command

    return run_command(sys.argv[1:] if argv is None else argv)


def program() -> "NoReturn":
    """The program as it is installed: its guards, one command, the last flush, and the end of the process."""
    try:
        from stackview.commands.stopping import quiet_end, stop_on_signals

        stop_on_signals()
        from stackview.commands.outlets import last_words, open_outlets
        from stackview.commands.surroundings import mend_surroundings

        mend_surroundings()
        open_outlets()
        from stackview.commands.still_at_work import tell_no_more, tell_now_and_then

        if sys.argv[1:2] != ["view"]:  # its window says what it does
            tell_now_and_then(" ".join(sys.argv[1:2]) or "stackview")
        code = main()
        tell_no_more()
        code = last_words(code)
        quiet_end(code)
    except KeyboardInterrupt:
        # between the guards of what is called: nothing is at work there
        os._exit(130)
    sys.exit(code)


if __name__ == "__main__":
    program()
