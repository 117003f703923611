"""What begins to close a gap, and how far it would have to go, by the closed form."""

import numpy as np
import pytest

from stackview.change.bare import mend_bare
from stackview.change.candidates import candidates
from stackview.change.closing import hardest, promising
from stackview.change.trial import Bench
from stackview.description.lamp_file import LampFile
from stackview.study import Study
from tests.change.demos import study


def test_the_drums_ring_has_to_rise_by_what_its_edge_is_short_of_the_line() -> None:
    source = study("moor-drum")
    hard = hardest(source, source.eyes[0])
    assert {"ring 1"} <= hard.parts
    needs = {
        (way.candidate.path, way.towards): way.needs
        for way in promising(Bench(source, 99), hard, candidates(source, hard.parts))
    }
    (up,) = needs["groups.open-tier.ring.thickness", 1]
    # 0.67 mm hide the middle of the face (trial of the method)
    assert up == pytest.approx(0.67, abs=0.01) == min(hard.open_by[0])
    assert ("groups.open-tier.spacers.thickness", 1) not in needs


# A pendant: a diode under its lid, hidden by the skirt that the lid lies on; the eye is below.
PENDANT = """
name = "Hood"
unit = "mm"
[materials.stock]
plywood = "birch"
sold = 12
[[layer]]
name = "skirt"
material = "stock"
thickness = 12
outline = { circle = 100 }
wall = 20
[[layer]]
name = "lid"
material = "stock"
outline = { circle = 100 }
opening = { circle = 7, at = [30, 0] }
[cord]
diameter = 6
length = "1 m"
at = [30, 0]
[[light]]
diode = { on = "lid", facing = "down", height = 0.2 }
watts = 1
face = [0.2, 0.2]
[pendant]
underside = 1500
[[eye]]
name = "below"
distance = 400
height = 1352
"""


def test_in_a_pendant_the_ring_that_carries_the_lid_hides_the_light_above_it() -> None:
    # The light at z = 12 − 0.2; the skirt's lower edge at ρ = 30, z = 0; the eye 400 away at z = −148. The line
    # falls by t = 159.8 / 400 and passes 30·t − 11.8 = 0.185 below the edge. A skirt thicker by T lifts the lid and
    # the light with it: 11.8 + T = 30 (159.8 + T) / 400, T = 0.185 / (1 − 30/400) = 0.200. For the face's farther
    # corner ρ is 30 + 0.1·√2, and T = 0.256: 12.3 by the printed step.
    source = Study(LampFile.from_text(PENDANT))
    (eye,), seen = source.lamp.eyes, source.eyes[0]
    hard = hardest(source, seen)
    needs = {
        (way.candidate.path, way.towards): way.needs
        for way in promising(Bench(source, 99), hard, candidates(source, hard.parts))
    }
    assert needs["layer.skirt.thickness", 1] == (0.5,)  # what is tried first is enough
    found = mend_bare(Bench(source, 400), eye, source.findings)
    assert {"layer.skirt.thickness": 12.3} in [mend.changes for mend in found.mends]


def test_a_base_that_lifts_the_light_and_its_edges_is_no_mend() -> None:
    # the drum's base carries diode and rings alike: thicker, it lifts the whole lamp before the eye, no more
    source = study("moor-drum")
    hard = hardest(source, source.eyes[0])
    bench = Bench(source, 99)
    base = [each for each in candidates(source, ["base"]) if each.path == "layer.base.thickness"]
    assert base
    assert promising(bench, hard, tuple(base)) == []
    lifted = bench.changed({"layer.base.thickness": f"{base[0].now + 0.5:.6f} mm"})
    assert lifted is not None
    rise = lifted.study.light.points.centres[:, 2] - source.light.points.centres[:, 2]
    assert np.allclose(rise, 0.5)
