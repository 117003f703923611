"""How far parts reach across a view: by exact curves, held against closed forms and the solids."""

from math import cos, radians, sin

import numpy as np
import pytest

from stackview.sight.camera import axes
from stackview.stack.plan import box_across, outline_of, plan_of
from tests.stills.demos import demo


@pytest.mark.parametrize("bearing", [0.0, 15.0, 30.0, 90.0, 200.0])
def test_a_hexagon_reaches_as_its_corners_do(bearing: float) -> None:
    # across flats 139.7, so corners at R = 139.7/√3; widest corner along the view's right
    stack, _ = demo("honeycomb")
    radius = 139.7 / 3**0.5
    ring = stack.part("ring 3")
    corners = [60.0 * k + ring.turn for k in range(6)]  # bearings of the corners, flats to the front
    x0, y0, x1, y1 = box_across(stack.lamp, [ring], bearing)
    reach = [radius * cos(radians(at - bearing)) for at in corners]
    assert (x1, -x0) == (pytest.approx(max(reach)), pytest.approx(-min(reach)))
    away = [radius * sin(radians(at - bearing)) for at in corners]
    assert (y1, -y0) == (pytest.approx(max(away)), pytest.approx(-min(away)))


@pytest.mark.parametrize("name", ["moor-drum", "kelp", "turning-lantern"])
@pytest.mark.parametrize("bearing", [0.0, 70.0])
def test_no_solid_reaches_past_its_curve_or_far_short_of_it(name: str, bearing: float) -> None:
    stack, _ = demo(name)
    right, deep = (axes(bearing, 0.0)[k] for k in (0, 2))
    for part in stack.placed:
        x0, y0, x1, y1 = box_across(stack.lamp, [part], bearing)
        across, away = part.solid.vertices @ right, part.solid.vertices @ deep
        found = np.array([across.min(), away.min(), across.max(), away.max()])
        short = (found - (x0, y0, x1, y1)) * (1, 1, -1, -1)
        assert short.min() > -1e-6, part.name
        assert short.max() <= stack.lamp.chord_error + 1e-6, part.name


def test_copies_are_counted_one_by_one() -> None:
    stack, _ = demo("honeycomb")
    assert len(plan_of(stack.lamp, stack.part("lower pins"))) == 3
    assert outline_of(stack.lamp, stack.part("core"))[1] is None
    assert outline_of(stack.lamp, stack.part("plate 1"))[0].radius is None
