"""Strips on the core: helix and straight runs."""

from dataclasses import replace
from math import cos, hypot, pi, radians, sqrt

import numpy as np
import pytest

from stackview.description.light_source import Helix, Runs, Strip
from stackview.description.outline import Outline
from stackview.description.shapes import Curve, Rectangle, Regular
from stackview.errors import LampError
from stackview.light.layout import lay_out
from tests.light.lamps import EMITTER, ROUND, stack_with

STRIP = Strip(spacing=10.0, cut_every=20.0, width=8.0, thickness=2.0)
HELIX = Helix(STRIP, pitch=24.0, start=5.0, first=0.0, hand="right", turns=2.0, length=None)


def test_points_lie_on_the_strips_outer_face() -> None:
    points = lay_out(stack_with(HELIX)).points
    assert np.hypot(points.centres[:, 0], points.centres[:, 1]) == pytest.approx(np.full(len(points), 17.0))
    out = points.centres[:, :2] / 17.0
    assert points.directions[:, :2] == pytest.approx(out)
    assert points.directions[:, 2] == pytest.approx(np.zeros(len(points)))


def test_length_is_measured_at_mid_thickness() -> None:
    # Helix of radius 15 + 1, pitch 24: two turns, cut at the last 20 mm mark before that.
    turn = hypot(2 * pi * 16.0, 24.0)
    layout = lay_out(stack_with(HELIX))
    (lit,) = layout.lit
    assert lit.cuts[0].room == pytest.approx(2 * turn)
    assert lit.length == 20.0 * (2 * turn // 20)
    assert lit.count == lit.length / 10.0


def test_first_point_is_half_a_spacing_along_and_climbs_by_the_pitch() -> None:
    points = lay_out(stack_with(HELIX)).points
    turn = hypot(2 * pi * 16.0, 24.0)
    lift = 20.0 + 5.0 + 4.0 * (2 * pi * 16.0 / turn)  # base, start, half the width leaning with the lead
    assert points.centres[0, 2] == pytest.approx(lift + 24.0 * 5.0 / turn)
    assert points.centres[1, 2] - points.centres[0, 2] == pytest.approx(24.0 * 10.0 / turn)
    # Neighbours at 10 mm along the strip's middle: a little more on its outer face.
    step = np.linalg.norm(np.diff(points.centres, axis=0), axis=1)
    angle = 2 * pi * 10.0 / turn
    assert step == pytest.approx(
        np.full(len(step), sqrt((2 * 17 * np.sin(angle / 2)) ** 2 + (24 * 10 / turn) ** 2))
    )


@pytest.mark.parametrize(("hand", "sense"), [("right", 1), ("left", -1)])
def test_hand(hand, sense: int) -> None:  # type: ignore[no-untyped-def]
    points = lay_out(stack_with(replace(HELIX, hand=hand))).points
    first, second = points.centres[0], points.centres[1]
    assert np.sign(first[0] * second[1] - first[1] * second[0]) == sense
    assert second[2] > first[2]


def test_the_strip_stays_on_the_core() -> None:
    layout = lay_out(stack_with(replace(HELIX, turns=None)))
    ribbon = layout.ribbons[0]
    assert ribbon.low[:, 2].min() >= 25.0 - 1e-9
    assert ribbon.high[:, 2].max() <= 120.0 + 1e-9
    assert (120.0 - ribbon.high[:, 2].max()) < 24.0 * 20.0 / 100.0  # less than one segment's climb is left


def test_faces_are_as_large_as_they_are_and_square_to_their_direction() -> None:
    points = lay_out(stack_with(HELIX)).points
    sides = np.linalg.norm(points.corners - np.roll(points.corners, -1, axis=1), axis=2)
    assert sides == pytest.approx(np.tile([4.0, 2.0, 4.0, 2.0], (len(points), 1)))
    lean = np.einsum("ikj,ij->ik", points.corners - points.centres[:, None], points.directions)
    assert np.abs(lean).max() < 1e-9


def test_a_helix_needs_a_round_core() -> None:
    square = replace(ROUND, outline=Outline(Rectangle(30, 30)))
    for core in (None, square):
        with pytest.raises(LampError, match="round core"):
            lay_out(stack_with(HELIX, core))


def test_runs_lie_in_the_middle_of_a_hexagons_sides() -> None:
    core = replace(ROUND, outline=Outline(Regular(6, 28.0)))
    layout = lay_out(stack_with(Runs(STRIP, 6, 0.0, 3.0, 80.0), core))
    points = layout.points
    assert len(points) == 48
    away = np.hypot(points.centres[:, 0], points.centres[:, 1])
    assert away == pytest.approx(np.full(48, 14.0 + 2.0))
    first = points.centres[:8]
    assert first[:, 1] == pytest.approx(np.full(8, -16.0))  # the first run faces the front
    assert first[:, 2] == pytest.approx(20.0 + 3.0 + 5.0 + 10.0 * np.arange(8))
    assert points.directions[:8] == pytest.approx(np.tile([0.0, -1.0, 0.0], (8, 1)))
    assert [cut.length for cut in layout.lit[0].cuts] == [80.0] * 6


def test_a_run_beside_the_middle_still_lies_flat_on_its_side() -> None:
    core = replace(ROUND, outline=Outline(Rectangle(40.0, 20.0)))
    points = lay_out(stack_with(Runs(STRIP, 1, 30.0, 0.0, None), core)).points
    assert points.directions[0] == pytest.approx([0.0, -1.0, 0.0])
    assert points.centres[0, :2] == pytest.approx([10.0 * np.tan(radians(30)), -12.0])


def test_runs_on_a_round_core_face_outwards() -> None:
    points = lay_out(stack_with(Runs(STRIP, 3, 90.0, 0.0, None))).points
    assert points.directions[0] == pytest.approx([1.0, 0.0, 0.0])
    assert points.centres[0, 0] == pytest.approx(17.0)
    assert points.directions[len(points) // 3] == pytest.approx([-0.5, cos(radians(30)), 0.0])


def test_strip_shorter_than_a_segment_names_the_light() -> None:
    with pytest.raises(LampError, match='light "light".*one segment'):
        lay_out(stack_with(replace(HELIX, length=15.0)))


def test_power_and_current() -> None:
    (lit,) = lay_out(stack_with(HELIX)).lit
    assert lit.watts == pytest.approx(0.1 * lit.count)
    assert lit.amperes == pytest.approx(0.1 * lit.count / 5.0)
    (silent,) = lay_out(stack_with(HELIX, emitter=replace(EMITTER, watts=None))).lit
    assert (silent.watts, silent.amperes) == (None, None)
    (given,) = lay_out(stack_with(HELIX, emitter=replace(EMITTER, amps=0.02))).lit
    assert given.amperes == pytest.approx(0.02 * given.count)


def test_runs_on_a_drawn_core_lie_square_to_its_exact_sides_wherever_it_stands() -> None:
    # a triangle about its own centre, 10 from the middle to each side, the core 40 to the right
    ring = [(10.0 * 2.0 * np.sin(a), -10.0 * 2.0 * np.cos(a)) for a in np.radians((60.0, 180.0, 300.0))]
    drawn = Curve(tuple((float(x), float(y), 0.0) for x, y in ring), "test")
    core = replace(ROUND, outline=Outline(drawn, at=(40.0, 0.0)))
    points = lay_out(stack_with(Runs(STRIP, 3, 0.0, 5.0, None), core)).points
    spoke = points.centres[:, :2] - (40.0, 0.0)
    assert np.hypot(*spoke.T) == pytest.approx(12.0)
    assert points.directions[:, :2] * 12.0 == pytest.approx(spoke)


def test_a_core_drawn_aside_of_its_centre_has_no_side_there() -> None:
    away = Curve(((20.0, -5.0, 0.0), (30.0, -5.0, 0.0), (30.0, 5.0, 0.0), (20.0, 5.0, 0.0)), "test")
    with pytest.raises(LampError) as wrong:
        lay_out(stack_with(Runs(STRIP, 1, 180.0, 5.0, None), replace(ROUND, outline=Outline(away))))
    assert "no side at bearing 180°" in str(wrong.value.faults[0])
