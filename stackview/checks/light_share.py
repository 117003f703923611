"""Where the light goes: the share that leaves without meeting anything opaque, and the share that does meet it."""

from math import pi

import numpy as np

from stackview.arrays import Floats
from stackview.checks.subject import Check, Subject
from stackview.findings import Finding, Level
from stackview.in_figures import percent
from stackview.light.beam import beam_power
from stackview.light.points import LightPoints
from stackview.sight.bands import Bands, Kind
from stackview.sight.beams import WORDED, Beams

_EVERY = 8
"""One bearing in so many is summed."""
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(4)


def light_share(subject: Subject) -> tuple[Finding, ...]:
    """A note for each light: how much of it leaves without meeting anything opaque."""
    points, lines = subject.light.points, subject.sightlines
    if not len(points):
        return ()
    shares = straight_shares(points, lines.straight)
    shares[Kind.GLAZED] = glazed_shares(points, lines.beams)
    found = []
    for index, lit in enumerate(subject.light.lit):
        own = points.source == index
        bare, glazed, veiled = (float(shares[kind][own].mean()) for kind in Kind)
        lost = max(1.0 - bare - glazed - veiled, 0.0)
        found.append(
            Finding(
                check="light",
                level=Level.NOTE if lost > 0.5 else Level.FACT,
                where=f'light "{lit.light.name}"',
                parts=(lit.light.layout.carrier,),
                what=(
                    f"{percent(lost)} of its light meets wood or metal, at once or behind acrylic; out go "
                    f"{percent(bare)} through air, {percent(glazed)} through clear and {percent(veiled)} straight "
                    "through sanded or opal acrylic"
                ),
                value=100.0 * lost,
                unit="%",
                source="intensity cos^m over the open elevations; m = −ln 2/ln cos(half the beam)"
                + (f"; {WORDED}" if len(lines.beams) else ""),
                advice="Pale or white insides give back most of what falls on them." if lost > 0.5 else "",
            )
        )
    return tuple(found)


def straight_shares(points: LightPoints, bands: Bands) -> dict[Kind, Floats]:
    """Share of each light point's own light that leaves straight by each kind of band, (n,) a kind.

    The light within a band is ∫I cos(e) de dφ with I = (m + 1)/2π·cos^m γ of a flux of one, γ off the
    point's axis (IES: flux is intensity over solid angle); by Gauss's rule in elevation.
    """
    step = min(_EVERY, max(len(bands.bearings) // 8, 1))
    chosen = bands.chosen(bands.bearing % step == 0)
    bearing = np.radians(bands.bearings[chosen.bearing])
    low, high = np.radians(chosen.low), np.radians(chosen.high)
    power = beam_power(points.beams)[chosen.point]
    x, y, z = points.directions[chosen.point].T
    out = x * np.sin(bearing) - y * np.cos(bearing)
    total = np.zeros(len(chosen))
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        elevation = (low + high) / 2.0 + node * (high - low) / 2.0
        cosine = np.maximum(out * np.cos(elevation) + z * np.sin(elevation), 0.0)
        total += weight * cosine**power * np.cos(elevation)
    width = 2.0 * pi * step / len(bands.bearings)
    flux = (power + 1.0) / (2.0 * pi) * total * (high - low) / 2.0 * width
    return {
        kind: np.asarray(
            np.bincount(
                chosen.point[chosen.kind == kind], weights=flux[chosen.kind == kind], minlength=len(points)
            ),
            dtype=np.float64,
        )
        for kind in Kind
    }


def glazed_shares(points: LightPoints, beams: Beams) -> Floats:
    """Share of each light point's own light that leaves through clear acrylic (n,).

    The same intensity as in :func:`straight_shares`, over the directions in which the light of
    the traced beams sets out. What the faces themselves reflect is not taken off.
    """
    power = beam_power(points.beams)[beams.point]
    cosine = np.maximum(np.einsum("kx,kx->k", beams.sent, points.directions[beams.point]), 0.0)
    flux = (power + 1.0) / (2.0 * pi) * cosine**power * beams.angle
    return np.asarray(np.bincount(beams.point, weights=flux, minlength=len(points)), dtype=np.float64)


def _none(_: Subject) -> tuple[Finding, ...]:
    """It says how much, and asks for nothing."""
    return ()


CHECK = Check(
    name="light",
    question="How much of the light leaves straight, and how much falls on something opaque?",
    formula="∫ (m + 1)/2π · cos^m γ · cos e de dφ over the open elevations",
    source="IES definitions; cos^m emitter with m from the beam angle",
    limits=(),
    run=light_share,
    asks_sight=True,
    grave=_none,
)
