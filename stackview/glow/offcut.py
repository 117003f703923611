"""LEDs behind a flat piece of acrylic, as a scene: what a maker sets up to try a finish.

The sheet lies level with its lower face at height 0; LEDs lie below it, facing up, and the eye
looks down on it. All in mm.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from stackview.glow.scene import GlowScene, Shining, SkinFaces
from stackview.glow.skins import Clear, Sanded, Skin

SandedSides = Literal["both", "lamp-side", "eye-side"]
"""Which faces of the sheet are sanded."""
SIDES: tuple[SandedSides, ...] = ("both", "lamp-side", "eye-side")
_CORNERS = 48
_BLACK = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Offcut:
    """A square piece of clear acrylic, ``width`` across, with one or both faces sanded.

    ``distance`` is from the LEDs' faces to the near face of the sheet.
    """

    distance: float
    thickness: float
    roughness: float
    sanded: SandedSides = "both"
    width: float = 80.0


def offcut_scene(offcut: Offcut, leds: NDArray[np.float64], radius: float) -> GlowScene:
    """Scene of round Lambertian LEDs at (n, 2) [mm], each of ``radius`` and of intensity 1 cd straight up.

    Luminance L = I0/(π·radius²) of a flat Lambertian face, in cd/mm², so that pictures are in cd/mm².
    """
    turn = np.arange(_CORNERS) * (2.0 * np.pi / _CORNERS)
    # A polygon of the circle's own area.
    own = radius * np.sqrt(2.0 * np.pi / _CORNERS / np.sin(2.0 * np.pi / _CORNERS))
    rim = own * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    shapes = np.asarray(leds)[:, None] + rim[None]
    vertices = np.concatenate([shapes, np.full((*shapes.shape[:2], 1), -offcut.distance)], axis=2)
    fan = np.stack([np.zeros(_CORNERS - 2), np.arange(1, _CORNERS - 1), np.arange(2, _CORNERS)], axis=1)
    triangles = (np.arange(len(leds))[:, None, None] * _CORNERS + fan[None]).reshape(-1, 3)
    level = 1.0 / (np.pi * radius * radius)
    light = Shining(vertices.reshape(-1, 3), triangles.astype(np.int64), (level, level, level), _BLACK)
    return GlowScene((*_faces(offcut),), (light,), ())


def _faces(offcut: Offcut) -> list[SkinFaces]:
    sanded, clear = Sanded(offcut.roughness), Clear()
    lamp_side: Skin = clear if offcut.sanded == "eye-side" else sanded
    eye_side: Skin = clear if offcut.sanded == "lamp-side" else sanded
    half, top = offcut.width / 2.0, offcut.thickness
    square = np.array([[-half, -half], [half, -half], [half, half], [-half, half]])
    low, high = np.insert(square, 2, 0.0, axis=1), np.insert(square, 2, top, axis=1)
    bodies = [
        _quad("lamp side", low[::-1], np.array([0.0, 0.0, -1.0]), lamp_side),
        _quad("eye side", high, np.array([0.0, 0.0, 1.0]), eye_side),
    ]
    for k in range(4):
        n = (k + 1) % 4
        out = np.array([square[k, 0] + square[n, 0], square[k, 1] + square[n, 1], 0.0])
        bodies.append(_quad("edge", np.array([low[k], low[n], high[n], high[k]]), out / (2 * half), clear))
    return bodies


def _quad(name: str, corners: NDArray[np.float64], out: NDArray[np.float64], skin: Skin) -> SkinFaces:
    normals = np.repeat(out[None], 4, axis=0)
    return SkinFaces(name, -1, skin, np.ascontiguousarray(corners), normals, np.array([[0, 1, 2], [0, 2, 3]]))
