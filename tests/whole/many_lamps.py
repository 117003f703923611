"""Ask everything about many random lamps: ``python -m tests.whole.many_lamps 10000 [FIRST]``.

Prints a line for every lamp that is neither answered nor refused, with its number, and a tally at the end;
exit code 1 if there is one. One lamp is tried again with its number as FIRST.
"""

import sys
from collections import Counter

from tests.whole.answers import answer
from tests.whole.random_lamps import random_lamp


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    tally: Counter[str] = Counter()
    for number in range(first, first + count):
        try:
            tally[answer(random_lamp(number))] += 1
        except Exception as error:
            tally["wrong"] += 1
            print(f"lamp {number}: {type(error).__name__}: {error}", flush=True)
    print(", ".join(f"{many} {what}" for what, many in sorted(tally.items())))
    return int(tally["wrong"] > 0)


if __name__ == "__main__":
    sys.exit(main())
