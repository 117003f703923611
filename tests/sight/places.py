"""Shared by the tests of rooms: what named eyes at random places see, in the words of zones."""

import numpy as np

from stackview.description.lamp import Eye
from stackview.sight.bands import Kind, even_bearings
from stackview.sight.eyes import Seen, look_from_eyes, with_corners
from stackview.sight.room import Zone
from stackview.sight.summary import Sightlines


def at_random(lines: Sightlines, number: int, bearing: float | None) -> tuple[Seen, ...]:
    """What eyes anywhere in the room see, from all round or from one bearing [°]."""
    extent, rng = lines.room.extent, np.random.default_rng(3)
    away = rng.uniform(extent.near + 5.0, extent.far, number)
    heights = rng.uniform(0.0, extent.top, number)
    eyes = tuple(
        Eye(f"eye {k}", float(r), float(z)) for k, (r, z) in enumerate(zip(away, heights, strict=True))
    )
    around = even_bearings(720) if bearing is None else np.array([bearing])
    known = lines.scene, lines.points, eyes, lines.standpoint, lines.stack.height, around
    seen = look_from_eyes(*known, beams=lines.beams)
    return with_corners(lines.scene, lines.points, seen, lines.standpoint)


def zone_of(seen: Seen) -> tuple[Zone, int]:
    """The most exposed that an eye sees at worst, and of how many points."""
    most = {kind: int(seen.counts(kind).max()) for kind in Kind}
    if most[Kind.BARE]:
        return Zone.BARE, most[Kind.BARE]
    if seen.part_bare.any():
        return Zone.PART_BARE, 0
    if most[Kind.GLAZED]:
        return Zone.GLAZED, most[Kind.GLAZED]
    if most[Kind.VEILED]:
        return Zone.VEILED, most[Kind.VEILED]
    return (Zone.PART_VEILED, 0) if seen.part_shown.any() else (Zone.NOTHING, 0)
