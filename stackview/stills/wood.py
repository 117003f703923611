"""Wood as a solid pattern: faces, end grain and cuts of one part all show the same board.

The look is tuned by eye; species differ in ring width, contrast and pores (from memory).
"""

from dataclasses import dataclass
from zlib import crc32

import numpy as np

from stackview.arrays import Singles
from stackview.stack.placed import Placed
from stackview.stills.noise import fractal, noise


@dataclass(frozen=True, slots=True)
class Figure:
    """How a species is marked.

    Mean ring width [mm], then the darkness of the late wood, of the fibres, of the pores, and of
    the cloudy change of colour along a board.
    """

    ring: float
    late: float
    fibre: float
    pore: float
    cloud: float


FIGURES = {
    "walnut": Figure(4.6, 0.42, 0.20, 0.30, 0.42),
    "cherry": Figure(4.0, 0.22, 0.10, 0.06, 0.20),
    "ash": Figure(3.8, 0.24, 0.09, 0.20, 0.07),
    "oak": Figure(3.2, 0.30, 0.14, 0.34, 0.07),
    "beech": Figure(3.0, 0.12, 0.14, 0.12, 0.05),
    "maple": Figure(3.4, 0.13, 0.07, 0.03, 0.06),
    "birch": Figure(3.2, 0.12, 0.07, 0.03, 0.06),
    "basswood": Figure(3.4, 0.09, 0.06, 0.02, 0.05),
    "poplar": Figure(4.0, 0.14, 0.07, 0.03, 0.10),
    "pine": Figure(3.6, 0.30, 0.06, 0.00, 0.06),
}
PLAIN = Figure(3.6, 0.18, 0.09, 0.08, 0.07)
PLY = 1.4
"""Thickness of one ply of birch plywood [mm], common practice."""
_LATE = np.array([0.80, 1.08, 1.30], np.float32)


def figure_of(sort: str) -> Figure:
    """Find the figure of the species whose name is in ``sort`` ("black walnut" finds walnut)."""
    return next((figure for name, figure in FIGURES.items() if name in sort.lower()), PLAIN)


def wood_colour(part: Placed, at: Singles, normals: Singles, grain_size: Singles) -> Singles:
    """Reflectance (n, 3), linear sRGB, at points (n, 3) [mm] of one wooden part.

    ``normals`` (n, 3) unit; ``grain_size`` (n,) is the width that one pixel covers there [mm]:
    marks finer than that fade to their mean instead of flickering.
    """
    board = _Board(part)
    along, across, up = board.coordinates(at)
    end = np.abs(normals @ board.grain) ** 2
    if part.material.is_plywood:
        darker, tint = _plywood(part, board, along, across, at[:, 2], normals, end, grain_size)
    else:
        darker, tint = _solid(figure_of(part.material.sort), board, along, across, up, end, grain_size)
    base = np.asarray(part.material.colour, np.float32) * board.shade
    return np.asarray(base * np.exp(-darker[:, None] * tint), np.float32)


class _Board:
    """Where in its board a part is cut from, from its name, and the board's own axes."""

    def __init__(self, part: Placed) -> None:
        seed = crc32(f"{part.material.name}/{part.name}".encode())
        a, b, c, d = (((seed >> (8 * k)) & 255) / 255.0 for k in range(4))
        bearing = np.radians(part.grain)
        self.grain = np.array([np.sin(bearing), -np.cos(bearing), 0.0], np.float32)
        self.side = np.array([np.cos(bearing), np.sin(bearing), 0.0], np.float32)
        self.start = np.float32(37.0 + 811.0 * a)
        # The pith lies outside the board, so that rings cross it as arcs.
        self.pith = (np.float32((b - 0.5) * 190.0), np.float32((-28.0 - 60.0 * c) * (1 if seed & 4 else -1)))
        self.middle = np.float32((part.underside + part.top) / 2.0)
        warm = 0.05 * (d - 0.5)
        self.shade = np.float32(0.93 + 0.14 * c) * np.array([1 + warm, 1.0, 1 - 1.5 * warm], np.float32)
        self.seed = np.float32(seed % 997)

    def coordinates(self, at: Singles) -> tuple[Singles, Singles, Singles]:
        """Along the grain, across it, and up from the part's middle [mm]."""
        return (
            np.asarray(at @ self.grain + self.start, np.float32),
            np.asarray(at @ self.side, np.float32),
            np.asarray(at[:, 2] - self.middle, np.float32),
        )


