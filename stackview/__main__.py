"""The command line: ``stackview COMMAND``. Exit codes: 0 fine, 1 findings, 2 could not do it."""

import sys
from collections.abc import Sequence

from cyclopts import App

from stackview import __version__
from stackview.errors import StackviewError

app = App(
    name="stackview",
    version=__version__,
    help="See a tiered lamp before cutting it: how it looks, how it stacks up, and from where its light points show.",
    help_format="plaintext",
)
for _name, _help in (
    ("demo", "Copy a demo lamp out and preview it; without a name, list the demos."),
    ("preview", "Preview a lamp: summary here, pictures into a folder beside its file."),
    ("sight", "From where do light points show? Exact sightlines, as a table or as JSON."),
    ("new", "Write a commented starter lamp to begin from."),
    ("schema", "Print the JSON Schema of a lamp's file, for editors that complete as you type."),
):
    app.command(f"stackview.commands.{_name}:{_name}", name=_name, help=_help)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code.

    Every error that carries a message for the maker is printed to standard error as it is,
    one line for each fault, and ends with exit code 2.
    """
    try:
        result = app(argv, exit_on_error=False, print_error=True, result_action="return_value")
    except StackviewError as error:
        print(error, file=sys.stderr)  # noqa: T201 - the command line's own output
        return 2
    except BrokenPipeError:
        # Whoever read our output has had enough; that is not a failure of ours.
        sys.stderr.close()
        return 0
    except KeyboardInterrupt:
        print("stopped; nothing half-written is left", file=sys.stderr)  # noqa: T201
        return 130
    except Exception as error:
        if type(error).__module__.startswith("cyclopts"):
            return 2
        raise
    return result if isinstance(result, int) else 0


if __name__ == "__main__":
    sys.exit(main())
