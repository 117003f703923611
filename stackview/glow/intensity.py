"""Luminous intensity over the whole sphere, on C-planes and γ-angles.

How the lamp's own directions map to them is decided here and nowhere else:

- γ is counted from straight down (nadir, 0°) to straight up (180°), so γ = elevation + 90°.
- C is the bearing: C0 is the lamp's front (−y), C90 its right (+x), counter-clockwise seen from above.

ANSI/IESNA LM-63-2002, section 3, measures the horizontal angles of type C counter-clockwise in
the horizontal plane, as bearings are (read in a copy of the standard; that this is seen from
above is second-hand). CIE S 017 17-25-090 defines the C-planes as half-planes that turn about
the vertical line, and leaves their sense to CIE 121, which was not at hand. Which side of a lamp
is C0 is its maker's choice.

Between the angles of the grid, intensity is bilinear in C and γ. The flux of that surface is a
closed sum: each node's hat function, integrated over the sphere, is its weight in steradians.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats

_GOLDEN = np.pi * (3.0 - np.sqrt(5.0))
_MOST = 24
"""Sub-samples of one sample, at most."""
_ENOUGH = 600_000
"""Sub-samples of all samples together, about."""
_POINTS = 4
"""Places at which a window of bearing is taken, for each plane."""


def spread_out(unit: Floats, sigma: float) -> Iterator[tuple[Floats, float]]:
    """Sub-samples of directions (n, 3), a set at a time, with the share of flux that each set has.

    Parameters
    ----------
    unit : (n, 3) unit vectors; sigma : standard deviation of the bell curve [°], 0 for none
    """
    count = int(np.clip(_ENOUGH // max(len(unit), 1), 1, _MOST))
    if not sigma > 0 or count == 1:
        yield unit, 1.0
        return
    level = np.abs(unit[:, 2:]) < 0.9
    aside = np.cross(unit, np.where(level, [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]))
    aside /= np.linalg.norm(aside, axis=1, keepdims=True)
    other = np.cross(unit, aside)
    first = np.arange(len(unit)) * (np.pi / 3.0 * np.sqrt(2.0))
    for number in range(count):
        away = np.radians(sigma) * np.sqrt(-2.0 * np.log1p(-(number + 0.5) / count))
        turn = (first + number * _GOLDEN)[:, None]
        yield np.cos(away) * unit + np.sin(away) * (np.cos(turn) * aside + np.sin(turn) * other), 1.0 / count


def plane_shares(planes: Floats, width: float) -> Floats:
    """Matrix (p, p) that shares each plane's flux out evenly over ``width`` [°] of bearing about it.

    Each column sums to one. The identity where the window is narrower than the planes' steps.
    """
    count = len(planes)
    around = np.append(planes, planes[0] + 360.0)
    if width <= float(np.diff(around).min()):
        return np.eye(count)
    points = _POINTS * count
    window = min(width, 360.0) * ((np.arange(points) + 0.5) / points - 0.5)
    at = (planes[:, None] + window - planes[0]) % 360.0 + planes[0]
    low = np.clip(np.searchsorted(around, at, side="right") - 1, 0, count - 1)
    across = (at - around[low]) / (around[low + 1] - around[low])
    shares = np.zeros((count, count))
    of = np.broadcast_to(np.arange(count)[:, None], at.shape)
    np.add.at(shares, (low, of), (1.0 - across) / points)
    np.add.at(shares, ((low + 1) % count, of), across / points)
    return shares


_CROWDED = 3.0
"""Standard deviations of a sample's spread along which light of one γ is shared out near a pole."""


def plane_of(bearing: Floats | float) -> Floats:
    """C-plane [°] of a bearing [°].

    >>> float(plane_of(-90.0))
    270.0
    """
    return np.asarray(np.asarray(bearing, dtype=np.float64) % 360.0)


def gamma_of(elevation: Floats | float) -> Floats:
    """γ [°] of an elevation [°]: 0 straight down, 180 straight up.

    >>> float(gamma_of(-90.0)), float(gamma_of(0.0))
    (0.0, 90.0)
    """
    return np.asarray(np.asarray(elevation, dtype=np.float64) + 90.0)


