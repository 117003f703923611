"""What a curve of a drawing may be, and how near to it its arcs lie."""

from collections.abc import Iterable

from stackview.description.units import Units

CURVE_TOLERANCE = 0.001
"""Greatest distance of a Bézier curve or an elliptical arc from the arcs read for it [mm]."""
MOST_VERTICES = 20_000
MOST_ACROSS, LEAST_ACROSS = 5000.0, 0.01
"""Extent that a curve may have [mm]."""
_FARTHEST = 1e10
"""Farthest from the drawing's zero that anything may lie [mm]: a double keeps 2e-6 mm there."""
MOST_REACH = 10.0 * MOST_ACROSS
"""Farthest that a Bézier's control point may lie from the curve's start [mm]: a cubic that ends
where it starts goes at least 0.28 of the way to the farther of its two, so from there on it is too large."""


class CurveError(ValueError):
    """A curve file that cannot be used; the message is meant for the maker."""


def check_near(points: Iterable[complex], units: Units) -> None:
    """Raise CurveError where a point lies so far from the drawing's zero [mm] that a part would be lost, or is none."""
    if not all(abs(point.real) <= _FARTHEST and abs(point.imag) <= _FARTHEST for point in points):
        raise CurveError(
            f"lies more than {units.show(_FARTHEST)} from the drawing's zero: move it there, or check its unit"
        )


def check_reach(begun: complex, points: Iterable[complex], units: Units) -> None:
    """Raise CurveError where a curve that begins at ``begun`` has ends or control points too far away to be read."""
    if max(abs(point - begun) for point in points) > MOST_REACH:
        raise CurveError(
            f"reaches more than {units.show(MOST_REACH)} from its start, outside {units.least(LEAST_ACROSS)} to "
            f"{units.most(MOST_ACROSS)}: check its unit"
        )


def check_half_axes(axes: Iterable[complex]) -> None:
    """Raise CurveError where an elliptical arc's half-axes [mm] are so long that its points are lost in rounding."""
    if not all(abs(axis) <= _FARTHEST for axis in axes):
        raise CurveError("has an arc with a radius of more than 10,000 km: draw a straight line there")
