"""Against the renderer: figures of ``stackview glow``, as it was when they were recorded, of the demos' first eyes.

``--error 5% --longest 200 --seed 1``, steady variant. Only plates whose ratio it knew to 12 %, which
leaves out all of Turning Lantern's. Its errors are told too small and its sanded faces gain light, so
that words are held to be the same or next to it.
"""

from math import log1p
from pathlib import Path

import numpy as np
import pytest

from stackview.commands.glow_place import place_for
from stackview.glow.flux import flux_of
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import look
from stackview.glow.proving import best_variant
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import glow_scene
from stackview.glow.spot_words import word_for
from stackview.spots.eye_spots import NOT_KNOWN, spots_by_rounds
from stackview.study import Study
from tests.spots.twelve_lamps import LAMPS

pytestmark = pytest.mark.usefixtures("all_ways")
DEMOS = Path(__file__).parents[2] / "demos"
WORDS = ("even", "soft", "spots", "single LEDs")
# plate: mean luminance [cd/m²] of the long renderings below, word of older ones that took longer for it
RENDERED = {
    "honeycomb": {
        "base plate": (1756.9, "spots"),
        "plate 1": (1727.4, "soft"),
        "plate 2": (494.6, "soft"),
    },
    "moor-drum": {
        "plate 1": (586.9, "even"),
        "plate 2": (384.1, "even"),
        "plate 3": (249.5, "even"),
        "plate 4": (153.5, "even"),
    },
    "kelp": {"bottom plate": (1038.8, "soft")},
}
WITHIN = 0.08
LANTERN = pytest.param(
    "turning-lantern",
    marks=pytest.mark.xfail(
        reason="plate 5 is 702 ± 5 cd/m² rendered and 653 ± 4 walked, the top plate 92 ± 2 and 102 ± 2"
    ),
)


@pytest.mark.slow
@pytest.mark.parametrize("demo", RENDERED)
def test_plates_are_as_bright_as_rendered_and_words_are_the_same_or_next_to_it(demo: str) -> None:
    study = Study.read(DEMOS / f"{demo}.toml")
    *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=320_000)
    found = {plate.layer: plate for plate in last[0].plates}
    for layer, (mean, word) in RENDERED[demo].items():
        ours = found[layer]
        assert ours.mean_cd_m2 == pytest.approx(mean, rel=WITHIN + 2 * ours.mean_error), layer
        apart = abs(WORDS.index(ours.word) - WORDS.index(word))
        assert apart == 0 or (apart == 1 and ours.unsure), (layer, ours, word)


@pytest.mark.slow
@pytest.mark.parametrize("demo", ["moor-drum", "honeycomb", "kelp", LANTERN])
def test_the_renderer_and_the_walks_agree_within_their_errors(demo: str) -> None:
    """One light model: sanded faces as the renderer is taught them, and as walks over the micro-facets."""
    pytest.importorskip("mitsuba")
    study = Study.read(DEMOS / f"{demo}.toml")
    place = place_for(study, eye=None, bearing=None, elevation=None, distance=None)
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    room = Room((backdrop(study.stack.placed, place.camera, stands=study.lamp.hangs_at is None),))
    pitch, variant = pitch_of(study.light.points), best_variant().name
    rendered = look(
        scene, room, place.camera, pitch=pitch, error=0.1, longest=120.0, variant=variant, only_ratios=True
    )
    *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=320_000)
    walked = {plate.layer: plate for plate in last[0].plates}
    apart: list[float] = []
    for plate in rendered.plates:
        own = walked[plate.layer]
        if max(plate.mean_error, own.mean_error) > 0.5:
            continue
        off = abs(plate.mean_cd_m2 / own.mean_cd_m2 - 1.0)
        # Past a matt face the walks take sanded faces as rougher than they are. Three errors, for there are many plates.
        apart.append(off / (0.04 + 3.0 * np.hypot(plate.mean_error, own.mean_error)))
        # ``own.ratio_error`` holds in 19 of 20 cases, the renderer's is a standard error.
        if max(plate.ratio_error, own.ratio_error) > 0.5:
            continue
        off = abs(np.log(plate.hot_spot_ratio / own.ratio))
        apart.append(off / (0.04 + np.hypot(2.0 * plate.ratio_error, own.ratio_error)))
    # One of a demo's figures may be the twentieth case, and is off by half as much again at most.
    assert sum(off > 1.0 for off in apart) <= 1, (apart, rendered.plates, last[0].plates)
    assert max(apart) < 1.5, (apart, rendered.plates, last[0].plates)


