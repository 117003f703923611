"""How time grows with what a lamp is made of: ratios of CPU time within one run, on small stand-ins."""

from collections.abc import Callable
from pathlib import Path

import pytest

from stackview.change.mends import Mending
from stackview.description.lamp_file import LampFile
from stackview.description.reading import read_lamp
from stackview.light.layout import lay_out
from stackview.stack.assembly import assemble
from stackview.study import Study
from tests.speed.conftest import least_cpu
from tests.speed.loaded import many_corners, many_layers, many_points, rings_apart, tight_layers


def built(folder: Path, write: Callable[[int], str], count: int) -> float:
    """Seconds of CPU from the file to solids, seats and light points; every round is another lamp to what is kept."""
    rounds = iter(range(100))

    def work() -> None:
        file = folder / f"{count}.toml"
        # a play of its own, so that nothing is kept of it from the round before
        own = f"clearance = 0.2{next(rounds):02}\n"
        file.write_text(own + write(count), encoding="utf-8")
        lay_out(assemble(read_lamp(file)))

    return least_cpu(work, 3)


@pytest.mark.parametrize(
    ("what", "few", "most"),
    [("layers", 50, 14.0), ("points", 320, 14.0), ("corners", 400, 25.0)],
)
def test_ten_times_as_much_stays_well_below_a_hundred_times_as_long(
    what: str, few: int, most: float, tmp_path: Path
) -> None:
    write = {
        "layers": many_layers,
        "points": many_points,
        "corners": lambda count: many_corners(tmp_path, count),
    }[what]
    little, much = built(tmp_path, write, few), built(tmp_path, write, 10 * few)
    print(f"\n10 × {few} {what}: {little:.2f} s → {much:.2f} s, {much / little:.1f} × (≤ {most:g})")
    assert much / little <= most


def looked_into(text: str) -> float:
    """Seconds of CPU from a file's text to its findings and all of their mends."""

    def work() -> None:
        study = Study(LampFile.from_text(text))
        mending = Mending(study)
        for finding in study.findings:
            mending.of(finding)

    return least_cpu(work, 1)


@pytest.mark.parametrize(("what", "most"), [("tight layers", 9.0), ("rings apart", 12.0)])
def test_five_times_the_layers_and_their_mends_stay_below_the_square(what: str, most: float) -> None:
    """Rings apart have five times the light points too, so that all pairs would be 25 times as many."""
    write = {"tight layers": tight_layers, "rings apart": rings_apart}[what]
    little, much = looked_into(write(20)), looked_into(write(100))
    print(f"\n5 × 20 {what}: {little:.2f} s → {much:.2f} s, {much / little:.1f} × (≤ {most:g})")
    assert much / little <= most
