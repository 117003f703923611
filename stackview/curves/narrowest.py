"""The least width between two curves where one of them faces a given way."""

import numpy as np

from stackview.curves.arcs import Path, cos_sin, pieces_of, share_of_angle
from stackview.curves.crossing import directions
from stackview.curves.deciding import deciding_places
from stackview.curves.fit import Gap, distances

_ROUNDING = 1e-12


def narrowest(a: Path, b: Path, bearing: float, within: float) -> Gap | None:
    """The least distance from ``a``, where its normal is within an angle [°] of a bearing or its opposite, to ``b``.

    Exact for lines and arcs: the distance is least at a place that decides the gap of the two
    whole curves, or where an arc's normal comes to the angle's edge. None where ``a`` never faces
    that way.
    """
    p, q = pieces_of(a), pieces_of(b)
    piece, share = deciding_places(p, q)
    # where arcs come to the edge of the angle; angles count from +x, bearings from −y
    straight = np.radians(bearing - 90.0)
    edges = [straight + side + np.radians(by) for side in (0.0, np.pi) for by in (-within, within)]
    for angle in edges:
        at = share_of_angle(p, np.full(len(p), angle))
        some = np.flatnonzero(p.arc & (at <= 1.0))
        piece, share = np.concatenate((piece, some)), np.concatenate((share, at[some]))
    every = np.concatenate((piece, piece))
    shares = np.concatenate(
        (share, np.where(p.arc[piece], share, 1.0))
    )  # both ends of a line have its normal
    points = p.at(every, shares)
    way = np.concatenate(
        [_normals(a, every[k : k + 4096], shares[k : k + 4096]) for k in range(0, len(every), 4096)]
    )
    cos, sin = cos_sin(bearing)
    facing = np.abs(way @ np.array((sin, -cos))) >= np.cos(np.radians(within)) - _ROUNDING
    if not facing.any():
        return None
    points = points[facing]
    away = distances(points, q)
    least = int(np.argmin(away))
    return Gap(float(away[least]), (float(points[least][0]), float(points[least][1])))


def _normals(path: Path, piece: np.ndarray, share: np.ndarray) -> np.ndarray:
    """Unit normals (k, 2), to one side or the other, at shares of pieces."""
    p = pieces_of(path)
    chosen = type(p)(*(getattr(p, name)[piece] for name in p.__slots__))
    way = directions(chosen, share)
    return np.column_stack((way[:, 1], -way[:, 0]))
