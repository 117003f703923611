"""Clashes: shared space by its exact volume, largest first; touching is none; slivers of facets neither."""

from dataclasses import replace

import pytest

from stackview.findings import Level
from stackview.stack.clashes import clashes
from stackview.stack.placed import Placed
from tests.lamps import box, disc, ring

FINE = 0.05


def upright(part: Placed) -> Placed:
    return replace(part, role="core")


def test_parts_that_touch_do_not_clash() -> None:
    stacked = (box("low", (0, 0, 0), (10, 10, 5)), box("high", (0, 0, 5), (10, 10, 9)))
    beside = (box("left", (0, 0, 0), (10, 10, 5)), box("right", (10, 0, 0), (20, 10, 5)))
    assert clashes(stacked, FINE) == clashes(beside, FINE) == clashes((), FINE) == ()


def test_the_volume_shared_is_that_of_the_common_box() -> None:
    one, other = box("one", (0, 0, 0), (10, 10, 6)), box("other", (8, 7, 4), (20, 20, 20))
    (found,) = clashes((one, other), FINE)
    assert found.value == pytest.approx(2 * 3 * 2)
    assert (found.level, found.where, found.limit) == (Level.FAULT, "one and other", 0.0)
    assert "12.00 mm³" in found.what
    # Its middle: (9, 8.5, 5).
    assert "x 9" in found.what
    assert "y 8.5" in found.what
    assert "5" in found.what.split("y 8.5")[1]


def test_the_largest_comes_first() -> None:
    one = box("one", (0, 0, 0), (30, 10, 6))
    small, large = box("small", (0, 0, 5), (2, 2, 9)), box("large", (10, 0, 3), (20, 10, 9))
    assert [found.where for found in clashes((one, small, large), FINE)] == ["one and large", "one and small"]


def test_facets_of_two_fitting_curves_are_no_clash_and_a_thin_layer_is() -> None:
    # A disc of 40 mm in a ring of 40 mm: facets reach into each other by up to the sagitta,
    # r(1 − cos(π/n)), 0.0214 mm for 96 facets.
    within = disc("plate", 40.0, 0.0, 10.0)
    held = ring("ring", 40.0, 60.0, 0.0, 10.0, facets=90)
    assert clashes((within, held), FINE) == ()
    # As thin as that from top to bottom, it is a part that stands too far up.
    flat = box("flat", (-5, -5, 9.97), (5, 5, 12.0))
    (found,) = clashes((within, flat), FINE)
    assert found.value == pytest.approx(100 * 0.03, rel=1e-6)


@pytest.mark.parametrize(
    ("low", "high", "advice"),
    [
        (-5.0, 5.0, "Shorten core at its top, or give plate an opening"),
        (5.0, 20.0, "Raise the foot of core, or give plate a recess"),
        (-5.0, 20.0, "Give plate an opening that core passes"),
    ],
)
def test_the_advice_is_what_parts_them(low: float, high: float, advice: str) -> None:
    plate = box("plate", (-50, -50, 0), (50, 50, 10))
    core = upright(box("core", (-5, -5, low), (5, 5, high)))
    for pair in ((plate, core), (core, plate)):
        (found,) = clashes(pair, FINE)
        assert found.advice.startswith(advice)


def test_two_places_are_counted() -> None:
    comb = box("beam", (0, 0, 4), (100, 10, 6))
    posts = replace(ring("ring", 30.0, 40.0, 0.0, 5.0), name="ring")
    beam = box("beam", (-50, -5, 4), (50, 5, 6))
    (found,) = clashes((posts, beam), FINE)
    assert "in 2 places, the largest" in found.what
    assert clashes((comb,), FINE) == ()