# By tests/spots/rendered.py at 256 samples a pixel (Honeycomb and Turning Lantern 2,048), all sixteen lamps: ratio, its
# relative error, mean luminance [cd/m²], its relative standard error. A ratio that the rendering itself knows no better than
# to a fifth tells nothing: noise raises it. That of "opal rounds" did so even beyond its error: its ratios are those of
# ``glow --only ratios --error 3%``, which reads them from samples taken after the place was picked. Plates with landings
# ("over a diode", "pendant", Kelp's) were rendered again without these: sanded at 192 samples, Kelp's at 64. The means of
# Turning Lantern's plate 5 and top plate are of 14,336 samples.
LONG = {
    "honeycomb": {
        "base plate": (2.83, 0.13, 1756.9, 0.005),
        "plate 1": (1.58, 0.08, 1727.4, 0.012),
        "plate 2": (1.37, 0.26, 494.6, 0.017),
        "plate 3": (1.36, 0.35, 88.2, 0.009),
    },
    "kelp": {
        "bottom plate": (3.62, 0.51, 1038.8, 0.002),
    },
    "moor-drum": {
        "plate 1": (1.10, 0.10, 586.9, 0.002),
        "plate 2": (1.13, 0.15, 384.1, 0.004),
        "plate 3": (1.22, 0.13, 249.5, 0.006),
        "plate 4": (1.20, 0.27, 153.5, 0.011),
    },
    "turning-lantern": {
        "plate 3": (1.23, 0.25, 312.9, 0.030),
        "plate 4": (2.07, 0.47, 24.5, 0.102),
        "plate 5": (1.90, 0.43, 701.6, 0.007),
        "plate 6": (14.98, 0.10, 650.4, 0.052),
        "top plate": (2.66, 0.46, 92.2, 0.016),
    },
    "clear rounds": {
        "plate 1": (15.12, 0.00, 10284.9, 0.001),
        "plate 2": (48.23, 0.01, 1373.1, 0.003),
    },
    "continuous": {
        "plate 1": (1.21, 0.10, 4776.2, 0.002),
        "plate 2": (1.13, 0.17, 518.3, 0.003),
    },
    "edges alone sanded": {
        "plate 1": (2.80, 0.03, 7467.5, 0.006),
        "plate 2": (3.36, 0.05, 1645.2, 0.005),
    },
    "mixed": {
        "plate 1": (1.88, 0.36, 642.2, 0.013),
        "plate 2": (14.02, 0.00, 11789.2, 0.002),
        "plate 3": (2.30, 0.08, 6259.9, 0.005),
    },
    "opal over a diode": {
        "plate": (9.96, 0.01, 2360.4, 0.000),
    },
    "opal rounds": {
        "plate 1": (1.05, 0.03, 752.4, 0.004),
        "plate 2": (1.00, 0.03, 775.4, 0.003),
    },
    "pendant": {
        "plate 0": (4.80, 0.05, 1425.6, 0.003),
        "plate 1": (2.42, 0.06, 3203.2, 0.004),
    },
    "sanded over a diode": {
        "plate": (43.88, 0.01, 2696.1, 0.003),
    },
    "sanded rounds": {
        "plate 1": (2.86, 0.03, 6227.3, 0.004),
        "plate 2": (3.06, 0.06, 4241.5, 0.005),
    },
    "sanded squares": {
        "plate 1": (2.70, 0.05, 5289.1, 0.006),
        "plate 2": (2.83, 0.08, 5175.2, 0.007),
        "plate 3": (2.62, 0.27, 4948.8, 0.004),
    },
    "tall": {
        "plate 1": (5.33, 0.03, 3442.7, 0.012),
        "plate 2": (1.66, 0.28, 398.5, 0.015),
        "plate 3": (1.93, 0.06, 1724.6, 0.012),
        "plate 4": (1.70, 0.16, 438.3, 0.009),
        "plate 5": (1.34, 0.24, 1452.5, 0.011),
    },
    "tiny": {
        "plate 1": (4.69, 0.06, 3948.4, 0.007),
        "plate 2": (2.26, 0.37, 2157.7, 0.009),
    },
}
KNOWN = 0.2
# What the two may differ by when both are known.
MEAN_WITHIN = 0.04
FEWER, SEED_WAYS = 100_000, 12_000
"""Ways for the one eye, about as named eyes get them where there are two; and of each seed."""


