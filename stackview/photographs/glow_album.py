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
from stackview.photographs.cleaned import cleaned, gap_shares, one_hue, thin_gaps
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
    scene: GlowScene, room: Room, place: PhotographPlace, *, seed: int, variant: str = engine.STEADY
) -> Singles:
    """The lamp switched off in its room by day, cleaned: luminance by channel (h, w, 3) [cd/m²]."""
    built = engine.built(unlit(scene), replace(room, around=daylight(place.camera.bearing)), variant)
    light = engine.photographed(built, place.camera, _DAY_SAMPLES, seed)
    return cleaned(light, place.seen, place.taken)


def dark_gaps(
    scene: GlowScene, place: PhotographPlace, day: Singles, shape: tuple[int, ...]
) -> NDArray[np.bool_]:
    """Pixels (h, w) of a look that show a thin gap between opaque parts, dark by daylight (:func:`daylight_of`).

    Few ways of light find their way out of one, so that it takes many for a picture without specks. ``shape`` : (h, w)
    of the look, as fine as the photographs or twice.
    """
    gaps = thin_gaps(day, _shows(scene, place.seen, "opaque"))
    times = shape[1] // gaps.shape[1]
    found = np.zeros(shape, np.bool_)
    fine = gaps.repeat(times, axis=0).repeat(times, axis=1)
    found[: len(fine), : fine.shape[1]] = fine
    return found


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
    opaque = _shows(scene, seen, "opaque")
    gaps = None if day is None else gap_shares(day, opaque)
    # The denoiser would make a spot of a lone way.
    lamp = cleaned(without_lone_ways(raw, ~opaque), seen, taken, gaps)
    lamp = one_hue(lamp, seen.albedo, opaque)
    # Light that opal has spread has one colour far around, too.
    lamp = one_hue(lamp, seen.albedo, _shows(scene, seen, "opal"))
    # Denoising shifts the peaks of light points, bare or through clear plates: the map keeps those as rendered.
    sharp = (seen.part == LIGHT_FACE) | _shows(scene, seen, "clear")
    # But for single pixels that chance has lit, but a light point's own.
    steady = without_fireflies(raw, seen.part == LIGHT_FACE)
    true = np.where(sharp[..., None], steady, lamp) + (0.0 if day is None else dimmed(day))
    brightest = float(luminance_of(without_fireflies(look.raw, look.seen.part == LIGHT_FACE)).max())
    # The map ends what it is told by a full stop of its own.
    under = f"{viewpoint}. {unfinished.rstrip('.')}" if unfinished else viewpoint
    drawn = {"evening": lamplit(lamp, day, taken)}
    if day is not None:
        drawn["day"] = daylit(lamp, day, taken)
    if unfinished:
        drawn = {own: told_under(picture, unfinished) for own, picture in drawn.items()}
    drawn["luminance"] = luminance_map(luminance_of(np.asarray(true, np.float32)), name, under, brightest)
    return drawn


def _shows(scene: GlowScene, seen: FirstSeen, sort: str) -> NDArray[np.bool_]:
    """Whether each pixel (h, w) shows a part of this sort."""
    return np.isin(seen.part, [number for number, part in enumerate(scene.placed) if part.sort == sort])


def _halved(image: Singles) -> Singles:
    """Image (h, w, 3) of half the width and height, each pixel the mean of four that no other shares.

    Shared ones would have their noise in common, and the denoiser takes that for a pattern.
    """
    height, width, _ = image.shape
    return shrunk(image[: height // 2 * 2, : width // 2 * 2], 2)
