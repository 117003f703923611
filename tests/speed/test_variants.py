"""Variants of one lamp: how many are answered in a second, against the bare import in the same run.

An evaluation is assembling the lamp, laying out its light, and what its named eyes see of the middles
of the light points, bare and veiled, all round. Two processes work at once, as a search on two cores
does. CPU time is compared, so that a busy machine says the same as one at rest.
"""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.speed.conftest import DEMOS

IMPORTS = """
import numpy, trimesh, shapely, manifold3d, pydantic
from time import process_time
print(process_time())
"""
ASKED = {"moor-drum": 100, "honeycomb": 25, "turning-lantern": 15, "kelp": 6}
"""Evaluations a second of two processes, on two cores on which the bare import takes 0.52 s."""
IMPORT = 0.52


def started(*argv: str) -> subprocess.Popen[str]:
    root = Path(__file__).parents[2]
    return subprocess.Popen([sys.executable, *argv], stdout=subprocess.PIPE, text=True, cwd=root)


def told(process: subprocess.Popen[str]) -> list[float]:
    out, _ = process.communicate()
    assert process.returncode == 0
    return [float(word) for word in out.split()]


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_evaluations_a_second(file: Path) -> None:
    # The imports are measured two at once as well, for two cores share their caches.
    imports = min(
        min(told(one)[0] for one in [started("-c", IMPORTS), started("-c", IMPORTS)]) for _ in range(3)
    )
    work = [started("-m", "tests.speed.evaluations", str(file), first) for first in ("0.1", "0.1065")]
    found = [told(process) for process in work]
    each = sum(whole for whole, _ in found) / 2
    assembling = sum(part for _, part in found) / 2
    scale = IMPORT / imports
    rate, asked = 2.0 / (each * scale), ASKED[file.stem]
    print(
        f"\n{file.stem}: {1000 * each:.1f} ms of CPU an evaluation, {1000 * assembling:.1f} of it assembling; "
        f"{each / imports:.4f} of the bare import ({imports:.2f} s); "
        f"{2.0 / each:.0f} a second by two processes, {rate:.0f} where the import takes {IMPORT} s (≥ {asked})"
    )
    assert rate >= asked
