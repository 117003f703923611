"""The program in a process of its own, as the installed script starts it."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
SCRIPT = (
    "import sys\nfrom stackview.__main__ import program\nsys.argv[0] = 'stackview'\nsys.exit(program())\n"
)


def started(*argv: object, python: tuple[str, ...] = (), **how: Any) -> "subprocess.Popen[bytes]":
    """Start it in a process group of its own, with signals as a terminal gives them; ``env`` is added to ours."""
    # how long anything takes says nothing here, so that no line may tell of it
    env = os.environ | {"PYTHONPATH": str(ROOT), "STACKVIEW_PROGRESS": "0"} | how.pop("env", {})
    return subprocess.Popen(
        [sys.executable, *python, "-c", SCRIPT, *map(str, argv)],
        env=env,
        start_new_session=True,
        preexec_fn=_as_from_a_terminal,
        **how,
    )


def ended(*argv: object, **how: Any) -> tuple[int, str, str]:
    """Run it to its end; returns exit code, standard output and standard error as far as they were caught."""
    how = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | how
    with started(*argv, **how) as process:
        out, told = process.communicate(timeout=300)
    return (
        process.returncode,
        (out or b"").decode("utf-8", "replace"),
        (told or b"").decode("utf-8", "replace"),
    )


def _as_from_a_terminal() -> None:
    # whoever was started with & ignores the key, and hands that on
    signal.signal(signal.SIGINT, signal.default_int_handler)