@pytest.mark.slow
def test_ratios_hold_the_renderers_within_their_errors_and_words_are_right_or_said_to_be_unsure(
    tmp_path: Path,
) -> None:
    """Nothing here was fitted to these lamps as rendered."""
    held, means = {}, {}
    for name, plates in LONG.items():
        file = DEMOS / f"{name}.toml"
        if name in LAMPS:
            file = tmp_path / f"{name}.toml"
            file.write_text(LAMPS[name], encoding="utf-8")
        study = Study.read(file)
        *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes[:1], ways=FEWER)
        found = {plate.layer: plate for plate in last[0].plates}
        # What is out of sight is never judged.
        assert found.keys() == plates.keys(), name
        for layer, (ratio, error, mean, scatter) in plates.items():
            ours = found[layer]
            off = abs(np.log(ours.mean_cd_m2 / mean))
            means[name, layer] = bool(off <= MEAN_WITHIN + 2.0 * np.hypot(ours.mean_error, scatter))
            if error > KNOWN:
                continue
            apart = abs(np.log(ours.ratio / ratio))
            held[name, layer] = bool(apart <= max(log1p(ours.ratio_error), log1p(0.15)) + error)
            steps = abs(WORDS.index(ours.word) - WORDS.index(word_for(ratio)))
            assert ours.told == NOT_KNOWN or steps <= (1 if ours.unsure else 0), (layer, ours)
    assert len(held) >= 25
    # 83 of 85 held in answers with four seeds; one seed's 28 may hold two more of the rest.
    assert np.mean([*held.values()]) >= 0.9, [key for key, good in held.items() if not good]
    assert np.mean([*means.values()]) >= 0.9, [key for key, good in means.items() if not good]


@pytest.mark.slow
def test_a_sharp_spot_over_one_led_keeps_its_height_and_the_plate_its_light(tmp_path: Path) -> None:
    """Sanded to 0.1: by tests/spots/rendered.py at 128 samples 137.1 ± 1.4 times 3,194 ± 10 cd/m²."""
    sanded = 'finish = "sanded" }'
    text = LAMPS["sanded over a diode"].replace(sanded, f"roughness = 0.1, {sanded}")
    assert text != LAMPS["sanded over a diode"]
    (tmp_path / "lamp.toml").write_text(text, encoding="utf-8")
    study = Study.read(tmp_path / "lamp.toml")
    *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes[:1], ways=400_000)
    (plate,) = last[0].plates
    assert plate.ratio == pytest.approx(137.1, rel=0.1)
    assert plate.mean_cd_m2 == pytest.approx(3194.0, rel=0.03 + 2.0 * plate.mean_error)


@pytest.mark.slow
def test_errors_hold_over_seeds(tmp_path: Path) -> None:
    """Twenty answers with other ways for a lamp of two sanded plates, few ways each."""
    file = tmp_path / "tiny.toml"
    file.write_text(LAMPS["tiny"], encoding="utf-8")
    study = Study.read(file)
    ratios: dict[str, list[float]] = {}
    means: dict[str, list[tuple[float, float]]] = {}
    for seed in range(1, 21):
        *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=SEED_WAYS, seed=seed)
        for ours in last[0].plates:
            ratio, error, _, _ = LONG["tiny"][ours.layer]
            means.setdefault(ours.layer, []).append((ours.mean_cd_m2, ours.mean_error))
            off = max(abs(np.log(ours.ratio / ratio)) - error, 0.0)
            ratios.setdefault(ours.layer, []).append(off / log1p(ours.ratio_error))
    known = np.concatenate([own for layer, own in ratios.items() if LONG["tiny"][layer][1] <= KNOWN])
    assert (known <= 1.0).mean() >= 0.6
    assert (known <= 2.0).mean() >= 0.9
    # Of the mean, what all twenty give together is the truth: it has no bias but for what both models differ by.
    told = np.concatenate([_off_in_errors(np.array(own)) for own in means.values()])
    assert (told <= 1.0).mean() >= 0.6
    assert (told <= 2.0).mean() >= 0.9


def _off_in_errors(own: np.ndarray) -> np.ndarray:
    """How far values lie from the mean of all, in their own errors (n,); ``own`` : (n, 2) value, relative error."""
    return np.abs(own[:, 0] / own[:, 0].mean() - 1.0) / own[:, 1]
