"""Walls, floors and lips of circles and squares, by subtraction."""

import re
from dataclasses import replace
from math import hypot, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.checks.voids import voids_of
from stackview.checks.walls import floors_of, walls, walls_of
from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle
from stackview.errors import LampError
from stackview.findings import Level
from tests.checks.subjects import ASH, CLEAR, alarms, subject_of
from tests.stack.layers import circle, plate, pocket, ring, square

PLY = replace(ASH, kind="plywood")


def at(diameter: float, x: float, y: float = 0.0) -> Outline:
    return Outline(Circle(diameter), at=(x, y))


def test_wall_of_a_ring() -> None:
    (wall,) = walls_of(ring("ring", 120.0, 92.0), voids_of(ring("ring", 120.0, 92.0)))
    assert wall.width == pytest.approx(14.0, abs=1e-9)
    assert wall.height == 10.0


def test_wall_of_square_in_circle_is_at_the_corner() -> None:
    layer = Layer("base", ASH, 10.0, circle(100.0), openings=(Opening(square(60.0)),))
    (wall,) = walls_of(layer, voids_of(layer))
    assert wall.width == pytest.approx(50.0 - 30.0 * sqrt(2.0), abs=1e-9)
    assert hypot(*wall.at) == pytest.approx(30.0 * sqrt(2.0))


def test_wall_between_two_openings_beside_each_other() -> None:
    # Centres 20 mm apart, radii 6 and 9: 5 mm between, on the line through both centres.
    openings = (Opening(at(12.0, -10.0)), Opening(at(18.0, 10.0)))
    layer = Layer("base", ASH, 10.0, circle(100.0), openings=openings)
    between = [wall for wall in walls_of(layer, voids_of(layer)) if "outer edge" not in wall.between]
    assert [wall.width for wall in between] == [pytest.approx(5.0)]
    assert between[0].at[1] == pytest.approx(0.0, abs=1e-9)


def test_cuts_at_different_heights_leave_no_wall() -> None:
    recesses = (
        replace(pocket(at(20.0, -12.0), 2.0, 0.0), face="top"),
        pocket(at(20.0, 12.0), 2.0, 0.0, face="underside"),
    )
    layer = Layer("base", ASH, 10.0, circle(120.0), recesses=recesses)
    assert all("outer edge" in wall.between for wall in walls_of(layer, voids_of(layer)))


def test_groove_leaves_an_island_beside_the_opening() -> None:
    # Recess 100 across, groove 1 mm in from its wall and 1.5 mm wide, opening 92 across: 50 − 2.5 − 46 = 1.5.
    layer = replace(
        ring("ring", recess=pocket(circle(100.0), 2.0, 0.0)),
        grooves=(Groove("top", "recess", 1.0, 1.5, 0.8),),
    )
    found = {wall.between: wall for wall in walls_of(layer, voids_of(layer))}
    assert found["groove in the top", "opening"].width == pytest.approx(1.5, abs=1e-9)
    assert found["groove in the top", "opening"].height == pytest.approx(0.8)


def test_a_thin_wall_is_located_and_mended() -> None:
    # of plywood, which has no short grain
    layer = Layer("base", PLY, 10.0, circle(100.0), openings=(Opening(at(10.0, 43.0)),))
    (found,) = alarms(walls(subject_of(layer)))
    assert found.level == Level.CAUTION
    assert found.value == pytest.approx(2.0)
    assert "between opening and outer edge at x 48 mm, y 0 mm" in found.what
    # a smaller hole, or a larger base: the wall grows by as much on its side
    assert [(way.key, way.guess) for way in found.ways] == [
        ("size of opening 0", pytest.approx(-1.0)),
        ("size of outline", pytest.approx(1.0)),
    ]
    assert not re.search(r"\d", found.advice)
    mended = replace(layer, openings=(Opening(at(10.0, 42.0)),))
    assert not alarms(walls(subject_of(mended)))


def test_a_low_lip_need_only_be_as_thick_as_high() -> None:
    def lip(width: float) -> bool:
        recess = pocket(circle(100.0 - 2.0 * width), 1.5, 0.0)
        return bool(alarms(walls(subject_of(Layer("base", ASH, 10.0, circle(100.0), recesses=(recess,))))))

    assert not lip(1.5)
    assert lip(1.4)


@pytest.mark.parametrize(
    ("thickness", "width", "alarm"), [(4.0, 2.9, True), (4.0, 3.0, False), (2.0, 2.0, False)]
)
def test_acrylic_near_its_edge(thickness: float, width: float, alarm: bool) -> None:
    layer = Layer("plate", CLEAR, thickness, circle(100.0), openings=(Opening(at(10.0, 45.0 - width)),))
    assert bool(alarms(walls(subject_of(layer)))) == alarm


def test_copies_are_one_finding() -> None:
    pins = Opening(circle(4.0), Around(6, 94.0))
    (found,) = alarms(walls(subject_of(Layer("base", PLY, 10.0, circle(100.0), openings=(pins,)))))
    assert found.value == pytest.approx(1.0)


