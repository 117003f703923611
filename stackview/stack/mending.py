"""What would let a layer seat in a recess that is too tight for it: the numbers, found exactly."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import radians, sin

from stackview.by_value import by_value
from stackview.curves.fit import Fit, inside
from stackview.description.lamp import Layer, Recess
from stackview.description.units import Units
from stackview.errors import SolidError
from stackview.findings import Way
from stackview.stack.footprint import pieces, pocket_of

_FINE = 1e-4
"""Mends are found to this [mm], on the safe side."""


_KEPT = 1_000_000
"""Fits and mends kept for further variants of a lamp, each [bytes]."""


def fit_in(layer: Layer, host: Layer, recess: Recess) -> Fit:
    """Whether every piece of a layer fits inside a recess, on the exact curves; the worst piece.

    Pieces around the axis may each have a recess of their own, cut as deep into the same face: then
    each counts with the one that takes it best, if this recess is that of any.
    """
    pocket, parts = pocket_of(host, recess), pieces(layer)
    whole = max((inside(piece, pocket) for piece in parts), key=lambda fit: fit.by)
    if whole.fits or len(parts) == 1:
        return whole
    alike = [one for one in host.recesses if (one.face, one.depth) == (recess.face, recess.depth)]
    pockets = [pocket_of(host, one) for one in alike]
    own = [min((inside(piece, one) for one in pockets), key=lambda fit: fit.by) for piece in parts if pockets]
    if not own or not any(inside(piece, pocket).fits for piece in parts):
        return whole
    return max(own, key=lambda fit: fit.by)


def ways_to_seat(layer: Layer, host: Layer, recess: Recess) -> tuple[Way, ...]:
    """What could let the layer drop into the recess, each change by itself, by the exact fit."""
    found = _found(layer, host, recess)
    ways = []
    if found.wider is not None:
        key = f"clearance of recess {host.recesses.index(recess)}"
        ways.append(Way(host.name, key, recess.clearance, recess.clearance + found.wider))
    corners = layer.outline.shape.corners()
    if found.corners is not None and corners is not None:
        ways.append(Way(layer.name, "corner of outline", corners.radius + layer.outline.grow, found.corners))
    if found.cutter is not None:
        ways.append(Way("", "cutter", 2.0 * recess.outline.cutter_radius, found.cutter))
    return tuple(ways)


def how_to_seat(layer: Layer, host: Layer, recess: Recess, units: Units) -> str:
    """What is cut on the part itself, beside the numbers of the file that could be changed."""
    found, relief = _found(layer, host, recess), _relief(layer, recess)
    if relief is not None and found.corners is not None:
        return (
            "Beside a change of the file: relieve each corner of the recess with the same cutter, set "
            f"{units.show(recess.outline.cutter_radius)} from the corner, which takes {units.show(relief)} more of "
            "the walls."
        )
    if found.wider is None and found.corners is None and found.cutter is None:
        return f"Make {layer.name} smaller, or the recess in {host.name} larger."
    return ""


def _found(layer: Layer, host: Layer, recess: Recess) -> "_Mends":
    edge, other = (replace(one.as_met, thickness=1.0, openings=(), recesses=()) for one in (layer, host))
    return _mends(edge, other, replace(recess, depth=1.0, clearance=0.0, fitted_to=None))


@dataclass(frozen=True, slots=True)
class _Mends:
    """What each change by itself would have to be [mm]; None where that change does not help."""

    corners: float | None
    """Corner radius of the layer, at least."""
    wider: float | None
    """What the recess is to be wider by on every side, at least."""
    cutter: float | None
    """Diameter of the cutter, at most."""


@by_value(_KEPT)
def _mends(layer: Layer, host: Layer, recess: Recess) -> _Mends:
    """Bisections on the exact fit: the slow part, of edges alone, so that it is kept for further variants."""
    return _Mends(
        _corner_radius(layer, host, recess), _wider(layer, host, recess), _cutter(layer, host, recess)
    )


def _least(enough: Callable[[float], bool], most: float) -> float | None:
    """The least value up to ``most`` at which ``enough`` holds, by bisection; None if it never does."""
    try:
        if not enough(most):
            return None
    except SolidError:
        return None
    low, high = 0.0, most
    while high - low > _FINE:
        middle = (low + high) / 2.0
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def _corner_radius(layer: Layer, host: Layer, recess: Recess) -> float | None:
    shape, corners = layer.outline.shape, layer.outline.shape.corners()
    if corners is None:
        return None
    now = corners.radius + layer.outline.grow

    def rounded(radius: float) -> bool:
        outline = replace(layer.outline, shape=shape.with_corner_radius(radius - layer.outline.grow))
        return fit_in(replace(layer, outline=outline), host, recess).fits

    least = _least(lambda more: rounded(now + more), recess.outline.cutter_radius)
    return None if least is None else now + least


def _relief(layer: Layer, recess: Recess) -> float | None:
    """How far a relief at each corner reaches past the walls [mm]; None where the corners are not all alike.

    A circle of the cutter's radius r through the corner of angle θ has its centre r from it on
    the bisector, r·sin(θ/2) from each wall, so it reaches r(1 − sin(θ/2)) past them: the same
    as the clearance that a sharp corner would need (plane geometry).
    """
    corners = layer.outline.shape.corners()
    if corners is None or not recess.outline.cutter_radius:
        return None
    return recess.outline.cutter_radius * (1.0 - sin(radians(corners.angle / 2.0)))


def _wider(layer: Layer, host: Layer, recess: Recess) -> float | None:
    def grown(by: float) -> bool:
        return fit_in(layer, host, replace(recess, outline=recess.outline.grown(by))).fits

    return _least(grown, max(recess.outline.cutter_radius, 1.0))


def _cutter(layer: Layer, host: Layer, recess: Recess) -> float | None:
    """The largest cutter's diameter with which it fits; None where the cutter is not to blame."""
    radius = recess.outline.cutter_radius

    def smaller(by: float) -> bool:
        return fit_in(
            layer, host, replace(recess, outline=replace(recess.outline, cutter_radius=radius - by))
        ).fits

    least = _least(smaller, radius) if radius else None
    if least is None or radius - least < 0.05:
        return None
    return 2.0 * (radius - least)
