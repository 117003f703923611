"""What the lamp stands on, where it comes between a light point and an eye."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.description.lamp import Surface


def behind_surface(
    places: NDArray[np.float64], eyes: NDArray[np.float64], surface: Surface | None
) -> NDArray[np.bool_]:
    """Whether the surface hides each line from ``places`` (…, 3) to ``eyes`` (…, 3).

    The surface is the plane z = 0 within its extent. A line is blocked where it passes down
    through that; one that passes beyond the edge is not.
    """
    below = eyes[..., 2] < 0
    if surface is None or not below.any():
        return np.zeros(np.broadcast_shapes(places.shape, eyes.shape)[:-1], dtype=bool)
    drop = places[..., 2] - eyes[..., 2]
    share = np.where(below, places[..., 2] / np.where(below, drop, 1.0), 0.0)
    x = places[..., 0] + share * (eyes[..., 0] - places[..., 0]) + surface.at[0]
    y = places[..., 1] + share * (eyes[..., 1] - places[..., 1]) + surface.at[1]
    if len(surface.size) == 1:
        on = np.hypot(x, y) <= surface.size[0] / 2
    else:
        on = (np.abs(x) <= surface.size[0] / 2) & (np.abs(y) <= surface.size[1] / 2)
    return np.asarray(below & on)


def hidden_heights(
    places: tuple[Floats, Floats, Floats], x: Floats, y: Floats, surface: Surface
) -> tuple[Floats, Floats]:
    """Between which heights above (x, y) (k,) the surface hides what is seen at ``places``, x, y and z (k,) [mm].

    The same as :func:`behind_surface`, for all eyes over one place of the floor at once. The level
    line to it runs over the surface from one share of its way to another; a line of sight
    that comes down through the plane z = 0 at the share s ends at the height z₀·(1 − 1/s). None are hidden
    where the first height is not below the second.
    """
    at_x, at_y = places[0] + surface.at[0], places[1] + surface.at[1]
    way_x, way_y = x - places[0], y - places[1]
    if len(surface.size) == 1:
        enters, leaves = _over_round(at_x, at_y, way_x, way_y, surface.size[0] / 2.0)
    else:
        enters, leaves = _over_side(at_x, way_x, surface.size[0] / 2.0)
        other_enters, other_leaves = _over_side(at_y, way_y, surface.size[1] / 2.0)
        enters, leaves = np.maximum(enters, other_enters), np.minimum(leaves, other_leaves)
    over = (enters < leaves) & (leaves > 0.0) & (enters < 1.0)
    low, high = (
        np.where(share > 0.0, places[2] * (1.0 - 1.0 / np.clip(share, 1e-9, 1.0)), -np.inf)
        for share in (enters, leaves)
    )
    return np.where(over, low, np.inf), np.where(over, high, -np.inf)


def surface_rim(surface: Surface, corners: int) -> Floats:
    """The surface's edge (k, 2) about the lamp's axis [mm], counter-clockwise; so many ``corners`` for a round one."""
    if len(surface.size) == 1:
        turn = 2.0 * np.pi * np.arange(corners) / corners
        rim = surface.size[0] / 2.0 * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    else:
        rim = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.array(surface.size) / 2.0
    return np.asarray(rim - np.array(surface.at))


def edge_distance(surface: Surface | None, places: Floats, bearing: Floats) -> Floats:
    """Distance (n,) from places (n, 2 or 3) along bearings (n,) [rad] to the surface's edge [mm]; 0 off it."""
    if surface is None:
        return np.full(len(places), np.inf)
    x, y = places[:, 0] + surface.at[0], places[:, 1] + surface.at[1]
    along_x, along_y = np.sin(bearing), -np.cos(bearing)
    if len(surface.size) == 1:
        middle = x * along_x + y * along_y
        inner = (surface.size[0] / 2.0) ** 2 - x**2 - y**2
        return np.asarray(np.where(inner < 0.0, 0.0, np.sqrt(np.maximum(inner + middle**2, 0.0)) - middle))
    ways = []
    for at, along, size in ((x, along_x, surface.size[0]), (y, along_y, surface.size[1])):
        flat = np.abs(along) < 1e-12
        way = (np.where(along > 0.0, size / 2.0, -size / 2.0) - at) / np.where(flat, 1.0, along)
        ways.append(np.where(flat, np.inf, way))
    on = (np.abs(x) <= surface.size[0] / 2.0) & (np.abs(y) <= surface.size[1] / 2.0)
    return np.asarray(np.where(on, np.minimum(*ways), 0.0))


def _over_round(
    at_x: Floats, at_y: Floats, way_x: Floats, way_y: Floats, radius: float
) -> tuple[Floats, Floats]:
    """Shares of level ways from places at which they come over a round top and leave it: roots of |at + s·way| = r."""
    square = np.maximum(way_x * way_x + way_y * way_y, 1e-300)
    along = (at_x * way_x + at_y * way_y) / square
    rest = along * along - (at_x * at_x + at_y * at_y - radius * radius) / square
    root = np.sqrt(np.maximum(rest, 0.0))
    return np.where(rest > 0.0, -along - root, np.inf), np.where(rest > 0.0, root - along, -np.inf)


def _over_side(at: Floats, way: Floats, half: float) -> tuple[Floats, Floats]:
    """The same for a strip that reaches ``half`` to both sides."""
    each = 1.0 / np.where(np.abs(way) < 1e-12, 1e-12, way)
    one, other = (-half - at) * each, (half - at) * each
    return np.minimum(one, other), np.maximum(one, other)


def clear_of_surface(
    low: Floats, high: Floats, hidden: tuple[Floats, Floats]
) -> tuple[NDArray[np.int64], Floats, Floats]:
    """What :func:`hidden_heights` leave of stretches of height (k,): number of the stretch, its low and high end.

    All that is left lies above what is hidden, but where a line of sight comes over the surface from beside it.
    """
    number, beneath = np.arange(len(low)), np.flatnonzero((hidden[0] > low) & (hidden[0] < hidden[1]))
    return (
        np.concatenate([number, beneath]),
        np.concatenate([np.maximum(low, hidden[1]), low[beneath]]),
        np.concatenate([high, np.minimum(high, hidden[0])[beneath]]),
    )
