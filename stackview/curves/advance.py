"""A front on its way: pieces that shrink to nothing drop out, each when it does, and their neighbours meet.

When a piece vanishes hangs on its two neighbours alone. So that is found once for each piece,
and again only for those two whose neighbour has dropped out. Pieces far from each other may
therefore drop out in any order: those go together that are the first among their neighbours,
and where one of them then turns out to come too late, all is done again strictly one after another.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.curves.arcs import GONE
from stackview.curves.front import TANGENT, CannotOffset, Front, headings, joints_at, left_between, state

_TOGETHER = 1e-11
"""Pieces that vanish within this of each other do so together [mm]."""
_STEPS = 100
_FEW = 50
"""Up to as many pieces that vanish drop out one after another."""
_BESIDE = 24
"""Pieces to either side among which the first to vanish drops out, whatever happens farther away."""
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
    left = _together(front, by) if np.count_nonzero(gone) > _FEW else None
    if left is None:
        left = _Ring(front, by).run(_Ring.first)
    return left, state(left, by)[0]


def _together(front: Front, by: float) -> Front | None:
    """What is left of the front, pieces dropped many at a time; None where that cannot be done, or nothing is left."""
    try:
        return _Ring(front, by).run(_Ring.firsts)
    except (_TooLate, CannotOffset):
        return None


class _TooLate(Exception):  # noqa: N818 - caught here
    """A piece would drop out before its neighbours were changed, though it was looked at after."""


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
        self.changed = np.zeros(count)
        """How far the front was when a piece's neighbour last dropped out."""

    def run(self, choose: Callable[["_Ring"], tuple[Whole, Floats]]) -> Front:
        """Drop what is chosen, time after time, until nothing is; what is left."""
        count = len(self.when)
        self.ask(np.arange(count), np.zeros(count))
        while (chosen := choose(self))[0].size:
            self.drop(*chosen)
        return self.left()

    def first(self) -> tuple[Whole, Floats]:
        """What vanishes next of all pieces, and when."""
        first = self.when.min()
        gone = np.flatnonzero(self.when <= first + _TOGETHER) if np.isfinite(first) else np.zeros(0, np.int64)
        return gone, np.full(len(gone), self.when[gone].max(initial=0.0))

    def firsts(self) -> tuple[Whole, Floats]:
        """What vanishes before all that is beside it, and when."""
        alive = np.flatnonzero(self.there)
        at = np.flatnonzero(np.isfinite(self.when[alive]))
        when = self.when[alive[at]]
        first = self._beside(at, when, len(alive), np.minimum, np.inf)
        chosen = when <= first + _TOGETHER
        at, when = at[chosen], when[chosen]
        return alive[at], self._beside(at, when, len(alive), np.maximum, -np.inf)

    @staticmethod
    def _beside(at: Whole, when: Floats, count: int, better: np.ufunc, worst: float) -> Floats:
        """The least or greatest ``when`` of those at places ``at`` in a ring of ``count`` that are beside each."""
        found, size, most = when.copy(), len(at), min(_BESIDE, len(at) - 1)
        # once round the ring and a little more, so that those beside the ends are beside them here too
        places = np.concatenate((at[size - most :] - count, at, at[:most] + count))
        values = np.concatenate((when[size - most :], when, when[:most]))
        for step in range(1, most + 1):
            some = False
            for begin in (most - step, most + step):
                near = np.abs(places[begin : begin + size] - at) <= _BESIDE
                better(found, np.where(near, values[begin : begin + size], worst), out=found)
                some = some or bool(near.any())
            if not some:
                break
        return found

    def left(self) -> Front:
        """The pieces still there, as a front of their own."""
        return Front(*(getattr(self.front, name)[self.there] for name in Front.__slots__))

    def ask(self, k: Whole, since: Floats) -> None:
        """Find when pieces ``k`` vanish, which are there at ``since`` (n,)."""
        self.when[k] = np.inf
        k, end, since = self._lost(k, since)
        if not k.size:
            return
        # An arc that shrinks to a point does so at its radius exactly, if nothing takes it before.
        shrinks = self.front.arc[k] & (self.front.side[k] * self.way < 0.0)
        radius = np.where(shrinks, self.front.radius[k], np.inf)
        to_point = (radius > np.abs(since)) & (radius <= np.abs(end))
        nearly = self.way * (np.where(to_point, radius, 0.0) - 2.0 * GONE)
        to_point &= ~_gone(self._left(k, nearly))
        self.when[k[to_point]] = radius[to_point]
        rest = ~to_point
        self.when[k[rest]] = np.abs(self._found(k[rest], since[rest], end[rest]))

    def _lost(self, k: Whole, since: Floats) -> tuple[Whole, Floats, Floats]:
        """Those of pieces ``k`` that vanish, offsets at which they have, the first of a few that are tried, and since.

        Between lines a length goes down evenly. Along an arc it may come back, a turn on, when it is
        long gone.
        """
        front = self.front
        curved = front.arc[k] | front.arc[self.before[k]] | front.arc[self.after[k]]
        tries = since[:, None] + (self.by - since)[:, None] * _TRIES
        lost = np.zeros(tries.shape, dtype=bool)
        lost[~curved, -1] = _gone(self._left(k[~curved], np.full(np.count_nonzero(~curved), self.by)))
        if curved.any():
            often = np.repeat(k[curved], len(_TRIES))
            lost[curved] = _gone(self._left(often, tries[curved].ravel())).reshape(-1, len(_TRIES))
        some = np.flatnonzero(lost.any(axis=1))
        return k[some], tries[some, lost[some].argmax(axis=1)], since[some]

    def drop(self, gone: Whole, when: Floats) -> None:
        """Drop pieces, each ``when`` it vanishes (n,), and let their neighbours meet."""
        at = self.way * when
        self.there[gone] = False
        self.when[gone] = np.inf
        nexts = self.after[gone]
        still = self.there[nexts]
        nexts, next_at = nexts[still], at[still]
        meeting = np.concatenate((gone, nexts))
        joints = joints_at(self.front, self.before[meeting], meeting, np.concatenate((at, next_at)))
        if not np.isfinite(joints).all() or np.count_nonzero(self.there) < 2:
            raise CannotOffset("nothing is left of the curve")
        self._meet(nexts, joints[len(gone) :], next_at)
        touched, own = np.unique(np.concatenate((nexts, self.before[nexts])), return_index=True)
        since = np.concatenate((next_at, next_at))[own]
        if (self.changed[touched] > np.abs(since) + _TOGETHER).any():
            raise _TooLate
        self.changed[touched] = np.abs(since)
        self.ask(touched, since)

    def _meet(self, nexts: Whole, joints: Floats, at: Floats) -> None:
        """Let pieces meet those that are now before them, at joints (n, 2) after offsets (n,)."""
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
        front.joint[nexts] = joints - at[:, None] * front.normal[nexts]

    def _left(self, k: Whole, by: Floats) -> Floats:
        """How much is left (n,) of pieces ``k`` after offsets (n,) of their own [mm]."""
        firsts, seconds = np.concatenate((self.before[k], k)), np.concatenate((k, self.after[k]))
        joints, ends = np.split(joints_at(self.front, firsts, seconds, np.concatenate((by, by))), 2)
        with np.errstate(invalid="ignore"):
            return left_between(self.front, k, joints, ends, by)

    def _found(self, k: Whole, since: Floats, end: Floats) -> Floats:
        """Offsets (n,) at which pieces have just vanished, which were there ``since`` and are gone at their ``end``.

        By turns a straight line between two lengths left, which is exact where joints move along
        lines, and halving.
        """
        low, high = since.copy(), end.copy()
        low_left, high_left = self._left(k, low), self._left(k, high)
        already = _gone(low_left)
        high[already], high_left[already] = since[already], 0.0
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
