"""Screws by hand: two boards of 9 mm, screws of 4 by 16 through four holes into the lower one."""

from dataclasses import replace

import pytest

from stackview.checks.screws import holes_for, met_by, screws_hold
from stackview.description.lamp import Bore, Layer, Opening, Screws
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle
from stackview.findings import Level
from stackview.study import Study
from tests.checks.subjects import subject_of
from tests.stack.layers import ASH, CLEAR, circle, pocket

FOUR = Around(4, 80.0, 0.0)
SCREWS = Screws("lid screws", 4, 4.0, 16.0, "lid", "base")


def holes(diameter: float, copies: Around = FOUR) -> Opening:
    return Opening(Outline(Circle(diameter)), around=copies)


def board(name: str, *openings: Opening, thick: float = 9.0) -> Layer:
    return Layer(name, ASH, thick, circle(100.0), openings=openings)


def lamp(*layers: Layer, screws: Screws = SCREWS) -> Study:
    study = subject_of(*layers)
    return Study(replace(study.lamp, screws=(screws,)))


def told(*layers: Layer, screws: Screws = SCREWS) -> list[str]:
    return [each.cause for each in screws_hold(lamp(*layers, screws=screws)) if each.level > Level.FACT]


def test_screws_that_pass_and_hold_are_quiet() -> None:
    assert screws_hold(lamp(board("base"), board("lid", holes(4.0)))) == ()
    assert screws_hold(lamp(board("base", holes(2.5)), board("lid", holes(4.5)))) == ()


def test_without_holes_it_is_said_when_they_are_drilled() -> None:
    (fact,) = screws_hold(lamp(board("base"), board("lid")))
    assert fact.level == Level.FACT
    assert "once both layers lie in their places" in fact.what
    # a head of 8 mm falls through a hole of 8
    assert [each.level for each in screws_hold(lamp(board("base"), board("lid", holes(8.0))))] == [Level.FACT]


def test_holes_are_found_where_they_stand_in_the_turned_layer() -> None:
    found = holes_for(SCREWS, replace(board("lid", holes(4.0, Around(1, 80.0, 0.0))), turn=90.0))
    # drawn at the front, and turned counter-clockwise from above to the right
    assert found[0].drawn == pytest.approx((0.0, -40.0))
    assert found[0].stands == pytest.approx((40.0, 0.0))


def test_a_narrow_hole_bites_under_the_head() -> None:
    study = lamp(board("base"), board("lid", holes(3.5)))
    (found,) = screws_hold(study)
    assert (found.value, found.limit) == (3.5, 4.0)
    assert len(found.places) == 4
    assert [(way.part, way.key, way.guess) for way in found.ways] == [("lid", "size of opening 0", 0.25)]


def test_fewer_holes_than_screws() -> None:
    assert told(board("base"), board("lid", holes(4.0, Around(3, 80.0, 0.0)))) == ["number of holes"]


def test_what_holds_is_what_is_all_round_the_thread() -> None:
    lid = board("lid", holes(4.0))
    (met,) = {one.held for one in met_by(lamp(board("base"), lid), SCREWS, holes_for(SCREWS, lid))}
    assert met == pytest.approx(7.0)
    # 6 mm, one and a half diameters, are needed
    assert told(board("base"), lid, screws=replace(SCREWS, length=15.0)) == []
    assert told(board("base"), lid, screws=replace(SCREWS, length=14.9)) == ["nothing to hold in"]
    # a hole as wide as the screw holds nothing, neither does a board that ends before it
    assert told(board("base", holes(4.0)), lid) == ["nothing to hold in"]
    assert told(replace(board("base"), outline=circle(76.0)), lid) == ["nothing to hold in"]
    # a pocket of 3 mm below takes the last of it: from 16 mm deep to 15
    assert told(replace(board("base"), recesses=(pocket(circle(90.0), 3.0, face="underside"),)), lid) == []


def test_the_best_of_more_holes_than_screws_count() -> None:
    wide = Around(8, 80.0, 0.0)
    half = board("base", holes(6.0, Around(4, 80.0, 45.0)))
    assert told(half, board("lid", holes(4.0, wide))) == []
    (found,) = screws_hold(lamp(half, board("lid", holes(4.0, wide)), screws=replace(SCREWS, count=6)))
    assert "2 of 6 find nothing of base to hold in" in found.what


def test_a_layer_between_has_to_let_them_pass() -> None:
    lid = board("lid", holes(4.0), thick=5.0)
    long = replace(SCREWS, length=20.0)
    plate = Layer("plate", CLEAR, 4.0, circle(100.0))
    assert told(board("base"), plate, lid, screws=long) == ["no hole on the way"]
    assert told(board("base"), replace(plate, openings=(holes(4.2),)), lid, screws=long) == []
    assert told(board("base"), replace(plate, openings=(holes(3.5),)), lid, screws=long) == [
        "no hole on the way"
    ]


def test_from_below_they_hold_in_what_lies_above() -> None:
    upwards = replace(SCREWS, through="base", into="lid")
    assert told(board("base", holes(4.0)), board("lid"), screws=upwards) == []
    assert told(board("base", holes(4.0)), board("lid", holes(4.0)), screws=upwards) == ["nothing to hold in"]


def test_they_stay_out_of_the_bore() -> None:
    # a bore to the front at mid-height of the base, 4.5 mm: the screw in front ends 2 mm above its foot
    bored = replace(board("base"), bores=(Bore(4.0, 4.5, 0.0),))
    (found,) = screws_hold(lamp(bored, board("lid", holes(4.0))))
    assert found.cause == "screws in a bore"
    assert "1 of 4 come into the bore of base" in found.what
    assert told(replace(bored, bores=(Bore(4.0, 4.5, 45.0),)), board("lid", holes(4.0))) == []


def test_acrylic_is_split() -> None:
    acrylic = replace(board("base"), material=CLEAR)
    assert told(acrylic, board("lid", holes(4.0))) == ["screws into acrylic"]
