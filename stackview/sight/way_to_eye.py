"""The whole way of light from a light point through clear acrylic to one eye, bend by bend."""

import numpy as np

from stackview.arrays import Floats
from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.paths import way_of

_STEP = 2e-4
"""Turn by which it is tried how far a ray passes beside the eye [rad]."""
_TRIES = 8
_CLOSE = 1.0
"""A ray that passes the eye this near goes into it [mm]; a pupil is 2 to 8 mm wide."""


def way_to_eye(bodies: ClearBodies | None, place: Floats, sent: Floats, eye: Floats) -> Floats | None:
    """Where light from ``place`` (3,) is turned on its way to an eye at (3,): (k, 3) with the place and the exit [mm].

    ``sent`` is about the direction that it is sent out in. That is mended by how far its ray passes beside the
    eye (Newton's method on both angles), until it is within 1 mm. None where no such ray is found.
    """
    if bodies is None:
        return None
    way = sent / np.linalg.norm(sent)
    for _ in range(_TRIES):
        aside = _square_to(way)
        found = [_passing(bodies, place, one, eye) for one in (way, *(way + _STEP * turn for turn in aside))]
        middle = found[0]
        if middle is None:
            return None
        corners, miss = middle
        if float(np.linalg.norm(miss)) <= _CLOSE:
            return corners
        one, other = found[1:]
        if one is None or other is None:
            return None
        change = np.stack([one[1] - miss, other[1] - miss], axis=1) / _STEP
        turn = np.linalg.lstsq(change, -miss)[0]
        size = float(np.linalg.norm(turn))
        # A tube of light is narrow: what lies farther aside goes another way.
        way = way + np.array(aside).T @ (turn * min(1.0, 0.02 / max(size, 1e-12)))
        way /= np.linalg.norm(way)
    return None


def _square_to(way: Floats) -> tuple[Floats, Floats]:
    other = np.eye(3)[int(np.abs(way).argmin())]
    one = np.cross(way, other)
    one /= np.linalg.norm(one)
    return one, np.cross(way, one)


def _passing(bodies: ClearBodies, place: Floats, way: Floats, eye: Floats) -> tuple[Floats, Floats] | None:
    """The corners of a ray's way, and how it passes the eye, at right angles to its last leg (3,) [mm]."""
    found = way_of(bodies, place, way / np.linalg.norm(way))
    if found is None:
        return None
    corners, last = found
    off = corners[-1] - eye
    along = float(off @ last)
    return (corners, off - along * last) if along < 0.0 else None
