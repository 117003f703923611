"""Against the renderer: its figures, rendered long, of what the first eyes of demos and of twelve other lamps see."""

from math import log1p
from pathlib import Path

import numpy as np
import pytest

from stackview.commands.glow_place import place_for
from stackview.glow.flux import flux_of
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import look
from stackview.glow.proving import best_variant
from stackview.glow.room import room_behind
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
        "base plate": (1712.1, "spots"),
        "plate 1": (1742.4, "soft"),
        "plate 2": (558.7, "soft"),
    },
    "moor-drum": {
        "plate 1": (586.1, "even"),
        "plate 2": (386.8, "even"),
        "plate 3": (252.1, "even"),
        "plate 4": (155.1, "even"),
    },
    "kelp": {"bottom plate": (1038.8, "soft")},
}
WITHIN = 0.08


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
@pytest.mark.parametrize("demo", ["moor-drum", "honeycomb", "kelp", "turning-lantern"])
def test_the_renderer_and_the_walks_agree_within_their_errors(demo: str) -> None:
    """One light model: sanded faces as the renderer is taught them, and as walks over the micro-facets."""
    pytest.importorskip("mitsuba")
    study = Study.read(DEMOS / f"{demo}.toml")
    place = place_for(study, eye=None, bearing=None, elevation=None, distance=None)
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    room = room_behind(study.stack, place.camera)
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


# By tests/spots/rendered.py at 256 samples a pixel (Moor Drum at 1,536, Honeycomb and Turning Lantern at 2,048), all sixteen
# lamps: ratio, its relative error, mean luminance [cd/m²], its relative standard error. A ratio that the rendering itself
# knows no better than to a fifth tells nothing: noise raises it. It does so even beyond its error where plates are dim, so
# the ratios of "opal rounds", "tall" and Turning Lantern are those of ``glow --only ratios --error 3%``, which reads them
# from samples taken after the place was picked. Turning Lantern's means are of up to 14,336 samples.
LONG = {
    "honeycomb": {
        "base plate": (3.00, 0.05, 1712.1, 0.004),
        "plate 1": (1.74, 0.09, 1742.4, 0.015),
        "plate 2": (1.38, 0.24, 558.7, 0.011),
        "plate 3": (1.68, 0.32, 90.7, 0.012),
    },
    "kelp": {
        "bottom plate": (3.62, 0.51, 1038.8, 0.002),
    },
    "moor-drum": {
        "plate 1": (1.04, 0.05, 586.1, 0.001),
        "plate 2": (1.20, 0.05, 386.8, 0.002),
        "plate 3": (1.08, 0.09, 252.1, 0.003),
        "plate 4": (1.18, 0.07, 155.1, 0.003),
    },
    "turning-lantern": {
        "plate 3": (1.54, 0.04, 304.3, 0.015),
        "plate 4": (3.72, 0.05, 26.9, 0.015),
        "plate 5": (1.77, 0.04, 670.9, 0.008),
        "plate 6": (15.33, 0.04, 610.0, 0.015),
        "top plate": (1.28, 0.06, 95.8, 0.011),
    },
    "clear rounds": {
        "plate 1": (15.12, 0.00, 10284.9, 0.001),
        "plate 2": (48.23, 0.01, 1373.1, 0.003),
    },
    "continuous": {
        "plate 1": (1.25, 0.06, 4665.2, 0.002),
        "plate 2": (1.19, 0.15, 525.8, 0.004),
    },
    "edges alone sanded": {
        "plate 1": (2.79, 0.04, 7357.2, 0.004),
        "plate 2": (3.27, 0.04, 1695.1, 0.003),
    },
    "mixed": {
        "plate 1": (1.43, 0.32, 658.8, 0.011),
        "plate 2": (13.97, 0.00, 11784.7, 0.002),
        "plate 3": (2.55, 0.06, 6057.0, 0.004),
    },
    "opal over a diode": {
        "plate": (9.96, 0.01, 2360.4, 0.000),
    },
    "opal rounds": {
        "plate 1": (1.05, 0.03, 752.4, 0.004),
        "plate 2": (1.00, 0.03, 775.4, 0.003),
    },
    "pendant": {
        "plate 0": (4.62, 0.06, 1444.9, 0.003),
        "plate 1": (2.53, 0.07, 3152.9, 0.004),
    },
    "sanded over a diode": {
        "plate": (41.29, 0.01, 2674.2, 0.002),
    },
    "sanded rounds": {
        "plate 1": (2.71, 0.04, 6076.8, 0.005),
        "plate 2": (2.98, 0.06, 4154.1, 0.004),
    },
    "sanded squares": {
        "plate 1": (2.40, 0.09, 5131.7, 0.005),
        "plate 2": (2.49, 0.11, 4995.1, 0.003),
        "plate 3": (2.30, 0.07, 4810.8, 0.004),
    },
    "tall": {
        "plate 1": (5.21, 0.03, 3316.3, 0.006),
        "plate 2": (1.45, 0.03, 400.4, 0.016),
        "plate 3": (1.77, 0.03, 1682.1, 0.006),
        "plate 4": (1.47, 0.03, 438.9, 0.013),
        "plate 5": (1.33, 0.03, 1441.1, 0.009),
    },
    "tiny": {
        "plate 1": (4.28, 0.05, 3958.6, 0.005),
        "plate 2": (2.21, 0.09, 2223.5, 0.009),
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
    """The constants of the errors were fitted to other ways of the same plates."""
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
            held[name, layer] = bool(apart <= np.hypot(max(log1p(ours.ratio_error), log1p(0.15)), error))
            steps = abs(WORDS.index(ours.word) - WORDS.index(word_for(ratio)))
            assert ours.told == NOT_KNOWN or steps <= (1 if ours.unsure else 0), (layer, ours)
    assert len(held) >= 35
    # 109 of 111 held in answers with three other seeds; one seed's 37 may hold two of the rest.
    assert np.mean([*held.values()]) >= 0.94, [key for key, good in held.items() if not good]
    assert np.mean([*means.values()]) >= 0.95, [key for key, good in means.items() if not good]


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
