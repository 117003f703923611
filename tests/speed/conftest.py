"""Benchmarks: run with ``pytest tests/speed -s``. They assert ratios within one run, never seconds."""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))


def best(work: Callable[[], object], rounds: int) -> float:
    """Shortest time of several rounds [s]: the one least disturbed."""
    times = []
    for _ in range(rounds):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return min(times)


def least_cpu(work: Callable[[], object], rounds: int) -> float:
    """Least CPU time of several rounds, of all threads [s]: a busy machine says the same as one at rest."""
    times = []
    for _ in range(rounds):
        begun = time.process_time()
        work()
        times.append(time.process_time() - begun)
    return min(times)


def process(*argv: str) -> Callable[[], object]:
    return lambda: subprocess.run([sys.executable, *argv], check=True, capture_output=True)


@pytest.fixture(params=DEMOS, ids=lambda file: file.stem)
def demo(request: pytest.FixtureRequest) -> Path:
    return request.param
