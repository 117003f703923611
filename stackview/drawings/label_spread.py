"""Labels side by side along one edge of a picture: each as near its own place as the others let it."""

from collections.abc import Sequence


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float] | None:
    """Middles of labels along an edge, without overlap and within ``low`` to ``high``.

    Labels keep the order of their wanted places. Where they crowd, neighbours form a block that
    stands at the mean of what its labels ask for: the least-squares answer under an order
    constraint, by pooling adjacent violators (Ayer et al. 1955, Ann. Math. Statist. 26, 641).
    None where they cannot all fit.

    >>> spread([10.0, 11.0], [4.0, 4.0], 0.0, 100.0)
    [8.5, 12.5]
    >>> spread([1.0], [4.0], 0.0, 100.0)
    [2.0]
    """
    if sum(sizes) > high - low + 1e-9:
        return None
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    # With each label's place measured from where the labels before it end, "no overlap" reads
    # "not falling", and the limits are the same for all.
    before = 0.0
    blocks: list[tuple[float, int]] = []
    starts: list[float] = []
    for index in order:
        starts.append(before)
        mean, count = wanted[index] - sizes[index] / 2.0 - before, 1
        while blocks and blocks[-1][0] > mean:
            other, many = blocks.pop()
            mean, count = (mean * count + other * many) / (count + many), count + many
        blocks.append((mean, count))
        before += sizes[index]
    levels = [min(max(mean, low), high - before) for mean, count in blocks for _ in range(count)]
    middles = [0.0] * len(wanted)
    for index, level, start in zip(order, levels, starts, strict=True):
        middles[index] = level + start + sizes[index] / 2.0
    return middles
