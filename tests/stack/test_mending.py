"""The mends offered are the least that work, by the closed rule for a corner of angle θ."""

import re
from dataclasses import replace
from math import pi, sin

import pytest

from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Regular
from stackview.description.units import MILLIMETRES
from stackview.stack.mending import fit_in, how_to_seat, ways_to_seat
from tests.stack.layers import ASH, circle, plate, pocket, square


@pytest.mark.parametrize("sides", [3, 4, 6, 8])
def test_mends_of_a_sharp_polygon(sides: int) -> None:
    # Plane geometry: c ≥ (r − q)(1 − sin(θ/2)) for plate corner radius q, cutter radius r.
    radius, clearance = 3.0, 0.1
    outline = Outline(Regular(sides, 80.0))
    tight = 1.0 - sin((pi - 2.0 * pi / sides) / 2.0)
    recess = pocket(outline, 2.0, clearance, radius, "plate")
    host = Layer("host", ASH, 10.0, circle(240), recesses=(recess,))
    ways = ways_to_seat(plate("plate", outline), host, recess)
    wider, corner, cutter = (float(way.guess) for way in ways)
    assert [(way.part, way.key) for way in ways] == [
        ("host", "clearance of recess 0"),
        ("plate", "corner of outline"),
        ("", "cutter"),
    ]
    text = how_to_seat(plate("plate", outline), host, recess, MILLIMETRES)
    centre, relief = (float(number) for number in re.findall(r"(\d+\.?\d*) mm", text))
    # Found to 1e-4 mm, on the safe side; a trial rounds it to what can be set.
    assert 0.0 <= corner - (radius - clearance / tight) < 2e-4
    assert 0.0 <= wider - radius * tight < 2e-4
    assert 0.0 <= 2.0 * clearance / tight - cutter < 4e-4
    # A relief centred r from the corner bulges r(1 − sin(θ/2)), r(1 − 1/√2) for a square, past each wall.
    assert centre == radius
    assert relief == pytest.approx(radius * tight, abs=0.006)


def test_mends_do_mend() -> None:
    outline = square(80)
    recess = pocket(outline, 2.0, 0.2, 3.0, "plate")
    host = Layer("host", ASH, 10.0, square(120), recesses=(recess,))
    assert not fit_in(plate("plate", outline), host, recess).fits
    assert fit_in(plate("plate", square(80, 2.32)), host, recess).fits
    assert not fit_in(plate("plate", square(80, 2.31)), host, recess).fits  # 3 − 3.414214·0.2 = 2.317


def test_a_plate_that_is_just_too_large_is_told_so() -> None:
    recess = replace(pocket(circle(60), 2.0), fitted_to="plate")
    host = Layer("host", ASH, 10.0, circle(120), recesses=(recess,))
    assert (
        how_to_seat(plate("plate", circle(90)), host, recess, MILLIMETRES)
        == "Make plate smaller, or the recess in host larger."
    )
