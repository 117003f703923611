"""How time grows with what a lamp is made of: ratios of CPU time within one run, on small stand-ins."""

from collections.abc import Callable
from pathlib import Path

import pytest

from stackview.description.reading import read_lamp
from stackview.light.layout import lay_out
from stackview.stack.assembly import assemble
from tests.speed.conftest import least_cpu
from tests.speed.loaded import many_corners, many_layers, many_points


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
