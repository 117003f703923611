"""Seating: layers drop in where they fit, by the true depth, and rest on top where they do not."""

from dataclasses import replace
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.description.lamp import Layer
from stackview.description.outline import Around
from stackview.findings import Level
from stackview.stack.seating import seated
from tests.stack.layers import ASH, circle, plate, pocket, ring, square


def test_plain_layers_stand_on_each_other() -> None:
    standing = seated((ring("one"), ring("two", thick=8.0), ring("three")))
    assert standing.undersides == (0.0, 10.0, 18.0)
    assert standing.seats == ()
    assert standing.findings() == ()


def test_a_plate_that_fits_drops_in_by_the_depth_of_its_recess() -> None:
    low = ring("low", recess=pocket(circle(104), 1.5, to="plate"))
    standing = seated((low, plate("plate", circle(104), 3.8), ring("high")))
    assert standing.undersides == pytest.approx((0.0, 8.5, 12.3))
    assert standing.findings() == ()
    (seat,) = standing.seats
    assert (seat.layer, seat.host, seat.depth) == ("plate", "low", 1.5)
    assert seat.clearance == pytest.approx(0.2)
    assert seat.proud == pytest.approx(2.3)


def test_a_plate_too_large_rests_on_top_and_says_so() -> None:
    low = ring("low", recess=pocket(circle(104), 1.5, to="plate"))
    standing = seated((low, plate("plate", circle(106), 3.8), ring("high")))
    assert standing.undersides == pytest.approx((0.0, 10.0, 13.8))
    (finding,) = standing.findings()
    assert (finding.check, finding.level, finding.where) == ("seat", Level.FAULT, "plate in low")
    assert finding.value == pytest.approx(0.8)


def test_a_sunk_plate_lets_the_next_layer_down_onto_the_ring() -> None:
    low = ring("low", recess=pocket(circle(104), 5.0, to="plate"))
    standing = seated((low, plate("plate", circle(104), 3.8), ring("high")))
    assert standing.undersides == pytest.approx((0.0, 5.0, 10.0))
    assert standing.seats[0].proud == pytest.approx(-1.2)


def test_a_recess_in_the_underside_takes_the_layer_below() -> None:
    # The lowest plate lies in the ring's underside: the ring comes down over it.
    over = ring("over", recess=pocket(circle(104), 3.0, to="plate", face="underside"))
    standing = seated((plate("plate", circle(104), 2.95), over))
    assert standing.undersides == pytest.approx((0.0, -0.05))
    (seat,) = standing.seats
    assert (seat.layer, seat.host) == ("plate", "over")
    assert seat.proud == pytest.approx(-0.05)


def test_spacers_carry_the_next_layer() -> None:
    spacers = Layer("spacers", ASH, 5.0, circle(6), around=Around(3, 105.0))
    standing = seated((ring("low"), spacers, ring("high")))
    assert standing.undersides == (0.0, 10.0, 15.0)
    assert standing.findings() == ()


def test_spacers_over_nothing_fall_through() -> None:
    spacers = Layer("spacers", ASH, 5.0, circle(6), around=Around(3, 60.0))
    (finding,) = seated((ring("low"), spacers)).findings()
    assert (finding.check, finding.where) == ("support", "spacers")


def test_a_small_layer_drops_to_what_is_under_the_ring() -> None:
    # The block passes the ring's opening and stands on the base.
    base, block = Layer("base", ASH, 10.0, circle(120)), Layer("block", ASH, 30.0, circle(40))
    standing = seated((base, ring("ring"), block))
    assert standing.undersides == (0.0, 10.0, 10.0)
    assert standing.findings() == ()


@pytest.mark.parametrize(("clearance", "seats"), [(0.2929, True), (0.2928, False)])
def test_sharp_square_corner_against_the_cutter(clearance: float, seats: bool) -> None:
    # Plane geometry, in the check values: a sharp square corner seats only with c ≥ 0.292893·r; r = 1 here.
    outline = square(80)
    low = Layer("low", ASH, 10.0, square(120), recesses=(pocket(outline, 2.0, clearance, 1.0, "plate"),))
    standing = seated((low, plate("plate", outline)))
    assert bool(standing.seats) is seats
    assert bool(standing.findings()) is not seats
    assert standing.undersides[1] == (8.0 if seats else 10.0)


def test_a_plate_turned_with_its_host_still_fits() -> None:
    outline = square(80, 3.0)
    low = Layer("low", ASH, 10.0, square(120), recesses=(pocket(outline, 2.0, 0.2, 3.0, "plate"),), turn=35.0)
    assert seated((low, replace(plate("plate", outline), turn=35.0))).seats
    assert not seated((low, replace(plate("plate", outline), turn=36.0))).seats