def _seen(period: float, grain_size: Singles) -> Singles:
    """How much of a mark of this period [mm] is left when a pixel covers ``grain_size`` [mm]."""
    return np.asarray(np.clip(1.6 - 1.5 * grain_size / period, 0.0, 1.0), np.float32)


def _rings(
    figure: Figure, board: _Board, along: Singles, across: Singles, up: Singles
) -> tuple[Singles, Singles]:
    """Age in rings at each point, and how dark its part of the ring is (0 early, 1 late wood)."""
    sway = fractal(along / 210.0 + board.seed, across / 90.0 + 3.0, 2) * 7.0
    waver = noise(along / 46.0, across / 17.0 + board.seed) * 1.5
    y = across - board.pith[0] + sway
    z = 0.9 * up - board.pith[1] + 0.6 * sway + waver
    radius = np.sqrt(y * y + z * z)
    age = radius / figure.ring
    # Good and bad years: widths that wander, by warping the count.
    age = age + 0.9 * noise(age * 0.23 + board.seed, np.float32(5.5)) + 0.25 * noise(age * 0.9, board.seed)
    part = age - np.floor(age)
    late = part**3 * np.clip((1.0 - part) / 0.10, 0.0, 1.0)
    strength = 0.75 + 0.25 * noise(np.floor(age) * 0.7, board.seed + 9.0)
    return np.asarray(age, np.float32), np.asarray(late * strength, np.float32)


def _threads(
    along: Singles, across: Singles, up: Singles, width: float, length: float, seed: np.float32
) -> Singles:
    """Threads along the grain, −1 to 1: lines on every long face, dots on end grain.

    Dots of noise ``width`` [mm] wide across the grain drift slowly along it, over ``length`` [mm].
    """
    drift = along / np.float32(length)
    return noise(across / np.float32(width) + 0.83 * drift + seed, up / np.float32(width) + drift - seed)


def _solid(
    figure: Figure,
    board: _Board,
    along: Singles,
    across: Singles,
    up: Singles,
    end: Singles,
    grain_size: Singles,
) -> tuple[Singles, Singles]:
    age, late = _rings(figure, board, along, across, up)
    ring_seen = _seen(figure.ring * 0.6, grain_size)
    darker = figure.late * (1.5 * late * ring_seen + 0.30 * (1 - ring_seen)) * (1.0 - 0.25 * end)
    fine = _threads(along, across, up, 0.7, 44.0, board.seed)
    broad = _threads(along, across, up, 2.4, 120.0, board.seed + 41.0)
    darker = darker + figure.fibre * (
        0.9 * (1 - 0.6 * end) * fine * _seen(0.8, grain_size)
        + 0.8 * (1 - 0.8 * end) * broad * _seen(2.6, grain_size)
    )
    pores = _threads(along, across, up, 0.26, 9.0, board.seed + 83.0)
    early = np.clip(1.2 - 1.6 * (age - np.floor(age)), 0.15, 1.0)
    pored = np.clip(pores * 3.2 - 1.2, 0.0, 1.0) * early * (1 - 0.5 * end)
    pore_seen = _seen(0.38, grain_size)
    darker = darker + figure.pore * (pored * pore_seen + 0.10 * (1 - pore_seen))
    cloud = fractal(along / 330.0, (across + 0.7 * up) / 21.0 + board.seed, 3)
    darker = darker + figure.cloud * cloud + (0.12 + 0.35 * figure.late) * end
    return np.asarray(darker, np.float32), _LATE


