"""How often the errors that ``stackview glow`` states hold: many seeds against one long run.

``python -m tests.speed.glow_errors honeycomb --truth 0.03``; two minutes of CPU for Moor Drum, seven for Honeycomb. The
long run renders all of each plate alike and picks nothing: its ratio is that of the picture with chance taken out. Where
light comes so rarely that this would take hours, ``--truth`` asks the look itself for that error, with a seed of its own.
Light out is held against the mean of all other seeds.
Asked: the truth lies within the stated error in at least 60 of 100 cases, and within twice it in 90.
"""

import argparse
import sys
from pathlib import Path

import numpy as np

from stackview.commands.glow_place import place_for
from stackview.glow import engine
from stackview.glow.flux import flux_of
from stackview.glow.gathered import GROUPS, Gathered, PlateGlow, Round
from stackview.glow.hot_spots import eye_blur, pitch_of
from stackview.glow.look import look
from stackview.glow.parts_seen import first_shown
from stackview.glow.plates_seen import acrylic_window, plates_in_sight
from stackview.glow.proving import best_variant
from stackview.glow.room import room_behind
from stackview.glow.scene import glow_scene
from stackview.spots.light_out import light_out
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
STEP = 8
"""Samples of each group in one round of the long run."""


class Lamp:
    """A demo, ready to be looked at again and again."""

    def __init__(self, name: str) -> None:
        study = Study.read(DEMOS / f"{name}.toml")
        self.camera = place_for(study, eye=None, bearing=None, elevation=None, distance=None).camera
        self.study, self.flux = study, flux_of(study.light)
        self.scene = glow_scene(study.stack, study.light, self.flux)
        self.room = room_behind(study.stack, self.camera)
        self.pitch, self.variant = pitch_of(study.light.points), best_variant().name

    def seen(self, error: float, longest: float, seed: int) -> dict[str, PlateGlow]:
        """What one run tells of the plates."""
        found = look(
            self.scene,
            self.room,
            self.camera,
            pitch=self.pitch,
            error=error,
            longest=longest,
            seed=seed,
            variant=self.variant,
            only_ratios=True,
        )
        return {plate.layer: plate for plate in found.plates}

    def light_out(self, error: float, seed: int) -> dict[str, tuple[float, float]]:
        """Lumens by layer and lux by distance, each with its error."""
        study = self.study
        found = light_out(
            self.scene,
            study.stack,
            study.light.points,
            study.sightlines,
            self.flux,
            error=error,
            seed=seed,
        )
        told = {"lm all": (found.lumens, found.error), "cd peak": (found.intensity.peak, found.peak_error)}
        told |= {f"lm {layer.name}": (layer.lumens, layer.error) for layer in found.by_layer if layer.error}
        return told | {f"lx {ring.distance:g}": (ring.mean, ring.error) for ring in found.table}

    def long_run(self, samples: int) -> dict[str, PlateGlow]:
        """What so many samples of every pixel tell."""
        widths = eye_blur(self.camera), self.pitch * self.camera.scale
        built = engine.built(self.scene, self.room, self.variant)
        window = acrylic_window(self.scene, self.camera)
        found = {}
        for plate in plates_in_sight(
            self.scene, first_shown(self.scene, self.room, self.camera, window), self.camera
        ):
            own = Gathered(plate, *widths)
            for seed in range(samples // (STEP * GROUPS)):
                place = self.camera, own.rows, own.columns
                light = engine.seen_at(built, *place, STEP, 90_000 + seed, groups=GROUPS)
                own.take(Round(np.arange(len(own.rows)), STEP), light)
            found[plate.name] = own.glow
        return found


class Count:
    """How far truths lay from what was told, in stated errors, by kind of figure."""

    def __init__(self) -> None:
        self.off: dict[str, list[float]] = {}

    def add(self, kind: str, told: float, error: float, true: float) -> float:
        """Take in one figure with its error [absolute]; how far off it is, in errors."""
        own = (told - true) / max(error, 1e-12)
        self.off.setdefault(kind, []).append(abs(own))
        return own

    def tell(self) -> None:
        """Print, for each kind, in how many of 100 cases the truth lies within once and twice the error."""
        for kind, values in self.off.items():
            within = [100.0 * float((np.array(values) < times).mean()) for times in (1.0, 2.0)]
            say(
                f"{kind}: {within[0]:.0f} % within the error, {within[1]:.0f} % within twice it, of {len(values)}"
            )


def main() -> None:
    """Print what each seed tells and how far off it is, and then how often the errors hold."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("demos", nargs="+")
    asked.add_argument("--seeds", type=int, default=20)
    asked.add_argument("--error", type=float, default=0.1)
    asked.add_argument("--longest", type=float, default=600.0)
    asked.add_argument("--samples", type=int, default=1024)
    asked.add_argument("--truth", type=float)
    asked.add_argument("--only", choices=("plates", "light"))
    wanted = asked.parse_args()
    count = Count()
    for demo in wanted.demos:
        lamp = Lamp(demo)
        if wanted.only != "plates":
            of_light(lamp, demo, wanted.error, wanted.seeds, count)
        if wanted.only != "light":
            true = lamp.seen(wanted.truth, 3_600.0, 99) if wanted.truth else lamp.long_run(wanted.samples)
            of_plates(lamp, demo, true, wanted, count)
    count.tell()


def of_plates(
    lamp: Lamp, demo: str, truth: dict[str, PlateGlow], wanted: argparse.Namespace, count: Count
) -> None:
    """Count what the seeds tell of plates."""
    for layer, true in truth.items():
        say(f"{demo} {layer}: {true.hot_spot_ratio:.3f}, {true.peak_cd_m2:.0f}, {true.mean_cd_m2:.1f}")
    for seed in range(1, wanted.seeds + 1):
        for layer, told in lamp.seen(wanted.error, wanted.longest, seed).items():
            true = truth[layer]
            words = ""
            for kind, one, error, other in (
                ("ratio", told.hot_spot_ratio, told.ratio_error, true.hot_spot_ratio),
                ("peak", told.peak_cd_m2, told.peak_error, true.peak_cd_m2),
                ("mean", told.mean_cd_m2, told.mean_error, true.mean_cd_m2),
            ):
                own = count.add(kind, one, one * error, other)
                words += f" {one:.4g} ± {error:.3f} ({own:+.1f})"
            say(f"{demo} {seed} {layer}:{words}")


def of_light(lamp: Lamp, demo: str, asked: float, seeds: int, count: Count) -> None:
    """Count what the seeds tell of the light out, each against the mean of all others."""
    runs = [lamp.light_out(asked, seed) for seed in range(1, seeds + 1)]
    for name in runs[0]:
        values = np.array([run.get(name, (0.0, 0.0)) for run in runs])
        others = (values[:, 0].sum() - values[:, 0]) / (len(values) - 1)
        off = [
            count.add(name.split(maxsplit=1)[0], one, error, other)
            for (one, error), other in zip(values.tolist(), others.tolist(), strict=True)
        ]
        words = ", ".join(f"{own:+.1f}" for own in off)
        say(f"{demo} {name}: {values[:, 0].mean():.4g} ± {values[:, 1].mean():.3g}: {words}")


def say(line: str) -> None:
    """Tell how far it is."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
