"""Sixty photographs of known roughness, each with its own camera, curve and mistakes of the maker."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from stackview.glow.finish_fit import FinishFit, fit_finish
from stackview.glow.offcut import SandedSides
from stackview.glow.photograph import read_photograph
from stackview.glow.spot_model import Setup
from stackview.glow.step_sheet import DRAWN_SHARES, ToneSteps, read_steps
from tests.glow.photographs import (
    CAMERA,
    CURVES,
    LARGE,
    SIDE,
    exposed,
    save_jpeg,
    save_linear,
    smooth_light_of,
)

_LIGHTS: tuple[tuple[float, SandedSides, float, float, int, float], ...] = (
    (0.06, "both", 25.0, 24.0, 192, 0.0),
    (0.11, "both", 25.0, 36.0, 192, 0.0),
    (0.2, "both", 30.0, 60.0, 256, 8.0),
    (0.3, "both", 25.0, 70.0, 256, 0.0),
    (0.42, "both", 20.0, 70.0, 256, 6.0),
    (0.25, "lamp-side", 30.0, 56.0, 192, 5.0),
    (0.15, "both", 25.0, 44.0, 192, 15.0),
)
"""Roughness, sanded faces, distance, span, samples and tilt."""
KINDS = ("one", "two told", "three told", "two untold", "linear", "steps")
"""What the maker has: one photograph; exposures that are told or not; a linear file; one and a sheet of steps."""
_EXPOSURES = {"two told": (0.25, 1.0), "three told": (0.15, 0.6, 2.0), "two untold": (0.25, 1.0)}


@dataclass(frozen=True)
class Case:
    kind: str
    curve: str
    roughness: float
    fit: FinishFit

    @property
    def holds(self) -> bool:
        return self.fit.low <= self.roughness <= self.fit.high

    @property
    def off(self) -> float:
        """How far off it is, as a share of the truth."""
        return abs(self.fit.roughness / self.roughness - 1.0)


def case(number: int, folder: Path, seed: int = 1) -> Case:
    """One of the cases; the maker measures lengths to 2 % and the tilt to 3°."""
    rng = np.random.default_rng([seed, number])
    roughness, sanded, distance, span, samples, tilt = _LIGHTS[number % len(_LIGHTS)]
    kind, curve = KINDS[number % len(KINDS)], list(CURVES)[int(rng.integers(len(CURVES)))]
    light = smooth_light_of(roughness, sanded, distance, span, samples, tilt)
    ratios = _EXPOSURES.get(kind, (1.0,))
    level, lens, room = rng.uniform(0.4, 0.7), rng.uniform(0.0, 0.3), rng.uniform(0.0, 0.008)
    noise, quality = rng.uniform(0.002, 0.01), int(rng.integers(70, 95))
    photographs = []
    for index, ratio in enumerate(ratios):
        seen = exposed(light, level * ratio, noise, room=room * ratio, lens=lens, seed=number + index)
        file = folder / f"{number}-{index}"
        saved = (
            save_linear(seen, file.with_suffix(".tif"))
            if kind == "linear"
            else save_jpeg(seen, file.with_suffix(".jpg"), quality, curve)
        )
        photographs.append(read_photograph(saved))
    camera = None if rng.random() < 0.3 else CAMERA * rng.normal(1.0, 0.04)
    setup = Setup(
        distance * rng.normal(1.0, 0.02),
        4.0,
        span / LARGE * rng.normal(1.0, 0.015),
        sanded,
        SIDE * rng.normal(1.0, 0.08),
        camera,
        None if tilt <= 8.0 else tilt + rng.normal(0.0, 3.0),
    )
    told = tuple(ratio * float(np.exp(rng.normal(0.0, 0.02))) for ratio in ratios)
    steps = printed_steps(folder, curve, rng) if kind == "steps" else None
    exposures = told if kind.endswith(" told") else None
    return Case(kind, curve, roughness, fit_finish(photographs, setup, exposures=exposures, steps=steps))


def printed_steps(folder: Path, curve: str, rng: np.random.Generator) -> ToneSteps:
    """Our sheet as a printer makes it and a camera with that curve sees it, unevenly lit."""
    gain, black, power = rng.uniform(0.03, 0.17), rng.uniform(0.03, 0.08), rng.uniform(1.1, 1.8)
    drawn = np.array(DRAWN_SHARES)
    inked = np.where((drawn > 0) & (drawn < 1), np.minimum(drawn + gain, 1.0), drawn)
    # Yule and Nielsen (1951).
    reflected = ((1.0 - inked) + inked * black ** (1.0 / power)) ** power
    light = np.repeat(np.repeat(reflected, 30)[None], 40, axis=0)
    light = light * np.linspace(1.0, rng.uniform(0.93, 1.07), light.shape[1])
    file = save_jpeg(exposed(light, rng.uniform(0.4, 0.8), 0.004, room=0.0), folder / "steps.jpg", 90, curve)
    return read_steps(read_photograph(file), None)
