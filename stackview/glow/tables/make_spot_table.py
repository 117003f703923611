"""Makes ``spots.npz``: how an LED's spot on a sanded sheet looks.

Run it with ``python -m stackview.glow.tables.make_spot_table``; it needs the glow extra.

One small Lambertian LED of 1 cd behind a wide sheet, seen straight on from far away, for a range of
roughness, of thickness over distance, and for both or one face sanded; luminance by radius, from
nested square pictures whose pixels are gathered in rings. Everything scales: radius and thickness
are kept over the LED's distance d, luminance as L·d²/I0. It took half an hour on two busy cores.
"""

import sys
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np

from stackview.arrays import Floats
from stackview.glow.engine import built, photographed
from stackview.glow.offcut import SIDES, Offcut, SandedSides, offcut_scene
from stackview.glow.proving import best_variant
from stackview.glow.room import DARK
from stackview.glow.scene import GlowScene
from stackview.sight.camera import Camera
from stackview.sight.refraction import INDEX

_ROUGHNESS = (0.02, 0.03, 0.045, 0.065, 0.1, 0.14, 0.2, 0.28, 0.4, 0.5, 0.6)
_DEPTH = (0.04, 0.08, 0.16, 0.32, 0.64, 1.28)
"""Thickness of the sheet over the LED's distance."""
HALVES = (0.015, 0.06, 0.24, 0.96, 3.84, 8.0)
"""Half-widths of the nested pictures, over the distance."""
RINGS = (20, 10, 10, 10, 10, 6)
_DISTANCE, _FAR, _WIDE, _LED, _PIXELS = 20.0, 500.0, 40.0, 0.002, 64
"""The LED's distance [mm]; the camera's, the sheet's half-width and the LED's radius over that; pixels across."""


def ring_edges(level: int) -> Floats:
    """Edges of the rings that one of the nested pictures fills, over the distance."""
    inner = 0.001 if level == 0 else HALVES[level - 1]
    return np.geomspace(inner, HALVES[level], RINGS[level] + 1)


def radii() -> Floats:
    """Radii of the rings, over the distance."""
    return np.concatenate([np.sqrt(edge[1:] * edge[:-1]) for edge in map(ring_edges, range(len(HALVES)))])


def profile(roughness: float, depth: float, sanded: SandedSides, samples: int, seed: int = 0) -> Floats:
    """Luminance over I0/d² at :func:`radii`, from ``samples`` ways of light through each pixel."""
    found = []
    for level, half in enumerate(HALVES):
        each = samples * (4 if half > 1.0 else 1)
        seen = _reversed if sanded == "eye-side" else _forwards
        radius, light = seen(roughness, depth, sanded, half, each, seed)
        found.append(_rings(radius, light, ring_edges(level)))
    return calmed(_falling(np.concatenate(found), radii()), roughness)


def _forwards(
    roughness: float, depth: float, sanded: SandedSides, half: float, samples: int, seed: int
) -> tuple[Floats, Floats]:
    """Radius and luminance of each pixel of one picture, seen from far away."""
    offcut = Offcut(_DISTANCE, depth * _DISTANCE, roughness, sanded, 2.0 * _WIDE * _DISTANCE)
    scene = offcut_scene(offcut, np.zeros((1, 2)), _LED * _DISTANCE)
    picture = _picture(scene, offcut.thickness, _FAR, half / _FAR, samples, seed)
    return _tangents(half), picture * _DISTANCE**2


def _reversed(
    roughness: float, depth: float, sanded: SandedSides, half: float, samples: int, seed: int
) -> tuple[Floats, Floats]:
    """The same through a clear lamp side, with light going the other way: the camera where the LED was.

    Forwards, only light that strikes the small LED by chance would count. With light of
    illuminance E from far away, L(θ) seen from the LED's place is T·f·E (f: what the rough face
    sends on, T: what the clear face passes); forwards the LED lights the rough face at
    r = d·tan θ + t·tan θ' by T·I0·cos θ·dω/dA, and L(r) = f times that (reciprocity, Veach 1997,
    5.2). Light that goes to and fro in the sheet is thereby counted where it first strikes.
    """
    del sanded
    offcut = Offcut(_FAR * _DISTANCE, depth * _DISTANCE, roughness, "lamp-side", 2.0 * _WIDE * _DISTANCE)
    scene = offcut_scene(offcut, np.zeros((1, 2)), _LED * _FAR * _DISTANCE)
    reach = _slope_at(half, depth)
    seen = _picture(scene, offcut.thickness, 1.0, reach, samples, seed) * (_FAR * _DISTANCE) ** 2
    slope = np.maximum(_tangents(reach), 1e-6)
    cosine = 1.0 / np.sqrt(1.0 + slope**2)
    # dr/dx of r = x + depth·tan θ', tan θ' = x/√(n² + (n² − 1)·x²).
    root = np.sqrt(INDEX**2 + (INDEX**2 - 1.0) * slope**2)
    radius = slope + depth * slope / root
    grows = 1.0 + depth * INDEX**2 / root**3
    return radius, seen * cosine**4 * slope / radius / grows


