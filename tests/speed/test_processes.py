"""Whole processes against the bare import of what they need, in the same run."""

from pathlib import Path

from stackview.description.reading import read_lamp
from stackview.stack.assembly import assemble
from tests.speed.conftest import best, process

LIBRARIES = "import numpy, trimesh, shapely, manifold3d, pydantic"


def test_building_and_stacking(benchmark, demo: Path) -> None:  # type: ignore[no-untyped-def]
    # 0.3 s on two slow cores, where these imports take 0.43 s in a fresh process.
    lamp = read_lamp(demo)
    benchmark.pedantic(lambda: assemble(lamp), rounds=5, warmup_rounds=1)
    built = benchmark.stats.stats.min
    imports = best(process("-c", LIBRARIES), 5)
    print(
        f"\n{demo.stem}: built and stacked in {built:.3f} s, {built / imports:.2f} of importing the libraries (≤ 0.7)"
    )
    assert built / imports <= 0.7


def test_sight_as_a_process(demo: Path) -> None:
    whole = best(process("-m", "stackview", "sight", str(demo), "--no-spots"), 3)
    imports = best(process("-c", LIBRARIES), 5)
    print(f"\n{demo.stem}: sight takes {whole:.2f} s, {whole / imports:.2f} times the bare import (≤ 3)")
    assert whole / imports <= 3


def test_help_as_a_process() -> None:
    ratio = best(process("-m", "stackview", "--help"), 5) / best(process("-c", "import cyclopts"), 5)
    print(f"\n--help: {ratio:.2f} times importing cyclopts (≤ 3)")
    assert ratio <= 3


def test_check_as_a_process(demo: Path) -> None:
    # Mends are the greater part of it: each is tried on the rebuilt lamp. A lamp without a caution pays nothing.
    whole = best(process("-m", "stackview", "check", str(demo), "--json"), 3)
    imports = best(process("-c", LIBRARIES), 5)
    print(f"\n{demo.stem}: check takes {whole:.2f} s, {whole / imports:.2f} times the bare import (≤ 20)")
    assert whole / imports <= 20
