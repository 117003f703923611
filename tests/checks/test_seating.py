"""Play in recesses: the corner rules of plane geometry, and what is too tight or too loose."""

from dataclasses import replace
from math import pi, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.checks.seating import does_not_seat, seating
from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle, Regular
from stackview.findings import Level
from stackview.study import Study
from tests.checks.subjects import ASH, alarms, subject_of
from tests.stack.layers import circle, plate, pocket, ring, square


def seated(outline: Outline, clearance: float, cutter: float = 0.0, **limits: float) -> Study:
    recess = pocket(replace(outline, cutter_radius=0.0), 2.0, clearance, cutter, "plate")
    host = Layer("host", ASH, 10.0, circle(300.0), recesses=(recess,))
    return subject_of(host, plate("plate", outline), limits=limits)


@pytest.mark.parametrize(
    ("clearance", "level"),
    [(0.0, Level.CAUTION), (0.04, Level.CAUTION), (0.05, Level.FACT), (0.2, Level.FACT)],
)
def test_play_of_a_round_plate_is_its_clearance(clearance: float, level: Level) -> None:
    (found,) = seating(seated(circle(80.0), clearance))
    assert found.value == pytest.approx(clearance, abs=1e-6)
    assert found.level == level
    assert found.where == "plate in host"
    if level == Level.CAUTION:
        assert [way.guess for way in found.ways] == [pytest.approx(0.05)] * 2


def test_a_loose_plate_is_noted() -> None:
    (found,) = seating(seated(circle(80.0), 2.0))
    assert found.level == Level.NOTE
    assert "lies loose" in found.what
    assert "less clearance" in found.advice


def test_own_limits_count() -> None:
    assert alarms(seating(seated(circle(80.0), 0.2, clearance_least=0.3)))


@pytest.mark.parametrize(("clearance", "corner"), [(0.0, 3.0), (0.2, 2.317157), (0.5, 1.292893)])
def test_square_corner_rule(clearance: float, corner: float) -> None:
    # Plane geometry: a plate corner needs radius q ≥ r − 3.414214·c in a pocket left by a cutter of radius r.
    assert corner == pytest.approx(3.0 - (2.0 + sqrt(2.0)) * clearance, abs=1e-6)
    assert not does_not_seat(seated(square(80.0, corner + 1e-3), clearance, 3.0))
    (fault,) = does_not_seat(seated(square(80.0, corner - 1e-3), clearance, 3.0))
    assert fault.level == Level.FAULT


@pytest.mark.parametrize("sides", [3, 4, 6, 8])
def test_sharp_corner_of_any_angle(sides: int) -> None:
    # Plane geometry: c ≥ r (1 − sin(θ/2)), θ the plate's corner; 0.292893·r for a square.
    needed = 3.0 * (1.0 - sin(0.5 * (pi - 2.0 * pi / sides)))
    outline = Outline(Regular(sides, 80.0))
    assert not does_not_seat(seated(outline, needed + 1e-4, 3.0))
    (fault,) = does_not_seat(seated(outline, needed - 1e-3, 3.0))
    (wider,) = [way for way in fault.ways if way.key == "clearance of recess 0"]
    assert isinstance(wider.guess, float)
    assert 0.0 <= wider.guess - needed < 2e-4
    assert "relieve each corner" in fault.advice


def test_corner_takes_the_play() -> None:
    # The corner, not the side, is tightest: play there is c·√2 + (q − r)(√2 − 1), q the plate's corner radius.
    clearance, cutter, corner = 0.3, 3.0, 2.5
    (found,) = seating(seated(square(80.0, corner), clearance, cutter))
    assert found.value == pytest.approx(
        clearance * sqrt(2.0) + (corner - cutter) * (sqrt(2.0) - 1.0), abs=1e-9
    )


def test_nothing_below_is_a_fault() -> None:
    small = Layer("small", ASH, 5.0, circle(50.0))
    (fault,) = alarms(seating(subject_of(ring("ring"), small)))
    assert fault.check == "support"


@pytest.mark.slow
@settings(max_examples=25, deadline=None)
@given(
    clearance=st.floats(0.0, 2.0),
    more=st.floats(0.0, 2.0),
    corner=st.floats(0.0, 5.0),
    turn=st.floats(0.0, 90.0),
)
def test_more_clearance_never_worsens_seating(
    clearance: float, more: float, corner: float, turn: float
) -> None:
    outline = Outline(Rectangle(80.0, 50.0, corner), turn=turn)
    tight, wide = seated(outline, clearance, 3.0), seated(outline, clearance + more, 3.0)
    assert len(does_not_seat(wide)) <= len(does_not_seat(tight))
    if tight.stack.seats:
        assert wide.stack.seats[0].clearance >= tight.stack.seats[0].clearance - 1e-9


@settings(max_examples=20, deadline=None)
@given(scale=st.floats(0.3, 3.0), clearance=st.floats(0.1, 1.0))
def test_scaling_scales_the_play(scale: float, clearance: float) -> None:
    def play(by: float) -> float:
        outline = Outline(Rectangle(80.0 * by, 50.0 * by, 4.0 * by))
        return seated(outline, clearance * by, 3.0 * by).stack.seats[0].clearance

    assert play(scale) == pytest.approx(scale * play(1.0), rel=1e-9)
