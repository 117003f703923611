"""Rings, panels and diodes on a layer."""

from math import cos, radians, sin

import numpy as np
import pytest

from stackview.description.light_source import Diode, Panel, Ring
from stackview.light.layout import lay_out
from tests.light.lamps import stack_with


def points_of(layout):  # type: ignore[no-untyped-def]
    return lay_out(stack_with(layout, None)).points


def test_ring_starts_at_its_bearing_and_runs_counter_clockwise() -> None:
    points = points_of(Ring(80.0, 4, "base", 3.0, "out", 0.0))
    assert points.centres == pytest.approx(
        np.array([[0, -40, 23], [40, 0, 23], [0, 40, 23], [-40, 0, 23]]), abs=1e-9
    )
    assert points.directions == pytest.approx(points.centres * [1 / 40, 1 / 40, 0])


@pytest.mark.parametrize(("facing", "expected"), [("in", [0, 1, 0]), ("up", [0, 0, 1]), ("down", [0, 0, -1])])
def test_ring_faces_where_it_is_told(facing, expected: list[float]) -> None:  # type: ignore[no-untyped-def]
    assert points_of(Ring(80.0, 4, "base", 3.0, facing, 0.0)).directions[0] == pytest.approx(expected)


def test_panel_is_centred_and_lies_on_the_face() -> None:
    points = points_of(Panel(3, 2, 10.0, "base", "up", (5.0, 0.0)))
    assert len(points) == 6
    assert points.centres.mean(axis=0) == pytest.approx([5.0, 0.0, 20.0])
    assert np.ptp(points.centres, axis=0) == pytest.approx([20.0, 10.0, 0.0])
    assert points_of(Panel(1, 1, 10.0, "base", "down", (0.0, 0.0))).centres[0] == pytest.approx([0, 0, 0])


def test_diode_straight_up_and_leaning() -> None:
    straight = points_of(Diode("base", "up", (1.0, 2.0), 3.0, 0.0, 0.0))
    assert straight.centres[0] == pytest.approx([1.0, 2.0, 23.0])
    assert straight.directions[0] == pytest.approx([0.0, 0.0, 1.0])
    leaning = points_of(Diode("base", "up", (0.0, 0.0), 3.0, 30.0, 90.0))
    assert leaning.directions[0] == pytest.approx([sin(radians(30)), 0.0, cos(radians(30))])
    hanging = points_of(Diode("base", "down", (0.0, 0.0), 3.0, 0.0, 0.0))
    assert hanging.centres[0] == pytest.approx([0.0, 0.0, -3.0])
    assert hanging.directions[0] == pytest.approx([0.0, 0.0, -1.0])


def test_what_is_not_given_stays_unknown() -> None:
    points = points_of(Diode("base", "up", (0.0, 0.0), 3.0, 0.0, 0.0))
    assert np.isnan(points.lumens).all()
    assert points.kelvin.tolist() == [2700.0]
