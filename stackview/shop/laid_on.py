"""Whether one part, shifted and turned in its plane, lies exactly on another."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.shop.cut_curves import CutCurve

SAME = 1e-5
"""Parts of which no point and no depth differs by more than this are equal [mm]."""
_SAME_GRAIN = 1e-4
"""Grain that differs by less than this runs the same way [°]."""
_NO_MARK = 0.01
"""A point nearer to the middle than this says nothing about the turn [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Template:
    """A part made ready to be laid on others: its cuts, in one form about the outline's own middle.

    ``rows`` has the rows of every cut, x and y from the middle; ``grain`` is the bearing of the grain [°],
    None where the material has none.
    """

    kinds: tuple[tuple[str, str, int], ...]
    numbers: Floats
    rows: tuple[Floats, ...]
    grain: float | None


def template(cuts: tuple[CutCurve, ...], grain: float | None) -> Template:
    """Make a part's cuts ready. The middle is that of the outline's points, or a round outline's centre."""
    forms = [cut.rows for cut in cuts]
    middle = forms[0][:, :2].mean(axis=0)
    rows = tuple(form - np.array((*middle, 0.0)) for form in forms)
    kinds = tuple((cut.name, cut.entered, len(form)) for cut, form in zip(cuts, forms, strict=True))
    return Template(kinds, np.array([cut.numbers for cut in cuts]), rows, grain)


def turn_onto(one: Template, other: Template) -> float | None:
    """The turn [°], counter-clockwise, that lays one part on another; None where none does.

    A turn has to bring the rarest points onto their like: of all corners and middles of cuts, those of one
    kind at one distance from the middle of which there are fewest. Each such turn is tried on all cuts.
    Grain counts modulo 180°. Where everything is round and about the middle, the grain alone says it.
    """
    pairs = _classes(one, other)
    if pairs is None:
        return None
    for turn in _turns(one, other, pairs):
        if _same_grain(one, other, turn) and _lies_on(one, other, pairs, turn):
            return turn % 360.0
    return None


_Pairs = list[tuple[list[int], list[int]]]
"""Cuts of one part and of the other that are alike but for where they lie."""


def _classes(one: Template, other: Template) -> _Pairs | None:
    """Sort the cuts of both by what they are like; None where the parts do not have the same ones."""
    if len(one.kinds) != len(other.kinds) or sorted(one.kinds) != sorted(other.kinds):
        return None
    pairs: _Pairs = []
    for i, kind in enumerate(one.kinds):
        for mine, _ in pairs:
            k = mine[0]
            if one.kinds[k] == kind and _near(one.numbers[k], one.numbers[i]):
                mine.append(i)
                break
        else:
            pairs.append(([i], []))
    for j, kind in enumerate(other.kinds):
        for mine, others in pairs:
            if one.kinds[mine[0]] == kind and _near(one.numbers[mine[0]], other.numbers[j]):
                others.append(j)
                break
        else:
            return None
    return pairs if all(len(mine) == len(others) for mine, others in pairs) else None


def _near(first: Floats, second: Floats) -> bool:
    # a length is a sum: it may differ by as much for each of its pieces
    allowed = np.full(len(first), SAME)
    allowed[-1] = max(SAME, 1e-6 * first[-1])
    return bool((np.abs(first - second) <= allowed).all())


def _turns(one: Template, other: Template, pairs: _Pairs) -> Iterator[float]:
    marks = _rarest(one, pairs)
    if marks is None:
        yield 0.0 if one.grain is None or other.grain is None else other.grain - one.grain
        return
    number, away, angle = marks
    points = np.concatenate([other.rows[j][:, :2] for j in pairs[number][1]])
    near = np.abs(np.hypot(points[:, 0], points[:, 1]) - away) <= 2.0 * SAME
    turns = np.degrees(np.arctan2(points[near, 1], points[near, 0]) - angle)
    # the least turn first: an equal copy is best left as it lies
    yield from (float(turn) for turn in sorted(turns, key=lambda turn: abs((turn + 180.0) % 360.0 - 180.0)))


def _rarest(part: Template, pairs: _Pairs) -> tuple[int, float, float] | None:
    """Number of the class, distance from the middle and direction [rad] of one of the rarest points."""
    best: tuple[int, float, int, float] | None = None
    for number, (mine, _) in enumerate(pairs):
        points = np.concatenate([part.rows[i][:, :2] for i in mine])
        away = np.hypot(points[:, 0], points[:, 1])
        order = np.argsort(away)
        sorted_away = away[order]
        begins = np.flatnonzero(np.diff(sorted_away, prepend=-1.0) > SAME)
        counts = np.diff(np.append(begins, len(away)))
        for begin, count in zip(begins, counts, strict=True):
            if sorted_away[begin] <= _NO_MARK:
                continue
            if best is None or (count, -sorted_away[begin]) < best[:2]:
                x, y = points[order[begin]]
                best = (int(count), -float(sorted_away[begin]), number, float(np.arctan2(y, x)))
    return None if best is None else (best[2], -best[1], best[3])


def _same_grain(one: Template, other: Template, turn: float) -> bool:
    if one.grain is None or other.grain is None:
        return one.grain is other.grain
    apart = (one.grain + turn - other.grain) % 180.0
    return min(apart, 180.0 - apart) <= _SAME_GRAIN


def _lies_on(one: Template, other: Template, pairs: _Pairs, turn: float) -> bool:
    angle = np.radians(turn)
    cos, sin = float(np.cos(angle)), float(np.sin(angle))
    spin = np.array(((cos, sin, 0.0), (-sin, cos, 0.0), (0.0, 0.0, 1.0)))
    for mine, others in pairs:
        left = list(others)
        for i in mine:
            rows = one.rows[i] @ spin
            found = next((j for j in left if _equal_rows(rows, other.rows[j])), None)
            if found is None:
                return False
            left.remove(found)
    return True


def _equal_rows(first: Floats, second: Floats) -> bool:
    """Whether two curves run through the same points, wherever they begin."""
    if len(first) == 1:
        return bool((np.abs(first - second) <= SAME).all())
    away = np.abs(second[:, :2] - first[0, :2]).max(axis=1)
    begin = int(np.argmin(away))
    if away[begin] > SAME:
        return False
    rolled = np.roll(second, -begin, axis=0)
    if (np.abs(first[:, :2] - rolled[:, :2]) > SAME).any():
        return False
    chord = np.roll(first[:, :2], -1, axis=0) - first[:, :2]
    # an arc's height over its chord is half of chord times bulge
    height = 0.5 * np.hypot(chord[:, 0], chord[:, 1]) * np.abs(first[:, 2] - rolled[:, 2])
    return bool((height <= SAME).all())
