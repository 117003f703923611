"""Ask everything about many random lamps: ``python -m tests.whole.many_lamps 10000 [FIRST]``.

Prints a line for every lamp that is neither answered truly nor refused clearly, with its number,
and a tally at the end and every 500; exit code 1 if there is one. One lamp is tried again with
its number as FIRST.
"""

import sys
import time
import warnings
from collections import Counter

from tests.whole.answers import answer
from tests.whole.random_lamps import random_lamp


def main() -> int:
    warnings.simplefilter("error", RuntimeWarning)  # a number that is none is a wrong answer somewhere
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    tally: Counter[str] = Counter()
    for number in range(first, first + count):
        try:
            tally[answer(random_lamp(number), number, tally)] += 1
        except Exception as error:
            tally["wrong"] += 1
            words = " ".join(str(error).split())[:300]
            print(f"lamp {number}: {type(error).__name__}: {words}", flush=True)
        if (number - first + 1) % 500 == 0 or number == first + count - 1:
            told = ", ".join(f"{many} {what}" for what, many in sorted(tally.items()))
            print(f"to {number}: {told}; {time.process_time():.0f} s of CPU", flush=True)
    return int(tally["wrong"] > 0)


if __name__ == "__main__":
    sys.exit(main())
