"""Against the renderer: figures of ``stackview glow``, as it was when they were recorded, of the demos' first eyes.

``--error 5% --longest 200 --seed 1``, steady variant. Only plates whose ratio it knew to 12 %, which
leaves out all of Turning Lantern's. Its errors are told too small and its sanded faces gain light, so
that words are held to be the same or next to it.
"""

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
from stackview.spots.eye_spots import spots_by_rounds
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
WORDS = ("even", "soft", "spots", "single LEDs")
# plate: hot-spot ratio, mean luminance [cd/m²], word
RENDERED = {
    "honeycomb": {
        "base plate": (3.26, 1820.0, "spots"),
        "plate 1": (1.67, 1809.0, "soft"),
        "plate 2": (1.45, 541.3, "soft"),
    },
    "moor-drum": {
        "plate 1": (1.23, 563.7, "even"),
        "plate 2": (1.12, 356.8, "even"),
        "plate 3": (1.16, 215.1, "even"),
        "plate 4": (1.25, 121.9, "even"),
    },
    "kelp": {"bottom plate": (1.49, 772.5, "soft")},
}
# Kelp's opal is 15 % darker in the renderer: its lobe is no Lambertian one.
WITHIN = {"honeycomb": 0.12, "moor-drum": 0.12, "kelp": 0.25}


@pytest.mark.slow
@pytest.mark.parametrize("demo", RENDERED)
def test_plates_are_as_bright_as_rendered_and_words_are_the_same_or_next_to_it(demo: str) -> None:
    study = Study.read(DEMOS / f"{demo}.toml")
    *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=320_000)
    found = {plate.layer: plate for plate in last[0].plates}
    for layer, (_, mean, word) in RENDERED[demo].items():
        ours = found[layer]
        assert ours.mean_cd_m2 == pytest.approx(mean, rel=WITHIN[demo] + 2 * ours.mean_error), layer
        apart = abs(WORDS.index(ours.word) - WORDS.index(word))
        assert apart == 0 or (apart == 1 and ours.unsure), (layer, ours, word)


KELP = pytest.mark.xfail(
    reason="the walks find Kelp's opal 19 % brighter than the renderer, and why is not known yet"
)


@pytest.mark.slow
@pytest.mark.parametrize(
    "demo", ["moor-drum", "honeycomb", pytest.param("kelp", marks=KELP), "turning-lantern"]
)
def test_the_renderer_and_the_walks_agree_within_their_errors(demo: str) -> None:
    """One light model: sanded faces as the renderer is taught them, and as walks over the micro-facets."""
    pytest.importorskip("mitsuba")
    study = Study.read(DEMOS / f"{demo}.toml")
    place = place_for(study, eye=None, bearing=None, elevation=None, distance=None)
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    room = Room((backdrop(study.stack.placed, place.camera, stands=study.lamp.hangs_at is None),))
    pitch, variant = pitch_of(study.light.points), best_variant().name
    rendered = look(scene, room, place.camera, pitch=pitch, error=0.1, longest=60.0, variant=variant)
    *_, last = spots_by_rounds(study.stack, study.light, study.sightlines.eyes, ways=320_000)
    walked = {plate.layer: plate for plate in last[0].plates}
    for plate in rendered.plates:
        own = walked[plate.layer]
        if max(plate.mean_error, own.mean_error) > 0.5:
            continue
        # The walks count one grey for three colours: up to 4 % dark after three faces of wood.
        off = abs(plate.mean_cd_m2 / own.mean_cd_m2 - 1.0)
        assert off < 0.04 + 2.0 * np.hypot(plate.mean_error, own.mean_error), (plate, own)
        # ``own.ratio_error`` holds in 19 of 20 cases, the renderer's is a standard error.
        if max(plate.ratio_error, own.ratio_error) > 0.5:
            continue
        off = abs(np.log(plate.hot_spot_ratio / own.ratio))
        assert off < 0.04 + np.hypot(2.0 * plate.ratio_error, own.ratio_error), (plate, own)
