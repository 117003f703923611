"""The pictures of a lamp that glows: evening, daylight with the lamp lit, and the map of luminance."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow import engine
from stackview.glow.gathered import luminance_of
from stackview.glow.look import PICTURE_PIXELS, Look
from stackview.glow.parts_seen import (
    LIGHT_FACE,
    FirstSeen,
    PartsSeen,
    half_as_fine,
    parts_by_fours,
    parts_seen,
)
from stackview.glow.room import Room, daylight
from stackview.glow.scene import GlowScene, unlit
from stackview.photographs.cleaned import cleaned, gaps_evened, one_hue
from stackview.photographs.daylit import daylit
from stackview.photographs.fireflies import without_fireflies, without_lone_ways
from stackview.photographs.lamplit import dimmed, lamplit
from stackview.photographs.luminance_map import luminance_map
from stackview.photographs.photograph import Taken, taken_from
from stackview.photographs.unfinished import told_under
from stackview.sight.camera import Camera
from stackview.stills.finish import shrunk

_DAY_SAMPLES = 6
"""Samples for the light of day, which comes evenly and is clean with few."""


@dataclass(frozen=True, slots=True, eq=False)
class PhotographPlace:
    """What the photographs of a lamp from one place take besides light.

    looked : what the pixels of the look show that they are made of, ``seen`` what their own do.
    """

    camera: Camera
    seen: PartsSeen
    taken: Taken
    looked: FirstSeen


def photographs_from(camera: Camera) -> Camera:
    """The camera of the photographs for a look that is as fine as the eye: the same, or half as fine."""
    width, height = camera.size
    if width * height <= PICTURE_PIXELS:
        return camera
    return half_as_fine(camera)


def photograph_place(scene: GlowScene, room: Room, camera: Camera) -> PhotographPlace:
    """Everything about the photographs of a look by a camera that no light is needed for."""
    own = photographs_from(camera)
    looked: FirstSeen
    if own.size == camera.size:
        looked = seen = parts_seen(scene, room, camera)
    else:
        looked, seen = parts_by_fours(scene, room, camera)
    return PhotographPlace(own, seen, taken_from(scene, room, seen, own), looked)


def daylight_of(
    scene: GlowScene, room: Room, camera: Camera, *, seed: int, variant: str = engine.STEADY
) -> Singles:
    """The lamp switched off in its room by day: luminance by channel (h, w, 3) [cd/m²]."""
    built = engine.built(unlit(scene), replace(room, around=daylight(camera.bearing)), variant)
    return engine.photographed(built, camera, _DAY_SAMPLES, seed)


def drawn_glow(
    scene: GlowScene,
    place: PhotographPlace,
    look: Look,
    day: Singles | None,
    *,
    name: str,
    viewpoint: str,
    unfinished: str = "",
) -> Mapping[str, NDArray[np.uint8]]:
    """Pictures (h, w, 3) by name: "evening", "day" and "luminance"; without the light of ``day`` no day.

    ``unfinished`` : in words, what they lack, told under each.
    """
    seen, taken = place.seen, place.taken
    raw = look.raw if look.camera.size == place.camera.size else _halved(look.raw)
    opaque = np.isin(seen.part, [number for number, part in enumerate(scene.placed) if part.opaque])
    # The denoiser would make a spot of it.
    lamp = cleaned(without_lone_ways(raw, ~opaque), seen, taken)
    by_day = None if day is None else cleaned(day, seen, taken)
    lamp = one_hue(lamp, seen.albedo, opaque)
    # Light that opal has spread has one colour far around, too.
    opal = np.isin(seen.part, [number for number, part in enumerate(scene.placed) if part.sort == "opal"])
    lamp = one_hue(lamp, seen.albedo, opal)
    if by_day is not None and taken.believed is not None:
        lamp = gaps_evened(lamp, by_day, opaque, taken.believed)
    # Denoising shifts the peaks of light points, bare or through clear plates: the map keeps those as rendered.
    sharp = seen.part == LIGHT_FACE
    for number, part in enumerate(scene.placed):
        if part.sort == "clear":
            sharp |= seen.part == number
    # But for single pixels that chance has lit, but a light point's own.
    steady = without_fireflies(raw, seen.part == LIGHT_FACE)
    true = np.where(sharp[..., None], steady, lamp) + (0.0 if by_day is None else dimmed(by_day))
    brightest = float(luminance_of(without_fireflies(look.raw, look.seen.part == LIGHT_FACE)).max())
    # The map ends what it is told by a full stop of its own.
    under = f"{viewpoint}. {unfinished.rstrip('.')}" if unfinished else viewpoint
    drawn = {"evening": lamplit(lamp, by_day, taken)}
    if by_day is not None:
        drawn["day"] = daylit(lamp, by_day, taken)
    if unfinished:
        drawn = {own: told_under(picture, unfinished) for own, picture in drawn.items()}
    drawn["luminance"] = luminance_map(luminance_of(np.asarray(true, np.float32)), name, under, brightest)
    return drawn


def _halved(image: Singles) -> Singles:
    """Image (h, w, 3) of half the width and height, each pixel the mean of four that no other shares.

    Shared ones would have their noise in common, and the denoiser takes that for a pattern.
    """
    height, width, _ = image.shape
    return shrunk(image[: height // 2 * 2, : width // 2 * 2], 2)