def _slope_at(radius: float, depth: float) -> float:
    """Slope tan θ of the ray from the LED that meets the sheet's far face at a radius."""
    slope = np.geomspace(1e-4, 20.0, 4000)
    along = slope + depth * slope / np.sqrt(INDEX**2 + (INDEX**2 - 1.0) * slope**2)
    return float(np.interp(radius, along, slope))


def _picture(scene: GlowScene, top: float, far: float, reach: float, samples: int, seed: int) -> Floats:
    """Picture of the sheet's top from ``far`` distances, ``reach`` the tangent of half its field."""
    field = float(2.0 * np.degrees(np.arctan(reach)))
    camera = Camera(0.0, 90.0, far * _DISTANCE, (0.0, 0.0, top), field, (_PIXELS, _PIXELS))
    return photographed(built(scene, DARK, best_variant().name), camera, samples, seed)[..., 1].astype(
        np.float64
    )


def _tangents(half: float) -> Floats:
    """Distance of each pixel (h, w) from the picture's middle, ``half`` at its sides."""
    place = ((np.arange(_PIXELS) + 0.5) / _PIXELS * 2.0 - 1.0) * half
    return np.asarray(np.hypot(*np.meshgrid(place, place)))


def _rings(radius: Floats, light: Floats, ring: Floats) -> Floats:
    """Mean in each ring; not a number where no pixel lies in it."""
    which = np.digitize(radius.ravel(), ring) - 1
    inside = (which >= 0) & (which < len(ring) - 1)
    count = np.bincount(which[inside], minlength=len(ring) - 1)
    total = np.bincount(which[inside], light.ravel()[inside], minlength=len(ring) - 1)
    return np.asarray(np.where(count > 0, total / np.maximum(count, 1), np.nan))


def _falling(values: Floats, radius: Floats) -> Floats:
    """The nearest profile that nowhere rises outwards (pool adjacent violators), rings weighted by width."""
    known = np.flatnonzero(np.isfinite(values))
    groups: list[list[float]] = []
    for index in known:
        groups.append([float(values[index]), float(radius[index] ** 2), 1.0])
        while len(groups) > 1 and groups[-1][0] > groups[-2][0]:
            last, before = groups.pop(), groups.pop()
            weight = last[1] + before[1]
            groups.append([(last[0] * last[1] + before[0] * before[1]) / weight, weight, last[2] + before[2]])
    level = np.concatenate([np.full(int(count), value) for value, _, count in groups])
    return np.asarray(np.interp(np.log(radius), np.log(radius[known]), np.maximum(level, 1e-9)))


def calmed(values: Floats, roughness: float) -> Floats:
    """The innermost tenth of a spot as one mean, by area: there it is flat within 1 %, and rings are few."""
    radius = radii()
    flat = radius <= 0.1 * 0.49 * roughness
    if not flat.any():
        return values
    mean = float((values[flat] * radius[flat] ** 2).sum() / (radius[flat] ** 2).sum())
    return np.where(flat, mean, values)


def make_spot_table(samples: int = 96) -> None:
    """Render every profile and write the table beside this file."""
    table: dict[str, Floats] = {}
    for sanded in SIDES:
        share = 1.0 if sanded == "both" else 0.25
        rows = []
        for roughness in _ROUGHNESS:
            each = [profile(roughness, depth, sanded, round(samples * share)) for depth in _DEPTH]
            rows.append(np.log10(np.array(each)))
            sys.stderr.write(f"{sanded} {roughness:g}\n")
        table[sanded] = np.array(rows, np.float32)
    held: dict[str, Any] = {
        "radius": radii().astype(np.float32),
        "roughness": np.array(_ROUGHNESS),
        "depth": np.array(_DEPTH),
        "samples": np.array([samples]),
        "renderer": np.array([version("mitsuba")]),
        **{name.replace("-", "_"): values for name, values in table.items()},
    }
    np.savez_compressed(Path(__file__).with_name("spots.npz"), **held)


if __name__ == "__main__":
    make_spot_table(*map(int, sys.argv[1:2]))
