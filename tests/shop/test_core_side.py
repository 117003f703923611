"""The core's side rolled out: closed forms of circle, hexagon and helix."""

from math import atan2, cos, degrees, hypot, pi
from pathlib import Path

import numpy as np
import pytest

from stackview.description.lamp import _ANY, Core
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Regular
from stackview.shop.core_side import core_side, strips_on_core
from stackview.study import Study
from tests.shop.box_lamp import BOX, box_study


def core_of(outline: Outline) -> Core:
    return Core(_ANY, outline, 100.0, "base", None)


def test_a_circle_is_as_long_as_its_edge_and_bearings_lie_evenly() -> None:
    side = core_side(core_of(Outline(Circle(32.0), at=(3.0, 1.0))))
    assert side.round == pytest.approx(32.0 * pi, abs=1e-9)
    assert side.corners == ()
    bearings = np.radians((0.0, 45.0, 90.0, -90.0, -135.0))
    places = 17.0 * np.column_stack((np.sin(bearings), -np.cos(bearings)))
    assert side.u_of(places) == pytest.approx(16.0 * bearings, abs=0.01)


def test_a_hexagon_has_six_folds_a_side_apart() -> None:
    # flat to the front: its corners lie half a side to either side of it, a side = flats / √3
    side = core_side(core_of(Outline(Regular(6, 30.0))))
    length = 30.0 / 3.0**0.5
    assert sorted(side.corners) == pytest.approx([length * (k - 2.5) for k in range(6)], abs=1e-3)


def test_a_wound_strip_climbs_its_pitch_in_a_turn(tmp_path: Path) -> None:
    study = box_study(tmp_path)
    (strip,) = strips_on_core(study)
    thick, wide = strip.lit.light.layout.strip.thickness, strip.lit.light.layout.strip.width
    # the helix at mid-thickness, r = 15 + t/2, pitch 20
    turn = hypot(2.0 * pi * (15.0 + 0.5 * thick), 20.0)
    cut = strip.lit.cuts[0]
    lead = atan2(20.0, 2.0 * pi * (15.0 + 0.5 * thick))
    assert strip.last_bearing == pytest.approx(degrees(2.0 * pi * cut.length / turn) % 360.0, abs=1e-6)
    assert strip.ends[1] - strip.begins[0] == pytest.approx(
        20.0 * cut.length / turn + wide * cos(lead), abs=1e-6
    )
    # drawn, it rises evenly: pitch over once round
    for edge in strip.edges:
        if np.ptp(edge[:, 0]) > 20.0:
            slope = np.polyfit(edge[:, 0], edge[:, 1], 1)[0]
            assert slope == pytest.approx(20.0 / (30.0 * pi), rel=1e-3)
            assert np.abs(edge[:, 0]).max() <= 15.0 * pi + 1e-9


def test_upright_strips_lie_on_the_flats(tmp_path: Path) -> None:
    text = BOX.replace(
        "outline = { circle = 30 }\nheight", "outline = { sides = 6, across_flats = 28 }\nheight"
    )
    study = box_study(tmp_path, text.replace("helix = { pitch = 20 }", "runs = { count = 3 }"))
    (strip,) = strips_on_core(study)
    wide = strip.lit.light.layout.strip.width
    uprights = sorted(float(edge[0, 0]) for edge in strip.edges if np.ptp(edge[:, 1]) > 1.0)
    length = 28.0 / 3.0**0.5
    # at bearings 0°, 120°, 240°: two sides apart
    middles = (-2.0 * length, 0.0, 2.0 * length)
    assert uprights == pytest.approx([m + s * wide for m in middles for s in (-0.5, 0.5)], abs=1e-3)


def test_no_core_no_strips() -> None:
    study = Study.read("demos/moor-drum.toml")
    assert study.stack.lamp.core is None
    assert strips_on_core(study) == ()
