"""Work in fixed pieces on as many threads as there are, with a result that does not depend on them."""

import os
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

_Result = TypeVar("_Result")

MOST_THREADS = 8


def slices_of(count: int, size: int) -> list[slice]:
    """Cut ``count`` items into slices of ``size``; the cuts never depend on the machine."""
    return [slice(start, min(start + size, count)) for start in range(0, count, size)]


def in_pieces(work: Callable[[slice], _Result], count: int, size: int) -> list[_Result]:
    """Run ``work`` on every slice, in any order, and return the results in order."""
    return _in_turn(work, slices_of(count, size))


def _in_turn(work: Callable[[slice], _Result], slices: Iterable[slice]) -> list[_Result]:
    """Run ``work`` on the given slices on up to MOST_THREADS threads."""
    slices = list(slices)
    threads = min(
        len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1,
        MOST_THREADS,
        len(slices),
    )
    if threads <= 1:
        return [work(piece) for piece in slices]
    with ThreadPoolExecutor(threads) as pool:
        return list(pool.map(work, slices))
