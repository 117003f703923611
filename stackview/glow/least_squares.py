"""Least squares of what is not linear, by Levenberg and Marquardt's steps.

Unknowns of which something is known beforehand bring a residual of their own: their distance from
what is expected, in standard deviations. So the answer is the likeliest (Bayes with normal errors;
Gelman et al., Bayesian Data Analysis, ch. 4; from memory).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """``values`` (n,) that leave the least, and ``cost``, the sum of squares left over."""

    values: Floats
    cost: float


def least_squares(left_over: Callable[[Floats], Floats], start: Floats, rounds: int = 30) -> Solution:
    """Find the values that make the sum of squares of ``left_over`` least, from ``start`` on.

    ``left_over`` takes (n,) and gives (m,), m at least n, all in standard deviations. Slopes are by
    small steps; ``rounds`` bounds the work (Marquardt 1963; damping scaled by each value's own slope).
    """
    values = np.array(start, np.float64)
    rest = left_over(values)
    cost, damping = float(rest @ rest), 1e-2
    slopes = _slopes(left_over, values, rest)
    for _ in range(rounds):
        square, fall = slopes.T @ slopes, slopes.T @ rest
        step = np.linalg.solve(square + np.diag(damping * np.diag(square) + 1e-9), -fall)
        tried = values + step
        rest_there = left_over(tried)
        there = float(rest_there @ rest_there)
        if not there < cost:
            damping *= 6.0
            if damping > 1e8:
                break
            continue
        done = cost - there < 3e-3 * (1.0 + 0.1 * cost)
        values, rest, cost, damping = tried, rest_there, there, max(damping / 6.0, 1e-7)
        slopes = _slopes(left_over, values, rest)
        if done:
            break
    return Solution(values, cost)


def _slopes(left_over: Callable[[Floats], Floats], values: Floats, rest: Floats) -> Floats:
    found = np.empty((len(rest), len(values)))
    for index in range(len(values)):
        moved = values.copy()
        moved[index] += 1e-2
        found[:, index] = (left_over(moved) - rest) / 1e-2
    return found
