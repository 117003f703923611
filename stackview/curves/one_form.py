"""One way to write a closed curve down, so that equal curves have equal points."""

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path, backwards, pieces_of

_ALIKE = 1e-7
"""A joint whose removal moves the curve by less than this is none [mm]."""


def in_one_form(path: Path) -> Floats:
    """Write a curve as rows (n, 3) of x, y [mm] and bulge, pieces of one line or one circle joined.

    A whole circle is one row: its centre and, in place of the bulge, its radius [mm]; no other
    curve has one row. A point that several rows name is the same, so that a rectangle with a
    point more on one side, or a circle begun elsewhere, comes to the same rows but for where
    they begin.

    >>> from stackview.curves.corners import circle
    >>> in_one_form(circle(10.0)).round(12).tolist()
    [[0.0, 0.0, 10.0]]
    """
    p = pieces_of(path)
    if p.arc.all() and _one_circle(p.centre, p.radius) and abs(abs(p.sweep.sum()) - 2.0 * np.pi) < 1e-6:
        return np.array([[*p.centre.mean(axis=0), p.radius.mean()]])
    before = np.roll(np.arange(len(p)), 1)
    chord = p.end - p.start
    length = np.hypot(chord[:, 0], chord[:, 1])
    way = chord / np.where(length > 0.0, length, 1.0)[:, None]
    aside = np.abs(way[before, 0] * way[:, 1] - way[before, 1] * way[:, 0])
    same_line = (
        ~p.arc
        & ~p.arc[before]
        & (aside * np.minimum(length, length[before]) < _ALIKE)
        & ((way * way[before]).sum(axis=1) > 0.0)
    )
    off = np.abs(p.centre - p.centre[before]).max(axis=1) + np.abs(p.radius - p.radius[before])
    same_circle = p.arc & p.arc[before] & (off < _ALIKE) & (p.sweep * p.sweep[before] > 0.0)
    begins = np.flatnonzero(~(same_line | same_circle))
    if len(begins) < 2:
        return np.array(path.vertices)
    sweep = np.add.reduceat(np.roll(p.sweep, -begins[0]), begins - begins[0])
    return np.column_stack((p.start[begins], np.tan(0.25 * sweep)))


def mirrored_path(path: Path) -> Path:
    """The same curve seen from the other face, x turned to −x; still counter-clockwise."""
    return backwards(Path(path.vertices * np.array((-1.0, 1.0, -1.0))))


def _one_circle(centre: Floats, radius: Floats) -> bool:
    spread = np.ptp(centre, axis=0).max() + np.ptp(radius)
    return bool(spread < _ALIKE)
