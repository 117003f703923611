"""A front on its way: pieces that shrink to nothing drop out, each when it does, and their neighbours meet.

When a piece vanishes hangs on its two neighbours alone. So that is found once for each piece,
and again only for those two whose neighbour has dropped out.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.curves.arcs import GONE
from stackview.curves.front import TANGENT, CannotOffset, Front, headings, joints_at, left_between, state

_TOGETHER = 1e-11
"""Pieces that vanish within this of each other do so together [mm]."""
_STEPS = 100
_TRIES = np.concatenate((0.5 ** np.arange(10.0, 4.0, -0.5), np.arange(1, 17) / 16.0))
"""Shares of the way on which pieces beside an arc are looked at: it comes and goes quickest where it is small."""


def _gone(left: Floats) -> NDArray[np.bool_]:
    """Whether so much left is nothing left; nan is, for neighbours that meet no more."""
    return ~(left >= 0.0)


def run(front: Front, by: float) -> tuple[Front, Floats]:
    """Move the front by ``by``, dropping pieces as they vanish; the front left and its joints (n, 2).

    Raises CannotOffset where nothing is left, or two opposite sides meet.
    """
    joints, gone = state(front, by)
    if not gone.any():
        return front, joints
    ring = _Ring(front, by)
    ring.ask(np.arange(len(gone)), 0.0)
    while ring.drop_next():
        pass
    left = ring.left()
    return left, state(left, by)[0]


class _Ring:
    """The pieces still there, each knowing its neighbours and when it vanishes."""

    def __init__(self, front: Front, by: float) -> None:
        count = len(front.arc)
        self.by, self.way = by, float(np.sign(by))
        self.front = replace(
            front, turn=front.turn.copy(), joint=front.joint.copy(), normal=front.normal.copy()
        )
        self.before = np.arange(count) - 1
        self.before[0] = count - 1
        self.after = np.roll(np.arange(count), -1)
        self.there = np.ones(count, dtype=bool)
        self.when = np.full(count, np.inf)
        """How far each piece gets, without its sign; infinite for those that get as far as is asked."""

    def left(self) -> Front:
        """The pieces still there, as a front of their own."""
        return Front(*(getattr(self.front, name)[self.there] for name in Front.__slots__))

    def ask(self, k: Whole, since: float) -> None:
        """Find when pieces ``k`` vanish, which are there at ``since``."""
        self.when[k] = np.inf
        k, end = self._lost(k, since)
        if not k.size:
            return
        # An arc that shrinks to a point does so at its radius exactly, if nothing takes it before.
        shrinks = self.front.arc[k] & (self.front.side[k] * self.way < 0.0)
        radius = np.where(shrinks, self.front.radius[k], np.inf)
        to_point = (radius > abs(since)) & (radius <= np.abs(end))
        nearly = self.way * (np.where(to_point, radius, 0.0) - 2.0 * GONE)
        to_point &= ~_gone(self._left(k, nearly))
        self.when[k[to_point]] = radius[to_point]
        rest = ~to_point
        self.when[k[rest]] = np.abs(self._found(k[rest], since, end[rest]))

    def _lost(self, k: Whole, since: float) -> tuple[Whole, Floats]:
        """Those of pieces ``k`` that vanish, and offsets at which they have, the first of a few that are tried.

        Between lines a length goes down evenly. Along an arc it may come back, a turn on, when it is
        long gone.
        """
        front = self.front
        curved = front.arc[k] | front.arc[self.before[k]] | front.arc[self.after[k]]
        tries = since + (self.by - since) * _TRIES
        lost = np.zeros((len(k), len(tries)), dtype=bool)
        lost[~curved, -1] = _gone(self._left(k[~curved], np.full(np.count_nonzero(~curved), self.by)))
        if curved.any():
            often = np.tile(tries, np.count_nonzero(curved))
            lost[curved] = _gone(self._left(np.repeat(k[curved], len(tries)), often)).reshape(-1, len(tries))
        any_lost = lost.any(axis=1)
        return k[any_lost], tries[lost[any_lost].argmax(axis=1)]

    def drop_next(self) -> bool:
        """Drop what vanishes next, and let its neighbours meet; returns whether anything did."""
        first = self.when.min()
        if not np.isfinite(first):
            return False
        gone = np.flatnonzero(self.when <= first + _TOGETHER)
        at = self.way * float(self.when[gone].max())
        self.there[gone] = False
        self.when[gone] = np.inf
        nexts = self.after[gone]
        nexts = nexts[self.there[nexts]]
        meeting = np.concatenate((gone, nexts))
        joints = joints_at(self.front, self.before[meeting], meeting, np.full(len(meeting), at))
        if not np.isfinite(joints).all() or np.count_nonzero(self.there) < 2:
            raise CannotOffset("nothing is left of the curve")
        self._meet(nexts, joints[len(gone) :], at)
        self.ask(np.unique(np.concatenate((nexts, self.before[nexts]))), at)
        return True

    def _meet(self, nexts: Whole, joints: Floats, at: float) -> None:
        """Let pieces meet those that are now before them, at joints (n, 2)."""
        befores = self.before[nexts]
        for number, before in enumerate(befores):
            k = before
            while not self.there[k]:
                k = self.before[k]
            befores[number] = k
        self.before[nexts], self.after[befores] = befores, nexts
        front = self.front
        into, out = headings(front, befores, joints), headings(front, nexts, joints)
        if ((into * out).sum(axis=1) < -1.0 + 1e-9).any():
            raise CannotOffset("two opposite sides meet")
        cross = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
        front.turn[nexts] = np.where(np.abs(cross) > TANGENT, np.sign(cross), 0.0)
        front.normal[nexts] = np.column_stack((out[:, 1], -out[:, 0]))
        front.joint[nexts] = joints - at * front.normal[nexts]

    def _left(self, k: Whole, by: Floats) -> Floats:
        """How much is left (n,) of pieces ``k`` after offsets (n,) of their own [mm]."""
        firsts, seconds = np.concatenate((self.before[k], k)), np.concatenate((k, self.after[k]))
        joints, ends = np.split(joints_at(self.front, firsts, seconds, np.concatenate((by, by))), 2)
        with np.errstate(invalid="ignore"):
            return left_between(self.front, k, joints, ends, by)

    def _found(self, k: Whole, since: float, end: Floats) -> Floats:
        """Offsets (n,) at which pieces have just vanished, which were there at ``since`` and are gone at their ``end``.

        By turns a straight line between two lengths left, which is exact where joints move along
        lines, and halving.
        """
        low, high = np.full(len(k), since), end.copy()
        low_left, high_left = self._left(k, low), self._left(k, high)
        already = _gone(low_left)
        high[already], high_left[already] = since, 0.0
        for step in range(_STEPS):
            wide = np.flatnonzero((np.abs(high - low) > _TOGETHER) & ~(-high_left <= _TOGETHER))
            if not wide.size:
                break
            share = np.full(len(wide), 0.5)
            if step % 2 == 0:
                a, b = low_left[wide], high_left[wide]
                known = np.isfinite(b)
                share[known] = a[known] / (a - b)[known]
            at = low[wide] + share * (high - low)[wide]
            # a hair past it, so that it has vanished there
            at = self.way * np.minimum(np.abs(at) + 0.2 * _TOGETHER, np.abs(high[wide]))
            left = self._left(k[wide], at)
            gone = _gone(left)
            high[wide[gone]], high_left[wide[gone]] = at[gone], left[gone]
            low[wide[~gone]], low_left[wide[~gone]] = at[~gone], left[~gone]
        return high