@dataclass(frozen=True, slots=True, eq=False)
class Intensity:
    """Luminous intensity on a grid of directions; read-only.

    planes : (p,) C-angles [°], rising from 0 to under 360; one plane alone holds all round
    gammas : (g,) [°], rising from 0 to 180
    candela : (p, g) [cd], none negative

    Raises ValueError for angles out of order, for a sphere that is not whole, and for
    intensities that are negative or not finite.
    """

    planes: Floats
    gammas: Floats
    candela: Floats

    def __post_init__(self) -> None:
        if self.candela.shape != (len(self.planes), len(self.gammas)):
            raise ValueError("intensity needs one value for each plane and γ")
        _checked_grid(self.planes, self.gammas)
        if not (np.isfinite(self.candela).all() and (self.candela >= 0).all()):
            raise ValueError("intensity must be finite and not negative")
        for array in (self.planes, self.gammas, self.candela):
            array.setflags(write=False)

    @property
    def lumens(self) -> float:
        """Flux over the whole sphere [lm]: ∫∫ I sin γ dγ dC, exact for the bilinear surface."""
        return float((weights(self.planes, self.gammas) * self.candela).sum())

    @property
    def peak(self) -> float:
        """Greatest intensity [cd]; a bilinear surface has it at a node."""
        return float(self.candela.max())

    def at(self, bearing: Floats | float, elevation: Floats | float) -> Floats:
        """Intensity [cd] at bearings and elevations [°] of one broadcast shape, bilinear."""
        plane, gamma = np.broadcast_arrays(plane_of(bearing), np.clip(gamma_of(elevation), 0.0, 180.0))
        around = np.append(self.planes, self.planes[0] + 360.0)
        low, across = _between(around, np.where(plane < self.planes[0], plane + 360.0, plane))
        below, up = _between(self.gammas, gamma)
        high = (low + 1) % len(self.planes)
        near = (1.0 - up) * self.candela[low, below] + up * self.candela[low, below + 1]
        far = (1.0 - up) * self.candela[high, below] + up * self.candela[high, below + 1]
        return np.asarray((1.0 - across) * near + across * far)


def even_planes(count: int = 72) -> Floats:
    """``count`` C-planes evenly all round from C0 [°]."""
    return np.asarray(np.arange(count, dtype=np.float64) * (360.0 / count))


def even_gammas(count: int = 73) -> Floats:
    """``count`` angles evenly from nadir to zenith [°], both included."""
    return np.linspace(0.0, 180.0, count)


def weights(planes: Floats, gammas: Floats) -> Floats:
    """Solid angle that each node stands for [sr], (p, g): its hat function over the sphere.

    They sum to 4π for any grid.
    """
    return np.asarray(np.outer(_plane_weights(planes), _hat_integrals(gammas)), dtype=np.float64)


def of_rays(
    directions: Floats,
    lumens: Floats,
    planes: Floats | None = None,
    gammas: Floats | None = None,
    *,
    spread: float | None = None,
) -> Intensity:
    """Intensity from samples of the light that has left the lamp, each with its own flux.

    A sample stands for the directions round it, or the grid would show the gaps between samples,
    above all at the poles, where planes crowd. So its flux is spread by a bell curve of standard
    deviation ``spread`` and shared among the nodes round it, bilinearly; all flux is kept.

    Parameters
    ----------
    directions : (n, 3) out of the lamp, of any length but zero; lumens : (n,) [lm]
    planes, gammas : the grid wanted; every 5° and every 2.5° unless given
    spread : [°]; 0.6 of the samples' mean spacing unless given, at which a lattice of bell curves
        is even to 0.2 % (first harmonic 2·exp(−2π²·0.6²), Poisson's sum)

    Raises
    ------
    ValueError
        a direction of no length, or flux that is not finite or negative
    """
    directions, lumens = np.asarray(directions, np.float64), np.asarray(lumens, np.float64)
    length = np.linalg.norm(directions, axis=-1)
    if not (np.isfinite(length).all() and (length > 0).all()):
        raise ValueError("rays need directions that are finite and of some length")
    if not (np.isfinite(lumens).all() and (lumens >= 0).all()):
        raise ValueError("rays need flux that is finite and not negative")
    planes, gammas = _grid(planes, gammas)
    if spread is None:
        spread = 0.6 * float(np.degrees(np.sqrt(4.0 * np.pi / max(len(lumens), 1))))
    node = np.zeros((len(planes), len(gammas)))
    unit = directions / length[:, None]
    for ways, share in spread_out(unit, spread):
        _deposit(node, ways, lumens * share, planes, gammas)
    if spread > 0:
        for row, gamma in enumerate(gammas.tolist()):
            # Near a pole a bell curve is wider than the planes' steps: the ring's light is shared along it.
            wide = _CROWDED * spread / max(float(np.sin(np.radians(gamma))), 1e-9)
            node[:, row] = plane_shares(planes, wide) @ node[:, row]
    return _of_node_flux(node, planes, gammas)


