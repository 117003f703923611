"""Pieces that a drawn curve is made of - lines, arcs, Béziers - joined into lines and circular arcs.

Points are complex numbers, x + iy [mm].
"""

import cmath
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from stackview.curves.biarcs import Smooth, Vertex, biarcs

_KINK = math.radians(0.5)
"""Pieces that meet at less than this are meant to meet smoothly: drawings round their figures [rad]."""


@dataclass(frozen=True, slots=True)
class CurvePiece:
    """One piece: its directions at both ends, and either its exact vertices or a smooth curve."""

    leaving: complex
    arriving: complex
    vertices: tuple[Vertex, ...] = ()
    smooth: Smooth | None = None


def line(start: complex, end: complex) -> CurvePiece:
    """A straight piece."""
    along = _unit(end - start)
    return CurvePiece(along, along, ((start.real, start.imag, 0.0),))


def arc(
    start: complex, end: complex, centre: complex, axes: tuple[complex, complex], sweep: float
) -> CurvePiece:
    """An arc of a circle, exact, in pieces of at most a half turn; or of an ellipse, smooth.

    ``axes`` are its two half-axes, ``sweep`` its angle in their frame [rad], positive
    counter-clockwise.
    """
    along, across = axes
    if sweep == 0.0 or along == 0 or across == 0:
        return line(start, end)
    slack = 1e-9 * abs(along)
    if abs(abs(along) - abs(across)) <= slack and abs(_share(across, along)) <= 1e-9:
        count = math.ceil(abs(sweep) / math.pi - 1e-9)
        bulge = math.tan(sweep / count / 4)
        spokes = [(start - centre) * cmath.exp(1j * sweep * index / count) for index in range(count)]
        way = 1j * math.copysign(1.0, sweep)
        places = [centre + spoke for spoke in spokes]
        return CurvePiece(
            _unit(spokes[0]) * way,
            _unit(spokes[0]) * way * cmath.exp(1j * sweep),
            tuple((point.real, point.imag, bulge) for point in places),
        )
    begun, turned = _angles(start, centre, axes, sweep)

    def point(t: float) -> complex:
        angle = begun + turned * t
        return centre + along * math.cos(angle) + across * math.sin(angle)

    def direction(t: float) -> complex:
        angle = begun + turned * t
        return _unit((across * math.cos(angle) - along * math.sin(angle)) * turned)

    return _smooth(Smooth(point, direction))


def arc_places(
    start: complex, centre: complex, axes: tuple[complex, complex], sweep: float, parts: int
) -> list[complex]:
    """Places on the arc of :func:`arc` that divide it into so many parts."""
    (along, across), (begun, turned) = axes, _angles(start, centre, axes, sweep)
    angles = [begun + turned * k / parts for k in range(1, parts)]
    return [centre + along * math.cos(angle) + across * math.sin(angle) for angle in angles]


def _angles(
    start: complex, centre: complex, axes: tuple[complex, complex], sweep: float
) -> tuple[float, float]:
    """Where an arc begins and how far it turns [rad] in the frame of its half-axes, where it is the unit circle's."""
    along, across = axes
    if along == 0 or across == 0:
        return 0.0, 0.0
    begun = math.atan2(_share(start - centre, across), _share(start - centre, along))
    return begun, sweep * math.copysign(1.0, (along.conjugate() * across).imag)


def bezier(control: Sequence[complex]) -> CurvePiece:
    """A Bézier curve of any degree, by De Casteljau's construction."""
    degree = len(control) - 1
    change = [degree * (after - before) for before, after in itertools.pairwise(control)]

    def direction(t: float) -> complex:
        here = _casteljau(change, t)
        if abs(here) > 1e-12:
            return _unit(here)
        # the control points coincide here: the direction is that of the chord to a point close by
        step = 1e-4 if t < 0.5 else -1e-4
        return _unit((_casteljau(control, t + step) - _casteljau(control, t)) / step)

    return _smooth(Smooth(lambda t: _casteljau(control, t), direction))


def _casteljau(control: Sequence[complex], t: float) -> complex:
    while len(control) > 1:
        control = [before + (after - before) * t for before, after in itertools.pairwise(control)]
    return control[0]


def _smooth(curve: Smooth) -> CurvePiece:
    return CurvePiece(curve.direction(0.0), curve.direction(1.0), smooth=curve)


def _unit(value: complex) -> complex:
    return value / abs(value) if value else 1 + 0j


def _share(value: complex, axis: complex) -> float:
    return (value * axis.conjugate()).real / abs(axis) ** 2


def joined(pieces: Sequence[CurvePiece], tolerance: float, *, most: int) -> list[Vertex]:
    """The vertices of a closed run of pieces.

    Where two pieces meet at less than :data:`_KINK`, they are made to meet without a kink: a
    smooth piece takes the direction of an exact neighbour, two smooth ones the mean of theirs.

    Raises
    ------
    OverflowError
        more than ``most`` vertices
    """
    made: list[Vertex] = []
    for index, piece in enumerate(pieces):
        if piece.smooth is None:
            made += piece.vertices
        else:
            before, after = pieces[index - 1], pieces[(index + 1) % len(pieces)]
            leaving = _shared(piece.leaving, before.arriving, before.smooth is not None)
            arriving = _shared(piece.arriving, after.leaving, after.smooth is not None)
            made += biarcs(piece.smooth, tolerance, most=most, leaving=leaving, arriving=arriving)
        if len(made) > most:
            raise OverflowError
    return made


def _shared(own: complex, other: complex, both_smooth: bool) -> complex:
    if abs(cmath.phase(other / own)) > _KINK:
        return own
    return _unit(own + other) if both_smooth else other
