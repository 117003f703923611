"""One run of an SVG's path as vertices: lines and circular arcs exactly, all else as arcs close to it."""

from typing import Any

from stackview.curves.biarcs import Vertex
from stackview.curves.curve_pieces import CurvePiece, arc, arc_places, bezier, joined, line
from stackview.description.curve_limits import (
    CURVE_TOLERANCE,
    MOST_REACH,
    MOST_VERTICES,
    CurveError,
    check_half_axes,
    check_near,
    check_reach,
)
from stackview.description.units import Units

_PLACES = 4
"""Parts of a long arc between which it is asked how far it reaches, before it is followed."""


def closed_run(run: Any, svgelements: Any, units: Units) -> tuple[float, list[Vertex]]:
    """Distance between a run's ends [mm], and its vertices; what would be far too large is not followed."""
    drawn = [
        segment
        for segment in run
        if not isinstance(segment, svgelements.Move) and segment.start is not None and segment.end is not None
    ]
    if not drawn:
        return 0.0, []
    begun = complex(drawn[0].start)
    points = [point for segment in drawn for point in _points(segment)]
    check_near([begun, *points], units)
    along = [point for segment in drawn if isinstance(segment, svgelements.Arc) for point in _along(segment)]
    check_reach(begun, [*points, *along], units)
    gap = abs(complex(drawn[-1].end) - begun)
    if gap > CURVE_TOLERANCE:
        return gap, []
    try:
        pieces = [
            _piece(segment, svgelements)
            for segment in drawn
            if segment.start != segment.end or _round(segment)
        ]
        return gap, joined(pieces, CURVE_TOLERANCE, most=MOST_VERTICES)
    except OverflowError:
        raise CurveError(f"has more than {MOST_VERTICES} vertices: draw it simpler") from None


def _points(segment: Any) -> list[complex]:
    """A segment's end and its control points."""
    named = (getattr(segment, name, None) for name in ("end", "control", "control1", "control2"))
    return [complex(point) for point in named if point is not None]


def _along(segment: Any) -> list[complex]:
    """Some places along an arc, if it is so large that it may reach too far."""
    centre, axes = _ellipse(segment)
    if max(map(abs, axes)) <= MOST_REACH / 2.0:
        return []
    return arc_places(complex(segment.start), centre, axes, float(segment.sweep), _PLACES)


def _ellipse(segment: Any) -> tuple[complex, tuple[complex, complex]]:
    """Centre and half-axes of an arc, whose points are not lost in rounding."""
    centre = complex(segment.center)
    axes = complex(segment.prx) - centre, complex(segment.pry) - centre
    check_half_axes(axes)
    return centre, axes


def _round(segment: Any) -> bool:
    """Whether a segment that ends where it starts runs round something."""
    return hasattr(segment, "sweep") or hasattr(segment, "control1")


def _piece(segment: Any, svgelements: Any) -> CurvePiece:
    start, end = complex(segment.start), complex(segment.end)
    if isinstance(segment, svgelements.Line | svgelements.Close):
        return line(start, end)
    if isinstance(segment, svgelements.Arc):
        centre, axes = _ellipse(segment)
        return arc(start, end, centre, axes, float(segment.sweep))
    if isinstance(segment, svgelements.QuadraticBezier):
        return bezier([start, complex(segment.control), end])
    return bezier([start, complex(segment.control1), complex(segment.control2), end])