def _deposit(node: Floats, unit: Floats, lumens: Floats, planes: Floats, gammas: Floats) -> None:
    """Add the flux of rays along unit vectors (n, 3) to the four nodes round each."""
    bearing = np.degrees(np.arctan2(unit[:, 0], -unit[:, 1])) % 360.0
    gamma = np.degrees(np.arctan2(np.hypot(unit[:, 0], unit[:, 1]), -unit[:, 2]))
    around = np.append(planes, planes[0] + 360.0)
    low, across = _between(around, np.where(bearing < planes[0], bearing + 360.0, bearing))
    below, up = _between(gammas, gamma)
    for plane, one in ((low, 1.0 - across), ((low + 1) % len(planes), across)):
        for row, other in ((below, 1.0 - up), (below + 1, up)):
            np.add.at(node, (plane, row), lumens * one * other)


def _grid(planes: Floats | None, gammas: Floats | None) -> tuple[Floats, Floats]:
    planes = even_planes() if planes is None else np.array(planes, dtype=np.float64)
    gammas = even_gammas() if gammas is None else np.array(gammas, dtype=np.float64)
    _checked_grid(planes, gammas)
    return planes, gammas


def _checked_grid(planes: Floats, gammas: Floats) -> None:
    if not len(planes) or planes[0] < 0 or planes[-1] >= 360.0 or (np.diff(planes) <= 0).any():
        raise ValueError("C-planes must rise from 0° to under 360°")
    if len(gammas) < 2 or gammas[0] != 0.0 or gammas[-1] != 180.0 or (np.diff(gammas) <= 0).any():
        raise ValueError("γ must rise from 0° to 180°")


def _of_node_flux(node: Floats, planes: Floats, gammas: Floats) -> Intensity:
    """Intensity whose nodes stand for the given flux (p, g) [lm]."""
    solid_angle = weights(planes, gammas)
    candela = node / solid_angle
    # All planes meet at the poles, where there is one direction and so one intensity.
    for pole in (0, -1):
        candela[:, pole] = node[:, pole].sum() / solid_angle[:, pole].sum()
    return Intensity(planes, gammas, candela)


def _plane_weights(planes: Floats) -> Floats:
    """Share of the turn that each plane stands for [rad], (p,): half the way to each neighbour."""
    steps = np.diff(np.append(planes, planes[0] + 360.0))
    return np.asarray(np.radians(steps + np.roll(steps, 1)) / 2.0)


def _hat_integrals(gammas: Floats) -> Floats:
    """∫ hat(γ) sin γ dγ of each node (g,).

    By parts, between nodes a and b with h = b − a: falling from a it is cos a − (sin b − sin a)/h,
    rising to b it is (sin b − sin a)/h − cos b.
    """
    angle = np.radians(gammas)
    slope = np.diff(np.sin(angle)) / np.diff(angle)
    total = np.zeros(len(gammas))
    total[:-1] += np.cos(angle[:-1]) - slope
    total[1:] += slope - np.cos(angle[1:])
    return total


def _between(nodes: Floats, value: Floats) -> tuple[NDArray[np.int64], Floats]:
    """Which step of rising ``nodes`` each value lies in, and how far along it (0 to 1)."""
    low = np.clip(np.searchsorted(nodes, value, side="right") - 1, 0, len(nodes) - 2)
    return low, np.asarray(np.clip((value - nodes[low]) / (nodes[low + 1] - nodes[low]), 0.0, 1.0))
