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
LARGE = 240
"""Pixels across the photographs that are smooth."""


@cache
def light_of(
    roughness: float,
    sanded: SandedSides = "both",
    distance: float = 25.0,
    span: float = 50.0,
    aside: tuple[float, float] = (0.0, 0.0),
    leds: tuple[tuple[float, float], ...] = ((0.0, 0.0),),
    samples: int = 64,
    tilt: float = 0.0,
) -> NDArray[np.float64]:
    """What the camera sees of an offcut 4 mm thick and 90 mm wide, 1 at the brightest; ``span`` mm across."""
    offcut = Offcut(distance, 4.0, roughness, sanded, 90.0)
    scene = built(offcut_scene(offcut, np.array(leds), LED), DARK, quick())
    field = float(2.0 * np.degrees(np.arctan(span / 2.0 / CAMERA)))
    camera = Camera(0.0, 90.0 - tilt, CAMERA, (*aside, offcut.thickness), field, (PIXELS, PIXELS))
    picture = photographed(scene, camera, samples, 77)[..., 1].astype(np.float64)
    return picture / np.sort(picture.ravel())[-20]


@cache
def smooth_light_of(
    roughness: float, sanded: SandedSides, distance: float, span: float, samples: int, tilt: float
) -> NDArray[np.float64]:
    """The same without the rendering's noise: its means round the spot's middle, and twice as many pixels.

    A camera's own noise comes later; a rendering's bright grains are none that a camera has. Seen
    aslant the spot stays round.
    """
    light = light_of(roughness, sanded, distance, span, samples=samples, tilt=tilt)
    y, x = np.indices(light.shape) + 0.5
    bright = np.where(light > 0.3, light, 0.0)
    middle = (x * bright).sum() / bright.sum(), (y * bright).sum() / bright.sum()
    if tilt == 0.0:
        middle = (PIXELS / 2.0, PIXELS / 2.0)
    radius = np.hypot(x - middle[0], y - middle[1]).ravel()
    edges = np.concatenate([np.arange(0.0, 18.0), np.geomspace(18.0, 1.5 * PIXELS, 16)])
    count = np.histogram(radius, edges)[0]
    held = count > 0
    mean = np.log(np.maximum(np.histogram(radius, edges, weights=light.ravel())[0][held] / count[held], 1e-6))
    at = np.histogram(radius, edges, weights=radius)[0][held] / count[held]
    half = np.sqrt((light > 0.5).sum() / np.pi)
    # Rings of the middle have few pixels: there the spot is a smooth cap, even in the radius.
    near = at < half
    cap = np.polynomial.Polynomial.fit(at[near] ** 2, mean[near], 2, w=np.sqrt(count[held][near]))
    y, x = (np.indices((LARGE, LARGE)) + 0.5) * PIXELS / LARGE
    away = np.hypot(x - middle[0], y - middle[1])
    level = np.where(away < 0.7 * half, cap(np.minimum(away, half) ** 2), np.interp(away, at, mean))
    return np.exp(level - level.max())


def exposed(
    light: NDArray[np.float64],
    exposure: float,
    noise: float = 0.004,
    blur: bool = False,
    room: float = 0.004,
    lens: float = 0.0,
    seed: int = 7,
) -> NDArray[np.float64]:
    """What the sensor makes of it, 0 to 1: exposure, a lens a little out of focus that darkens to the frame's
    corners by cos⁴ (``lens`` the squared tangent there), shot noise, clipping."""
    seen = light * exposure + room
    if blur:
        for axis in (0, 1):
            seen = (np.roll(seen, 1, axis) + 2.0 * seen + np.roll(seen, -1, axis)) / 4.0
    tall, wide = seen.shape
    y, x = np.indices(seen.shape) + 0.5
    corner = ((x - wide / 2) ** 2 + (y - tall / 2) ** 2) / ((wide / 2) ** 2 + (tall / 2) ** 2)
    seen = seen / (1.0 + lens * corner) ** 2
    rng = np.random.default_rng(seed)
    return np.clip(
        seen + noise * np.sqrt(np.maximum(seen, 0.0) + 1e-3) * rng.normal(size=seen.shape), 0.0, 1.0
    )


def srgb(light: NDArray[np.float64]) -> NDArray[np.uint8]:
    """8-bit sRGB (IEC 61966-2-1)."""
    return in_8_bits(by_srgb(light))


def by_srgb(light: NDArray[np.float64]) -> NDArray[np.float64]:
    """The curve of sRGB (IEC 61966-2-1)."""
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)


def by_an_s(steep: float):  # type: ignore[no-untyped-def]
    """A phone's: sRGB with a shoulder, then a logistic S of contrast; not of the program's own family."""

    def curve(light: NDArray[np.float64]) -> NDArray[np.float64]:
        plain = np.clip(by_srgb(light / (1.0 + 0.3 * light) * 1.3), 0.0, 1.0)

        def bent(value):  # type: ignore[no-untyped-def]
            return 1.0 / (1.0 + np.exp(-steep * (value - 0.45)))

        return (bent(plain) - bent(0.0)) / (bent(1.0) - bent(0.0))

    return curve


CURVES = {
    "srgb": by_srgb,
    "phone": by_an_s(5.0),
    "soft phone": by_an_s(3.0),
    "log": lambda light: np.log1p(400.0 * light) / np.log1p(400.0),
    "film log": lambda light: np.clip((0.25 * np.log10(5.56 * light + 0.05) + 0.326) / 0.89, 0.0, 1.0),
    "square root": np.sqrt,
}
"""Tone curves that cameras may have."""


def in_8_bits(values: NDArray[np.float64]) -> NDArray[np.uint8]:
    return np.round(255.0 * np.clip(values, 0.0, 1.0)).astype(np.uint8)


def save_jpeg(light: NDArray[np.float64], file: Path, quality: int = 85, curve: str = "srgb") -> Path:
    values = in_8_bits(CURVES[curve](light))
    Image.fromarray(np.repeat(values[..., None], 3, axis=2)).save(file, quality=quality)
    return file


def save_linear(light: NDArray[np.float64], file: Path) -> Path:
    """16-bit greyscale, linear."""
    Image.fromarray(np.round(65535.0 * light).astype(np.uint16)).save(file)
    return file