def test_the_deeper_of_two_recesses_takes_what_fits_it() -> None:
    steps = (pocket(circle(104), 1.5), pocket(circle(60), 4.0))
    low = Layer("low", ASH, 10.0, circle(120), recesses=steps)
    assert seated((low, plate("small", circle(60)))).undersides[1] == 6.0
    assert seated((low, plate("wide", circle(104)))).undersides[1] == 8.5


@settings(max_examples=25, deadline=None)
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.5, 5.0))
def test_more_clearance_never_worsens_seating(one: float, other: float, cutter: float) -> None:
    outline = square(80)

    def drop(clearance: float) -> float:
        low = Layer(
            "low", ASH, 10.0, square(120), recesses=(pocket(outline, 2.0, clearance, cutter, "plate"),)
        )
        return seated((low, plate("plate", outline))).undersides[1]

    tight, loose = sorted((one, other))
    assert drop(loose) <= drop(tight)


@pytest.mark.parametrize(
    ("across", "seats", "past"),
    [
        (104.0, True, None),
        (104.0 + 1e-6, False, 0.5e-6),
        (104.1, False, 0.05),
        (105.9, False, 0.95),
        # a rim of 1 mm is a ledge, however narrow, and may be meant
        (106.0, False, None),
        (110.0, False, None),
    ],
)
def test_a_drawn_recess_is_held_against_what_lies_on_it(
    across: float, seats: bool, past: float | None
) -> None:
    drawn = pocket(circle(104.0), 2.0, clearance=0.0)
    standing = seated((ring("ring", 130.0, recess=drawn), plate("plate", circle(across))))
    assert bool(standing.seats) == seats
    assert [misfit.fit.by for misfit in standing.misfits] == (
        [] if past is None else [pytest.approx(past, rel=1e-3)]
    )
    told = standing.findings()
    assert len(told) == (past is not None)
    if past is not None:
        assert "does not fit the recess in the top" in told[0].what
        assert standing.undersides[1] == 10.0


def test_a_drawn_recess_in_the_underside_is_held_against_what_it_comes_down_on() -> None:
    drawn = pocket(circle(104.0), 2.0, clearance=0.0, face="underside")
    for across, misfits in ((104.0, 0), (104.2, 1), (120.0, 0)):
        standing = seated((plate("plate", circle(across)), ring("ring", 130.0, recess=drawn)))
        assert len(standing.misfits) == misfits


def test_pin_holes_are_no_seats_that_a_layer_misses() -> None:
    hole = pocket(replace(circle(4.0), at=(50.0, 0.0)), 5.0, clearance=0.0)
    assert seated((ring("ring", recess=hole), ring("upper"))).misfits == ()
    assert seated((ring("ring", recess=hole), plate("plate", circle(100.0)))).misfits == ()


def rods_in_pits(across: float, middle: float = 106.0, count: int = 3) -> tuple[Layer, ...]:
    """Three rods of 6 on a circle of 106, each over a pit of its own, 2 deep, then a ring."""
    pits = tuple(
        pocket(replace(circle(across), at=(0.5 * middle * x, 0.5 * middle * y)), 2.0, clearance=0.0)
        for x, y in ((0.0, -1.0), (sqrt(0.75), 0.5), (-sqrt(0.75), 0.5))[:count]
    )
    rods = Layer("rods", ASH, 5.0, circle(6.0), around=Around(3, 106.0))
    return replace(ring("ring"), recesses=pits), rods, ring("upper")


def test_pieces_drop_into_recesses_of_their_own() -> None:
    standing = seated(rods_in_pits(6.4))
    assert [(seat.layer, seat.host, seat.depth) for seat in standing.seats] == [("rods", "ring", 2.0)]
    assert standing.seats[0].clearance == pytest.approx(0.2)
    assert standing.undersides == (0.0, 8.0, 13.0)


@pytest.mark.parametrize("layers", [rods_in_pits(5.8), rods_in_pits(6.4, 104.0), rods_in_pits(6.4, count=2)])
def test_pieces_of_which_one_has_no_recess_that_takes_it_stay_on_top(layers: tuple[Layer, ...]) -> None:
    standing = seated(layers)
    assert standing.seats == ()
    assert standing.undersides == (0.0, 10.0, 15.0)


def test_a_hair_too_large_is_not_said_to_reach_nought() -> None:
    host = ring("host", recess=pocket(circle(100.0), 2.0, 0.0, to="plate"))
    (told,) = seated((host, plate("plate", circle(100.004)))).findings()
    assert "reaches less than 0.01 mm into the wall" in told.what
    assert told.parts == ("plate", "host")
