"""``stackview demo``: copies a demo lamp out and does the main job on it."""

import sys
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from stackview.errors import StackviewError


def demo(
    name: Annotated[str | None, Parameter(help="Which demo; leave it out to list them.")] = None,
    /,
    *,
    to: Annotated[Path, Parameter(help="Folder to copy it into.")] = Path("stackview-demos"),
) -> int:
    """Copy a demo lamp into a folder and preview it there."""
    found = demos()
    if name is None:
        for stem, about in found.items():
            sys.stdout.write(f"{stem:18} {about}\n")
        sys.stdout.write("Run one with: stackview demo NAME\n")
        return 0
    if name not in found:
        from stackview.description.faults import did_you_mean

        raise StackviewError(f"demo: there is no demo called {name!r}{did_you_mean(name, found)}")
    from stackview.commands.place_check import check_folder
    from stackview.commands.preview import preview
    from stackview.commands.writing import write_new_text

    check_folder(to, "choose another with --to")
    for entry in demo_folder().iterdir():
        if entry.name.rpartition(".")[0] == name and not entry.name.endswith(".md"):
            write_new_text(to / entry.name, entry.read_text(encoding="utf-8"))
    sys.stdout.write(f"The lamp's file is {to / name}.toml: open it beside what follows.\n\n")
    return preview(to / f"{name}.toml")


def demos() -> dict[str, str]:
    """Names of the demo lamps, each with the first line of its file's comment."""
    return {
        entry.name.removesuffix(".toml"): entry.read_text(encoding="utf-8").partition("\n")[0].lstrip("# ")
        for entry in sorted(demo_folder().iterdir(), key=lambda entry: entry.name)
        if entry.name.endswith(".toml")
    }


def demo_folder() -> Traversable:
    """Where the demos are: in the wheel inside the package, in a checkout beside it."""
    inside = files("stackview") / "demos"
    return inside if inside.is_dir() else Path(__file__).resolve().parents[2] / "demos"
