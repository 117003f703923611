"""Level faces of a layer: areas by closed form, floors at their depth, turned as the layer stands."""

from dataclasses import replace
from math import pi

import pytest

from stackview.description.lamp import Layer, Opening
from stackview.description.outline import Around
from stackview.stack.footprint import levels, pieces, pocket_of
from tests.stack.layers import ASH, circle, plate, pocket, ring, square

CLOSE = 2e-3
"""Chord error 0.02 mm on circles of some tens of millimetres."""


def test_a_plain_plate_is_one_level() -> None:
    top, underside = levels(plate("p", square(80.0)), "top"), levels(plate("p", square(80.0)), "underside")
    assert [level.height for level in (*top, *underside)] == [4.0, 0.0]
    assert top[0].area.area == underside[0].area.area == pytest.approx(6400.0)
    assert top[0].recess is None


def test_openings_are_no_face() -> None:
    (face,) = levels(ring("r", 120.0, 92.0), "top")
    assert face.area.area == pytest.approx(pi * (60.0**2 - 46.0**2), rel=CLOSE)
    holes = Layer("h", ASH, 9.0, square(100.0), openings=(Opening(circle(5.0), Around(4, 60.0)),))
    (drilled,) = levels(holes, "underside")
    assert drilled.area.area == pytest.approx(1e4 - 4 * pi * 2.5**2, rel=CLOSE)
    assert len(drilled.area.interiors) == 4


def test_a_recess_lowers_its_floor_and_leaves_the_face() -> None:
    host = Layer("host", ASH, 10.0, square(100.0), recesses=(pocket(square(40.0), 3.0, clearance=0.5),))
    face, floor = levels(host, "top")
    assert (face.height, floor.height) == (10.0, 7.0)
    assert floor.area.area == pytest.approx(41.0**2)
    assert face.area.area == pytest.approx(1e4 - 41.0**2)
    assert floor.recess is host.recesses[0]
    # Nothing of it shows on the other face.
    assert [level.area.area for level in levels(host, "underside")] == pytest.approx([1e4])


def test_a_recess_from_below_rises() -> None:
    host = Layer("h", ASH, 10.0, square(100.0), recesses=(pocket(square(40.0), 3.0, face="underside"),))
    assert [level.height for level in levels(host, "underside")] == [0.0, 3.0]


def test_a_deeper_recess_within_a_wider_one_takes_its_floor() -> None:
    wide, deep = pocket(square(60.0), 2.0, clearance=0.0), pocket(square(20.0), 5.0, clearance=0.0)
    for order in ((wide, deep), (deep, wide)):
        found = levels(Layer("h", ASH, 10.0, square(100.0), recesses=order), "top")
        by_height = {level.height: level.area.area for level in found}
        assert by_height == pytest.approx({10.0: 1e4 - 3600.0, 8.0: 3600.0 - 400.0, 5.0: 400.0})


@pytest.mark.parametrize("turn", [0.0, 45.0, 90.0, -30.0])
def test_faces_turn_with_their_layer(turn: float) -> None:
    host = Layer("h", ASH, 10.0, square(100.0), recesses=(pocket(square(40.0), 3.0, clearance=0.0),))
    face, floor = levels(replace(host, turn=turn), "top")
    assert (face.area.area, floor.area.area) == pytest.approx((8400.0, 1600.0))
    # A square turned by 45° reaches √2 as far.
    reach = 100.0 * 2**0.5 / 2 if abs(turn) == 45.0 else None
    if reach:
        assert face.area.bounds == pytest.approx((-reach, -reach, reach, reach))


def test_pieces_and_pockets_stand_as_their_layer_is_turned() -> None:
    trio = Layer("trio", ASH, 9.0, circle(20.0), around=Around(3, 80.0), turn=30.0)
    edges = pieces(trio)
    assert len(edges) == 3
    # Copy k stands at the bearing 120°·k, turned by 30°: (sin b, −cos b)·40.
    assert edges[0].vertices[:, :2].mean(axis=0) == pytest.approx((20.0, -40.0 * 3**0.5 / 2))
    host = Layer("h", ASH, 10.0, square(100.0), recesses=(pocket(square(40.0), 3.0),), turn=90.0)
    turned = pocket_of(host, host.recesses[0])
    assert abs(turned.vertices[:, :2]).max() == pytest.approx(20.2)
