"""Photographs of small lamps, looked at by regions: slanted slits, thin ones, opal."""

from collections.abc import Mapping

import numpy as np
import pytest
from numpy.typing import NDArray

pytest.importorskip("mitsuba")

from stackview.glow.flux import flux_of
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import look
from stackview.glow.parts_seen import shares_of
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import glow_scene
from stackview.light.colour import LUMINANCE
from stackview.photographs.cleaned import cleaned
from stackview.photographs.glow_album import daylight_of, drawn_glow, photograph_place
from stackview.sight.camera import frame
from stackview.study import Study
from tests.glow.bodies import quick

SIZE = (400, 300)

LAMP = """
name = "Slits"
surface = { height = 700 }
materials.ash = { wood = "ash", sold = 15 }
materials.thin = { acrylic = "clear", sold = 1, finish = "sanded" }
materials.thinner = { acrylic = "clear", sold = 0.5, finish = "sanded" }
materials.milk = { acrylic = "opal", sold = 4 }
materials.post = { metal = "aluminium" }
outlines.hexagon = { sides = 6, across_flats = 110 }

[[layer]]
name = "base"
material = "ash"
outline = "hexagon"
wall = 10

[[layer]]
name = "thin plate"
material = "thin"
outline = "hexagon"
opening = { circle = 60 }

[[layer]]
name = "ring"
material = "ash"
outline = "hexagon"
wall = 10

[[layer]]
name = "thinner plate"
material = "thinner"
outline = "hexagon"
opening = { circle = 60 }

[[layer]]
name = "upper ring"
material = "ash"
outline = "hexagon"
wall = 10

[[layer]]
name = "top"
material = "milk"
outline = "hexagon"

[core]
material = "post"
outline = { circle = 24 }
height = 34
stands_on = "thin plate"

[[light]]
helix = { pitch = 18 }
leds_per_metre = 60
width = 8
watts_per_metre = 4.8
"""


@pytest.fixture(scope="module")
def shot(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, NDArray[np.floating]]:
    """The evening's picture, the lamplight cleaned, and the share of every pixel that shows each plate."""
    file = tmp_path_factory.mktemp("slits") / "slits.toml"
    file.write_text(LAMP, encoding="utf-8")
    study = Study.read(file)
    camera = frame(study.stack.placed, bearing=20.0, elevation=14.0, size=SIZE)
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    room = Room((backdrop(study.stack.placed, camera, stands=True),))
    variant = quick()
    place = photograph_place(scene, room, camera)
    seen = look(
        scene,
        room,
        camera,
        pitch=pitch_of(study.light.points),
        error=0.1,
        longest=600.0,
        variant=variant,
        only_picture=True,
    )
    day = daylight_of(scene, room, place, seed=1, variant=variant)
    drawn = drawn_glow(scene, place, seen, day, name="Slits", viewpoint="From aside")
    rows, columns = (grid.ravel() for grid in np.indices(SIZE[::-1]))
    shares = {
        part.name: shares_of(scene, room, camera, rows, columns, [number]).reshape(SIZE[::-1])
        for number, part in enumerate(scene.placed)
        if not part.opaque
    }
    lamp = cleaned(seen.raw, place.seen, place.taken)
    return shares | {"evening": drawn["evening"].astype(float), "raw": seen.raw, "lamp": lamp}


def beside(level: NDArray[np.floating]) -> float:
    """How far columns beside each other differ, as a ratio's logarithm."""
    return float(np.abs(np.diff(np.log(np.maximum(level, 1.0)))).mean())


def bend(values: NDArray[np.floating], inside: NDArray[np.bool_], lag: int) -> float:
    """How far places in a row differ from the mean of those so many pixels to both sides."""
    found = values[:, 2 * lag :] - 2.0 * values[:, lag:-lag] + values[:, : -2 * lag]
    own = inside[:, 2 * lag :] & inside[:, lag:-lag] & inside[:, : -2 * lag]
    return float(np.abs(found[own]).mean())


@pytest.mark.slow
@pytest.mark.parametrize(("name", "most"), [("thin plate", 0.25), ("thinner plate", 0.4)])
def test_a_slanted_slit_has_no_specks(
    shot: Mapping[str, NDArray[np.floating]], name: str, most: float
) -> None:
    """As rendered its columns differ up to sevenfold from one to the next, and true LEDs show along it."""
    share = shot[name]
    wide = share.sum(axis=0)
    shown = np.flatnonzero(wide > 0.3)[6:-6]
    raw, found = (
        ((shot[light] @ LUMINANCE) * (share > 0.0)).sum(axis=0)[shown] / wide[shown]
        for light in ("raw", "lamp")
    )
    assert len(shown) > 200
    assert beside(found) < most
    assert beside(found) < 0.3 * beside(raw)
    # No light is lost: by the middles of pixels alone, the thinner slit lost a quarter of its own.
    assert found.mean() == pytest.approx(raw.mean(), rel=0.1)


@pytest.mark.slow
def test_opal_has_one_colour_and_no_weave(shot: Mapping[str, NDArray[np.floating]]) -> None:
    inside, evening = shot["top"] >= 1.0, np.maximum(shot["evening"], 1.0)
    assert inside.sum() > 5000
    # A picture's own steps are 0.005.
    assert bend(np.log(evening @ LUMINANCE), inside, 1) < 0.015
    # It was 0.029 with the colours of chance.
    assert bend(np.log(evening[..., 0] / evening[..., 2]), inside, 4) < 0.0255
