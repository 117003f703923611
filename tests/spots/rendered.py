"""Makes the renderer's figures that ``test_against_glow`` holds spots against: run by hand, some minutes a lamp.

``python -m tests.spots.rendered LAMP.toml SAMPLES`` renders what the lamp's first eye sees, in eight groups, without
a denoiser, by the faster variant where it may be used. The ratio is the geometric mean of the brightest
place's and of what is left of it without the luck of the pick; its error is the jackknife's and half of the
two's distance, both relative.
"""

import sys

import numpy as np

from stackview.glow import engine
from stackview.glow.blur import masked_blur
from stackview.glow.gathered import luminance_of
from stackview.glow.hot_spots import eye_blur, pitch_of
from stackview.glow.proving import best_variant
from stackview.glow.room import room_behind
from stackview.sight.eyes import Standpoint, eye_places
from stackview.spots.faces import optical_faces
from stackview.spots.plate_views import as_fine_as_the_eye, plate_views
from stackview.study import Study

GROUPS = 8


def rendered(study: Study, samples: int) -> dict[str, tuple[float, float, float, float]]:
    """Ratio, its relative error, mean luminance [cd/m²] and its relative standard error, by plate in sight."""
    seen, lit = study.sightlines.eyes[0], study.lit
    standpoint = Standpoint(study.stack.floor, study.lamp.surface)
    at = eye_places(seen.eye, standpoint, seen.bearings[[seen.worst]])[0]
    camera = as_fine_as_the_eye(lit.corners, at, study.stack.height)
    room = room_behind(study.stack, camera)
    views = plate_views(lit.scene, optical_faces(lit.scene, room, study.light.points, lit.colour), camera)
    built = engine.built(lit.scene, room, best_variant().name)
    widths = eye_blur(camera), pitch_of(study.light.points) * camera.scale
    found = {}
    for view in views:
        top, left = view.corner
        tall, wide = view.mask.shape
        window = slice(top, top + tall), slice(left, left + wide)
        groups = [
            luminance_of(engine.photographed(built, camera, samples // GROUPS, 1 + group, window=window))
            for group in range(GROUPS)
        ]
        found[view.layer] = told(np.stack(groups), view.mask, *widths)
    return found


def told(
    groups: np.ndarray, mask: np.ndarray, blur: float, surround: float
) -> tuple[float, float, float, float]:
    """The same of one plate's pictures (g, h, w)."""

    def ratios(picture: np.ndarray) -> np.ndarray:
        seen, around = masked_blur(picture, mask, blur), masked_blur(picture, mask, surround)
        return np.where(mask, seen / np.maximum(around, 1e-9), 0.0)

    count, total = len(groups), groups.sum(axis=0)
    rest = [ratios((total - own) / (count - 1)) for own in groups]
    most = float(ratios(total / count).max())
    unpicked = np.mean([ratios(own).flat[others.argmax()] for own, others in zip(groups, rest, strict=True)])
    peaks = np.array([others.max() for others in rest])
    spread = np.sqrt((count - 1) / count * ((peaks - peaks.mean()) ** 2).sum())
    means = groups[:, mask].mean(axis=1)
    return (
        float(np.sqrt(most * max(unpicked, 1.0))),
        float(np.hypot(spread, (most - unpicked) / 2.0) / most),
        float(means.mean()),
        float(means.std(ddof=1) / np.sqrt(count) / means.mean()),
    )


if __name__ == "__main__":
    for layer, (ratio, error, mean, scatter) in rendered(Study.read(sys.argv[1]), int(sys.argv[2])).items():
        print(f'"{layer}": ({ratio:.2f}, {error:.2f}, {mean:.1f}, {scatter:.3f}),')
