"""The command line: ``stackview COMMAND``. Exit codes: 0 fine, 1 findings, 2 could not do it."""

import os
import sys
from collections.abc import Sequence

from cyclopts import App, CycloptsError

from stackview import __version__
from stackview.errors import StackviewError

app = App(
    name="stackview",
    version=__version__,
    help="See a tiered lamp before cutting it: how it looks, how it stacks up, and from where its light points show.",
    help_format="plaintext",
    # Ours says what is left.
    suppress_keyboard_interrupt=False,
)
for _name, _help in (
    ("demo", "Copy a demo lamp out and preview it; without a name, list the demos."),
    ("preview", "Preview a lamp: summary here, pictures into a folder beside its file."),
    ("check", "Will it go together, hold, and run? Findings with numbers, limits and sources."),
    ("picture", "Pictures for a build log: studio, spread, half, elevation, turntable and more."),
    ("parts", "What is made and bought: every different part once, with count, size, work and finish."),
    ("export", "Models for other programs: GLB, 3MF, OBJ and STL, the whole lamp or part by part."),
    ("drawings", "Drawings to cut from: DXF and SVG of every part, and a PDF with all its numbers."),
    ("view", "Turn the lamp in a window: what shows from there, cut, spread, live as you edit."),
    ("sight", "From where do light points show? Exact sightlines, as a table or as JSON."),
    ("glow", "How it glows: luminance, hot spots, lumens, evening pictures. Needs stackview[glow]."),
    ("finish", "Roughness of your sanded acrylic, from a photograph of one LED behind an offcut."),
    ("new", "Write a commented starter lamp to begin from."),
    ("keys", "Every key of a lamp's file: what it means, its default and why, an example."),
    ("schema", "Print the JSON Schema of a lamp's file, for editors that complete as you type."),
):
    app.command(f"stackview.commands.{_name}:{_name}", name=_name, help=_help)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code.

    Every error that carries a message for the maker is printed to standard error as it is,
    one line for each fault, and ends with exit code 2.
    """
    try:
        result = app(argv, exit_on_error=False, print_error=False, result_action="return_value")
        sys.stdout.flush()
    except StackviewError as error:
        print(error, file=sys.stderr)  # noqa: T201 - the command line's own output
        return 2
    except BrokenPipeError:
        # Whoever read our output has had enough; that is not a failure of ours.
        sys.stderr.close()
        return 0
    except OSError as error:
        # Everything that opens a file says so itself; what is left is standard output on a full disk.
        sys.stderr.write(f"cannot write the result: {error.strerror or error}; nothing else was changed\n")
        _abandon_output()
        return 2
    except KeyboardInterrupt:
        print("stopped; nothing half-written is left", file=sys.stderr)  # noqa: T201
        return 130
    except CycloptsError as error:
        sys.stderr.write(f"{' '.join(str(error).split())} See stackview --help.\n")
        return 2
    return result if isinstance(result, int) else 0


def _abandon_output() -> None:
    """Keep the interpreter from failing once more over what it could not write when it ends."""
    try:
        sys.stdout.close()
    except OSError:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115, PTH123 - open until the interpreter ends


if __name__ == "__main__":
    sys.exit(main())
