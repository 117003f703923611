"""How often the errors that ``stackview glow`` states hold: many seeds against one long run.

``python -m tests.speed.glow_errors moor-drum honeycomb``; three minutes of CPU for Moor Drum, six for Honeycomb.
The long run renders all of each plate alike and picks nothing: its ratio is that of the picture with chance taken out.
Asked: it lies within the stated error in at least 60 of 100 cases, and within twice it in 90.
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
from stackview.glow.parts_seen import first_seen
from stackview.glow.plates_seen import acrylic_window, plates_in_sight
from stackview.glow.proving import best_variant
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import glow_scene
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
STEP = 8
"""Samples of each group in one round of the long run."""


class Lamp:
    """A demo, ready to be looked at again and again."""

    def __init__(self, name: str) -> None:
        study = Study.read(DEMOS / f"{name}.toml")
        self.camera = place_for(study, eye=None, bearing=None, elevation=None, distance=None).camera
        self.scene = glow_scene(study.stack, study.light, flux_of(study.light))
        self.room = Room((backdrop(study.stack.placed, self.camera, stands=study.lamp.hangs_at is None),))
        self.pitch, self.variant = pitch_of(study.light.points), best_variant().name

    def seen(self, error: float, longest: float, seed: int) -> dict[str, PlateGlow]:
        """What one run tells of the plates."""
        more = {"pitch": self.pitch, "variant": self.variant, "error": error, "longest": longest}
        found = look(self.scene, self.room, self.camera, seed=seed, only_ratios=True, **more)
        return {plate.layer: plate for plate in found.plates}

    def long_run(self, samples: int) -> dict[str, PlateGlow]:
        """What so many samples of every pixel tell."""
        widths = eye_blur(self.camera), self.pitch * self.camera.scale
        built = engine.built(self.scene, self.room, self.variant)
        window = acrylic_window(self.scene, self.camera)
        found = {}
        for plate in plates_in_sight(self.scene, first_seen(self.scene, self.room, self.camera, window)):
            own = Gathered(plate, *widths)
            for seed in range(samples // (STEP * GROUPS)):
                place = self.camera, own.rows, own.columns
                light = engine.seen_at(built, *place, STEP, 90_000 + seed, groups=GROUPS)
                own.take(Round(np.arange(len(own.rows)), STEP), light)
            found[plate.name] = own.glow
        return found


def main() -> None:
    """Print, for each figure, in how many of 100 cases the truth lies within once and twice its error."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("demos", nargs="+")
    asked.add_argument("--seeds", type=int, default=20)
    asked.add_argument("--error", type=float, default=0.1)
    asked.add_argument("--longest", type=float, default=600.0)
    asked.add_argument("--samples", type=int, default=1024)
    wanted = asked.parse_args()
    off: dict[str, list[float]] = {"ratio": [], "peak": [], "mean": []}
    for demo in wanted.demos:
        lamp = Lamp(demo)
        truth = lamp.long_run(wanted.samples)
        for layer, true in truth.items():
            say(f"{demo} {layer}: {true.hot_spot_ratio:.3f}, {true.peak_cd_m2:.0f}, {true.mean_cd_m2:.1f}")
        for seed in range(1, wanted.seeds + 1):
            for layer, told in lamp.seen(wanted.error, wanted.longest, seed).items():
                true = truth[layer]
                each = (
                    (told.hot_spot_ratio, true.hot_spot_ratio, told.ratio_error),
                    (told.peak_cd_m2, true.peak_cd_m2, told.peak_error),
                    (told.mean_cd_m2, true.mean_cd_m2, told.mean_error),
                )
                signed = [(one - other) / max(one * error, 1e-12) for one, other, error in each]
                for values, own in zip(off.values(), signed, strict=True):
                    values.append(abs(own))
                words = "".join(
                    f" {one:.4g} ± {error:.3f} ({own:+.1f})"
                    for (one, _, error), own in zip(each, signed, strict=True)
                )
                say(f"{demo} {seed} {layer}:{words}")
    for name, values in off.items():
        within = [100.0 * float((np.array(values) < times).mean()) for times in (1.0, 2.0)]
        say(f"{name}: {within[0]:.0f} % within the error, {within[1]:.0f} % within twice it")


def say(line: str) -> None:
    """Tell how far it is."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