def _plywood(
    part: Placed,
    board: _Board,
    along: Singles,
    across: Singles,
    height: Singles,
    normals: Singles,
    end: Singles,
    grain_size: Singles,
) -> tuple[Singles, Singles]:
    thickness = max(part.top - part.underside, 0.1)
    plies = max(3, 2 * round((thickness / PLY - 1) / 2) + 1)
    depth = np.clip((height - np.float32(part.underside)) / np.float32(thickness), 0.0, 0.99999) * plies
    ply = np.floor(depth)
    crosswise = (ply % 2) == 1
    flat = np.abs(normals[:, 2]) > 0.7
    run, over = np.where(crosswise, across, along), np.where(crosswise, along, across)

    # A veneer is peeled round and round the log: broad, quiet figure on the face.
    bend = fractal(run / 160.0 + board.seed, over / 60.0, 2)
    swirl = over / 13.0 + 2.6 * bend + 0.5 * noise(run / 60.0, over / 11.0) + ply * 3.7
    part_of = swirl - np.floor(swirl)
    face = 0.11 * part_of**2 * np.clip((1 - part_of) / 0.2, 0, 1)
    face = face + 0.05 * noise(over / 0.8, run / 40.0 + board.seed) * _seen(0.8, grain_size)
    face = face + 0.04 * noise(over / 3.0, run / 70.0) + 0.05 * bend

    # A pixel shows the mean of the plies and glue lines that it covers: taken at its middle, a level line that is
    # finer than a pixel would run in steps round a curved edge.
    wide = np.clip(grain_size * plies / thickness, 1e-3, plies)
    low, high = np.clip(depth - wide / 2, 0.0, plies - 1e-3), np.clip(depth + wide / 2, 1e-3, plies)
    span = np.maximum(high - low, 1e-3)
    cross = (_crosswise_below(high) - _crosswise_below(low)) / span
    ends = cross * (1.0 - end) + (1.0 - cross) * end
    line = (_lines_below(high, 0.16 * plies / thickness) - _lines_below(low, 0.16 * plies / thickness)) / span
    first, last = np.floor(low), np.floor(high - 1e-4)
    part_above = np.where(last > first, (high - np.maximum(last, low)) / span, 0.0)
    mottled = sum(
        share
        * _mottled(
            own, np.where((own % 2) == 1, across, along), np.where((own % 2) == 1, along, across), board
        )
        for own, share in ((first, 1.0 - part_above), (last, part_above))
    )
    edge = 0.08 + 0.42 * ends + 0.32 * line + _seen(thickness / plies, grain_size) * mottled
    return np.asarray(np.where(flat, face, edge), np.float32), _LATE


def _mottled(ply: Singles, run: Singles, over: Singles, board: _Board) -> Singles:
    """How much darker each ply's edge is in places, by its number."""
    return np.asarray(
        noise(run / 5.0, ply * 7.3 + over / 40.0) * 0.05
        + noise(ply * 3.1 + board.seed, np.float32(2.0)) * 0.07,
        np.float32,
    )


def _crosswise_below(depth: Singles) -> Singles:
    """How much of the plies from 0 up to ``depth`` lies crosswise, which is every other one."""
    pairs = np.floor(depth / 2.0)
    return np.asarray(pairs + np.clip(depth - 2.0 * pairs - 1.0, 0.0, 1.0), np.float32)


def _lines_below(depth: Singles, half: float) -> Singles:
    """Sum of the glue lines' darkness from 0 up to ``depth``: a ridge ``half`` wide to both sides of each whole number."""
    half = min(half, 0.5)
    nearest = np.floor(depth + 0.5)
    off = np.clip(depth - nearest, -half, half)
    own = np.where(off < 0.0, (off + half) ** 2 / (2.0 * half), half - (half - off) ** 2 / (2.0 * half))
    return np.asarray(nearest * half + own, np.float32)
