from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.glue_bead import bead_diameter, fillet_size, squeezed_out

positive = st.floats(0.01, 1000.0)


@given(positive, positive, st.floats(0.01, 1.0))
def test_a_bead_wets_just_the_area_that_it_was_made_for(width: float, length: float, film: float) -> None:
    bead = bead_diameter(width * length * film, length)
    # a bead of section πd²/4 pressed to the film's thickness
    assert pi * bead**2 / 4.0 / film == pytest.approx(width)


def test_no_more_than_needed_and_laid_exactly_leaves_nothing() -> None:
    assert squeezed_out(1.0, 0.0, 0.0) == (0.0, 0.0)


@given(positive, st.floats(0.0, 2.0), st.floats(0.0, 1.0))
def test_what_comes_out_of_both_edges_is_what_was_too_much(
    section: float, excess: float, spread: float
) -> None:
    meant, most = squeezed_out(section, excess, spread)
    assert 2.0 * meant == pytest.approx(section * excess)
    assert most >= meant - 1e-12


def test_a_quarter_round() -> None:
    assert fillet_size(3.141592653589793 * 4.0 / 4.0) == pytest.approx(2.0)
