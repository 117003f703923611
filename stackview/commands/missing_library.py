"""A library that is not installed, or that the machine cannot load: one line that names it and says how to install it."""

import sys

from stackview.one_line import clipped

_SOLD_AS = {"PIL": "pillow", "vtkmodules": "vtk"}
"""Libraries that are installed under another name than they are imported by."""
_OWN = "stackview"


def missing_library(error: ImportError) -> str | None:
    """What to tell of a library that did not come; None where it is a file of ours that is missing or wrong."""
    while error.name is None and isinstance(error.__cause__, ImportError):
        error = error.__cause__
    library = (error.name or "").partition(".")[0]
    if library in ("", _OWN):
        return None
    name = _SOLD_AS.get(library, library)
    what = (
        "is not installed for this Python"
        if isinstance(error, ModuleNotFoundError) and error.name == library
        else f"cannot be loaded ({clipped(' '.join(str(error).split()), 200)}) by this Python"
    )
    return (
        f"the library {name}, which stackview needs, {what} ({sys.executable}): run stackview from the environment "
        "that it was installed in, or install it with all that it needs, in the folder of its pyproject.toml: "
        f"{sys.executable} -m pip install -c requirements.lock -e ."
    )
