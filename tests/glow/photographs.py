"""Photographs of one LED behind a sanded offcut, rendered afresh: never from the program's own table."""

from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from stackview.glow.engine import built, photographed
from stackview.glow.offcut import Offcut, SandedSides, offcut_scene
from stackview.glow.room import DARK
from stackview.sight.camera import Camera
from tests.glow.bodies import quick

LED, CAMERA, PIXELS = 1.5, 400.0, 120
"""Radius of the LED, the camera's distance [mm], pixels across."""
SIDE = LED * np.sqrt(np.pi)
"""Side of a square as large as the LED [mm]."""


@cache
def light_of(
    roughness: float,
    sanded: SandedSides = "both",
    distance: float = 25.0,
    span: float = 50.0,
    aside: tuple[float, float] = (0.0, 0.0),
    leds: tuple[tuple[float, float], ...] = ((0.0, 0.0),),
    samples: int = 64,
) -> NDArray[np.float64]:
    """What the camera sees of an offcut 4 mm thick and 90 mm wide, 1 at the brightest; ``span`` mm across."""
    offcut = Offcut(distance, 4.0, roughness, sanded, 90.0)
    scene = built(offcut_scene(offcut, np.array(leds), LED), DARK, quick())
    field = float(2.0 * np.degrees(np.arctan(span / 2.0 / CAMERA)))
    camera = Camera(0.0, 90.0, CAMERA, (*aside, offcut.thickness), field, (PIXELS, PIXELS))
    picture = photographed(scene, camera, samples, 77)[..., 1].astype(np.float64)
    return picture / np.sort(picture.ravel())[-20]


def exposed(
    light: NDArray[np.float64], exposure: float, noise: float = 0.004, blur: bool = False, room: float = 0.004
) -> NDArray[np.float64]:
    """What the sensor makes of it, 0 to 1: exposure, a lens a little out of focus, shot noise, clipping."""
    seen = light * exposure + room
    if blur:
        for axis in (0, 1):
            seen = (np.roll(seen, 1, axis) + 2.0 * seen + np.roll(seen, -1, axis)) / 4.0
    rng = np.random.default_rng(7)
    return np.clip(
        seen + noise * np.sqrt(np.maximum(seen, 0.0) + 1e-3) * rng.normal(size=seen.shape), 0.0, 1.0
    )


def srgb(light: NDArray[np.float64]) -> NDArray[np.uint8]:
    """8-bit sRGB (IEC 61966-2-1)."""
    curve = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)
    return np.round(255.0 * curve).astype(np.uint8)


def save_jpeg(light: NDArray[np.float64], file: Path, quality: int = 85) -> Path:
    Image.fromarray(np.repeat(srgb(light)[..., None], 3, axis=2)).save(file, quality=quality)
    return file


def save_linear(light: NDArray[np.float64], file: Path) -> Path:
    """16-bit greyscale, linear."""
    Image.fromarray(np.round(65535.0 * light).astype(np.uint16)).save(file)
    return file
