"""Evaluations of variants of a demo in one process, as a search asks them: ``python -m tests.speed.evaluations FILE FIRST``.

Prints CPU seconds of one evaluation: on average, and of that what assembling takes. Each changes one
number, by turns the rings' wall, the spacers' height (the rings' where there are none), the plates'
thickness and the light's height, and each number is asked only once.
"""

import sys
from pathlib import Path
from time import process_time

from stackview.description.reading import read_lamp
from stackview.light.layout import lay_out
from stackview.sight.eyes import look_straight
from stackview.stack.assembly import assemble
from tests.speed.changes import variants

ROUNDS = 6


def main(file: Path, first: float) -> None:
    """Evaluate the lamp and one variant of each kind, then measure."""
    lamp = read_lamp(file)
    asked = variants(lamp, first)
    for number, variant in zip(range(4 * (ROUNDS + 1)), asked, strict=False):
        if number == 4:
            begun, assembling = process_time(), 0.0
        start = process_time()
        stack = assemble(variant)
        done = process_time()
        seen = look_straight(stack, lay_out(stack).points)
        assert len(seen) == len(lamp.eyes) > 0
        if number >= 4:
            assembling += done - start
    count = 4 * ROUNDS
    print((process_time() - begun) / count, assembling / count)


if __name__ == "__main__":
    main(Path(sys.argv[1]), float(sys.argv[2]))
