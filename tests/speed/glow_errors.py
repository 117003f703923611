"""How often the errors that ``stackview glow`` states hold: many seeds against one long run.

``python -m tests.speed.glow_errors moor-drum kelp --seeds 20 --error 0.15 --longest 60``; it takes as long as it says.
Asked: the long run lies within the stated error in at least 60 of 100 cases, and within twice it in 90.
"""

import argparse
import sys
from pathlib import Path

import numpy as np

from stackview.commands.glow_place import place_for
from stackview.glow.flux import flux_of
from stackview.glow.gathered import PlateGlow
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import look
from stackview.glow.proving import best_variant
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import glow_scene
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"


def plates(demo: str, error: float, longest: float, seed: int) -> dict[str, PlateGlow]:
    """What one run tells of a demo's plates."""
    study = Study.read(DEMOS / f"{demo}.toml")
    place = place_for(study, eye=None, bearing=None, elevation=None, distance=None)
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    room = Room((backdrop(study.stack.placed, place.camera, stands=study.lamp.hangs_at is None),))
    pitch, variant = pitch_of(study.light.points), best_variant().name
    found = look(
        scene, room, place.camera, pitch=pitch, error=error, longest=longest, seed=seed, variant=variant
    )
    return {plate.layer: plate for plate in found.plates}


def main() -> None:
    """Print, for each figure, in how many of 100 cases the truth lies within once and twice its error."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("demos", nargs="+")
    asked.add_argument("--seeds", type=int, default=20)
    asked.add_argument("--error", type=float, default=0.15)
    asked.add_argument("--longest", type=float, default=60.0)
    wanted = asked.parse_args()
    off: dict[str, list[float]] = {"ratio": [], "peak": [], "mean": []}
    for demo in wanted.demos:
        truth = plates(demo, 0.01, 6.0 * wanted.longest, 1000)
        for seed in range(1, wanted.seeds + 1):
            for layer, told in plates(demo, wanted.error, wanted.longest, seed).items():
                true = truth[layer]
                for name, one, other, error in (
                    ("ratio", told.hot_spot_ratio, true.hot_spot_ratio, told.ratio_error),
                    ("peak", told.peak_cd_m2, true.peak_cd_m2, told.peak_error),
                    ("mean", told.mean_cd_m2, true.mean_cd_m2, told.mean_error),
                ):
                    off[name].append(abs(one - other) / max(one * error, 1e-12))
            sys.stdout.write(f"{demo}, seed {seed}\n")
            sys.stdout.flush()
    for name, values in off.items():
        within = [100.0 * float((np.array(values) < times).mean()) for times in (1.0, 2.0)]
        sys.stdout.write(f"{name}: {within[0]:.0f} % within the error, {within[1]:.0f} % within twice it\n")


if __name__ == "__main__":
    main()