def test_short_grain_says_once_what_the_wall_would_say_too() -> None:
    # Ø4 pins 1 mm from the edge of solid wood: some stand along the grain, and there 6 mm are asked for
    pins = Opening(circle(4.0), Around(6, 94.0))
    (found,) = alarms(walls(subject_of(Layer("base", ASH, 10.0, circle(100.0), openings=(pins,)))))
    assert (found.value, found.limit) == (pytest.approx(1.0), pytest.approx(6.0))
    assert "short grain" in found.what


def test_floors() -> None:
    recesses = (pocket(circle(60.0), 4.0, 0.0), pocket(circle(30.0), 5.0, 0.0, face="underside"))
    layer = Layer("base", ASH, 10.0, circle(100.0), recesses=recesses)
    found = {(floor.under, floor.over): floor.thickness for floor in floors_of(layer, voids_of(layer), 100.0)}
    assert found["recess in the top", "underside"] == 6.0
    assert found["recess in the underside", "top"] == 5.0
    assert found["recess in the top", "recess in the underside"] == 1.0
    (thin,) = alarms(walls(subject_of(layer)))
    assert thin.value == pytest.approx(1.0)
    assert [(way.key, way.now, way.guess) for way in thin.ways] == [
        ("depth of recess 0", 4.0, pytest.approx(3.0)),
        ("depth of recess 1", 5.0, pytest.approx(4.0)),
        ("thickness", 10.0, pytest.approx(11.0)),
    ]


def test_floor_between_recess_and_bore() -> None:
    # Recess floor at 6 mm, bore 4 mm across at 3.5 mm: its top at 5.5 mm, its underside at 1.5 mm.
    layer = Layer(
        "base",
        ASH,
        10.0,
        circle(100.0),
        recesses=(pocket(circle(60.0), 4.0, 0.0),),
        bores=(Bore(4.0, 3.5, 180.0),),
    )
    assert sorted(finding.value or 0.0 for finding in alarms(walls(subject_of(layer)))) == [0.5, 1.5]


def test_bore_beside_a_pin_hole() -> None:
    # The bore runs along x = 0, 3 mm to each side; the hole begins at x = 5.
    layer = Layer(
        "base",
        ASH,
        12.0,
        circle(100.0),
        openings=(Opening(at(4.0, 7.0, 30.0)),),
        bores=(Bore(6.0, 6.0, 180.0),),
    )
    (found,) = alarms(walls(subject_of(layer)))
    assert found.value == pytest.approx(2.0)
    assert "bore and opening" in found.what


@pytest.mark.parametrize(
    ("width", "alarm", "words"),
    [(4.0, False, ""), (4.5, True, "leaves 0.5 mm"), (4.9, True, "leaves 0.1 mm")],
)
def test_chamfer_that_leaves_little_beside_a_recess(width: float, alarm: bool, words: str) -> None:
    layer = Layer(
        "base",
        ASH,
        10.0,
        circle(100.0),
        recesses=(pocket(circle(90.0), 2.0, 0.0),),
        chamfers=(Chamfer("top outer", width), Chamfer("underside outer", 2.0)),
    )
    found = alarms(walls(subject_of(layer)))
    assert bool(found) == alarm
    if alarm:
        assert words in found[0].what
        assert (found[0].ways[0].key, found[0].ways[0].guess) == ("width of chamfer 0", pytest.approx(4.0))


def test_chamfer_that_eats_a_recess_at_one_side() -> None:
    # a recess 3 aside leaves a lip from 2 to 8 wide
    aside = pocket(replace(circle(90.0), at=(3.0, 0.0)), 2.0, 0.0)
    layer = Layer("base", ASH, 10.0, circle(100.0), recesses=(aside,), chamfers=(Chamfer("top outer", 6.0),))
    found = [one for one in alarms(walls(subject_of(layer))) if "chamfer" in one.what]
    assert "cuts 4 mm into" in found[0].what
    assert (found[0].ways[0].now, found[0].ways[0].guess) == (6.0, pytest.approx(1.0))


def test_chamfer_that_eats_a_whole_lip_is_refused() -> None:
    layer = Layer(
        "base", ASH, 10.0, circle(100.0), recesses=(pocket(circle(90.0), 2.0, 0.0),),
        chamfers=(Chamfer("top outer", 6.0),),
    )  # fmt: skip
    with pytest.raises(LampError, match="nothing would be left of the top"):
        _ = subject_of(layer).stack


def test_no_flaw_gives_the_thinnest_wall_as_a_fact() -> None:
    (found,) = walls(subject_of(ring("ring"), ring("upper", 120.0, 100.0)))
    assert found.level == Level.FACT
    assert found.where == "upper"
    assert found.value == pytest.approx(10.0)


def test_layers_without_cuts_have_no_walls() -> None:
    assert walls(subject_of(Layer("base", ASH, 10.0, circle(100.0)), plate("plate", circle(90.0)))) == ()


@settings(max_examples=20, deadline=None)
@given(scale=st.floats(0.3, 5.0), x=st.floats(-15.0, 15.0), y=st.floats(-15.0, 15.0))
def test_scaling_scales_walls(scale: float, x: float, y: float) -> None:
    def width(by: float) -> float:
        opening = replace(square(30.0 * by), at=(x * by, y * by), turn=20.0)
        layer = Layer("base", ASH, 10.0, circle(120.0 * by), openings=(Opening(opening),))
        return walls_of(layer, voids_of(layer))[0].width

    assert width(scale) == pytest.approx(scale * width(1.0), rel=1e-7)
