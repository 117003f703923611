"""Mends for bare light: Moor Drum's by hand, each built again and looked at more closely than it was confirmed."""

from dataclasses import replace

import numpy as np
import pytest

from stackview.change.bare import mend_bare
from stackview.change.mend import Mend
from stackview.change.trial import Bench, NoTrialsLeftError
from stackview.description.lamp_file import LampFile
from stackview.findings import Finding
from stackview.light.layout import lay_out
from stackview.sight.bands import Kind
from stackview.sight.eyes import look_straight
from stackview.stack.assembly import assemble
from stackview.study import Study
from tests.change.demos import NAMES, mending, study

# A pot with a straight rim: a diode 10 mm under the rim's top in the middle, seen from above.
POT = """
name = "Pot"
unit = "mm"
[materials.stock]
plywood = "birch"
sold = 12
[[layer]]
name = "base"
material = "stock"
outline = { rectangle = [200, 200] }
[[layer]]
name = "wall"
material = "stock"
outline = { rectangle = [200, 200] }
wall = 20
[[light]]
diode = { height = 3 }
watts = 1
face = [0.2, 0.2]
[surface]
height = 700
size = [300, 300]
[[eye]]
name = "above"
distance = 1000
height = 950
"""


def bare_left(
    source: Study, mend: Mend, eye: str, bearings: int, *, corners: bool = True, chord: float = 0.01
) -> int:
    """Faces (or middles) that still are bare when the mend is typed into the file, by an own count."""
    lamp = source.changed(mend.changes).lamp
    stack = assemble(replace(lamp, chord_error=chord))
    points = lay_out(stack).points
    seen = next(
        each
        for each in look_straight(stack, points, bearings=bearings, whole_faces=True)
        if each.eye.name == eye
    )
    bare = seen.kind == Kind.BARE
    return int((bare | seen.part_bare if corners else bare).sum())


def bare_findings(name: str) -> list[Finding]:
    return [finding for finding in study(name).findings if finding.check == "bare light"]


def test_the_drums_mends_are_those_worked_out_by_hand() -> None:
    # trial of the method: thickness 9.803, wall 21.13, diode 1.94 are the exact least; up by the printed step
    (finding,) = bare_findings("moor-drum")
    found = mending("moor-drum").of(finding)
    assert found is not None
    assert found.note == ""
    assert [mend.changes for mend in found.mends] == [
        {"groups.open-tier.ring.thickness": 9.9},
        {"groups.open-tier.ring.wall": 21.2},
        {"light.diode.diode.height": 1.9},
    ]
    assert [mend.height for mend in found.mends] == pytest.approx([2.2, 0.0, 0.0])
    assert all(not mend.new for mend in found.mends)
    assert all(mend.does == 'hides it from eye "reader lying down", all round' for mend in found.mends)
    assert (
        found.mends[0]
        .text(study("moor-drum").lamp.units)
        .startswith("groups.open-tier.ring.thickness 8.8 mm to 9.9 mm (ring 1 and ring 2): hides it from")
    )


def test_one_printed_step_less_would_not_do() -> None:
    source = study("moor-drum")
    for changes in (
        {"groups.open-tier.ring.thickness": 9.8},
        {"groups.open-tier.ring.wall": 21.1},
        {"light.diode.diode.height": 2.0},
    ):
        less = Mend((), "", 0.0, 0.0)
        variant = source.changed(changes)
        assert bare_left(variant, less, "reader lying down", 720), changes


def test_a_straight_rim_rises_by_the_closed_form() -> None:
    # Light at z = 12 + 3; rim at z = 24, so ζ = 9; the eye 1000 mm away and 250 up sees the line rise at
    # t = (250 − 15) / 1000. Square to a wall ρ = 80 and up = t·ρ − ζ = 9.8, but in a corner, rounded by the
    # cutter's radius r, ρ = 80·√2 − r·(√2 − 1) = 112.48, and up = 17.4: past the 10 mm that are looked at.
    source = Study(LampFile.from_text(POT))
    (eye,) = source.lamp.eyes
    found = mend_bare(Bench(source, 400), eye, source.findings)
    assert not any("thickness" in path for mend in found.mends for path in mend.changes)
    # At 170 up t = 0.155: up = 8.434 for the middle, and t·0.141 more for the face's far corner: 8.456.
    nearer = source.changed({"eye.above.height": 870})
    (eye,) = nearer.lamp.eyes
    found = mend_bare(Bench(nearer, 400), eye, nearer.findings)
    (rim,) = [mend for mend in found.mends if "layer.wall.thickness" in mend.changes]
    across = 80.0 * np.sqrt(2.0) - source.lamp.cutter / 2.0 * (np.sqrt(2.0) - 1.0) + 0.1 * np.sqrt(2.0)
    assert 20.4 < 12.0 + 0.155 * across - 9.0 < 20.5
    assert rim.changes == {"layer.wall.thickness": 20.5}
    # what it costs is said: a cutter of 1/8 in does not reach through it
    assert [finding.check for finding in rim.new] == ["cutter reach"]


@pytest.mark.slow
def test_two_numbers_together_where_no_single_one_serves() -> None:
    for finding in bare_findings("honeycomb"):
        found = mending("honeycomb").of(finding)
        assert found is not None
        assert found.mends
        for mend in found.mends:
            assert len(mend.numbers) == 2
            assert not mend.new
            assert bare_left(study("honeycomb"), mend, finding.where.split('"')[1], 720) == 0


def test_trials_are_bounded() -> None:
    source = study("moor-drum")
    with pytest.raises(NoTrialsLeftError):
        mend_bare(Bench(source, 5), source.lamp.eyes[0], source.findings)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_every_bare_mend_holds_at_four_times_the_bearings(name: str) -> None:
    for finding in bare_findings(name):
        found = mending(name).of(finding)
        assert found is not None
        for mend in found.mends:
            eye, corners = finding.where.split('"')[1], "middle" not in mend.does
            assert bare_left(study(name), mend, eye, 11_520, corners=corners) == 0, mend
