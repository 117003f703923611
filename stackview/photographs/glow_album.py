"""The pictures of a lamp that glows: evening, daylight with the lamp lit, and the map of luminance."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow import engine
from stackview.glow.gathered import luminance_of
from stackview.glow.look import Look
from stackview.glow.parts_seen import LIGHT_FACE
from stackview.glow.room import Room, daylight
from stackview.glow.scene import GlowScene, unlit
from stackview.photographs.cleaned import cleaned, one_hue
from stackview.photographs.daylit import daylit
from stackview.photographs.fireflies import without_fireflies
from stackview.photographs.lamplit import dimmed, lamplit
from stackview.photographs.luminance_map import luminance_map
from stackview.photographs.photograph import taken_from
from stackview.sight.camera import Camera

_DAY_SAMPLES = 10
"""Samples for the light of day, which comes evenly and is clean with few."""


def daylight_of(
    scene: GlowScene, room: Room, camera: Camera, *, seed: int, variant: str = engine.STEADY
) -> Singles:
    """The lamp switched off in its room by day: luminance by channel (h, w, 3) [cd/m²]."""
    built = engine.built(unlit(scene), replace(room, around=daylight(camera.bearing)), variant)
    return engine.photographed(built, camera, _DAY_SAMPLES, seed)


def drawn_glow(
    scene: GlowScene, room: Room, seen: Look, day: Singles, *, name: str, viewpoint: str
) -> Mapping[str, NDArray[np.uint8]]:
    """Pictures (h, w, 3) by name: "evening", "day" and "luminance"."""
    taken = taken_from(scene, room, seen.seen, seen.camera)
    lamp, by_day = cleaned(seen.raw, seen.seen, taken), cleaned(day, seen.seen, taken)
    opaque = [number for number, part in enumerate(scene.placed) if part.opaque]
    lamp = one_hue(lamp, seen.seen.albedo, np.isin(seen.seen.part, opaque))
    # Denoising shifts the peaks of light points, bare or through clear plates: the map keeps those as rendered.
    sharp = seen.seen.part == LIGHT_FACE
    for number, part in enumerate(scene.placed):
        if part.sort == "clear":
            sharp |= seen.seen.part == number
    # But for single pixels that chance has lit, but a light point's own.
    steady = without_fireflies(seen.raw, seen.seen.part == LIGHT_FACE)
    true = np.where(sharp[..., None], steady, lamp) + dimmed(by_day)
    return {
        "evening": lamplit(lamp, by_day, taken),
        "day": daylit(lamp, by_day, taken),
        "luminance": luminance_map(luminance_of(np.asarray(true, np.float32)), name, viewpoint),
    }
