"""Printed steps: exact in their unit, away from the old number, the same when typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.change.printed import millimetres, steps_for
from stackview.description.units import Units, units_of
from stackview.description.written_length import read_length


@pytest.mark.parametrize(
    ("written", "unit", "fit", "step"),
    [
        (8.8, "mm", False, 0.1),
        (14, "mm", False, 0.1),
        (0.2, "mm", True, 0.05),
        (0.88, "cm", False, 0.1),
        ("8 mm", "in", False, 0.1),
        ("5/16", "in", False, 25.4 / 64),
        (10, "in", False, 25.4 / 64),
        (".742 in", "mm", False, 0.0254),
        (4.8, "in", False, 0.0254),
        ("4 ft", "ft", False, 25.4 / 64),
    ],
)
def test_the_step_is_what_a_maker_sets(written: float | str, unit: str, fit: bool, step: float) -> None:
    assert float(steps_for(written, Units(unit), fit=fit).step) == pytest.approx(step, rel=1e-12)


@given(
    st.sampled_from([(8.8, "mm"), (0.88, "cm"), ("5/16", "in"), (4.8, "in"), ("8 mm", "in"), ("4 ft", "ft")]),
    st.floats(0.5, 900.0),
    st.sampled_from([1, -1]),
)
def test_what_is_typed_is_what_was_printed(written: tuple[float | str, str], mm: float, towards: int) -> None:
    text, unit = written
    steps = steps_for(text, units_of(unit))
    printed = steps.at(steps.beyond(mm, towards))
    assert read_length(printed.typed, unit).mm == pytest.approx(printed.mm, abs=1e-9)
    # never nearer to the old number than was asked, and within one step of it
    assert -1e-6 <= (printed.mm - mm) * towards < float(steps.step) + 1e-6


def test_a_number_on_the_grid_stays() -> None:
    steps = steps_for(8.8, Units("mm"))
    assert steps.beyond(9.9, 1) == steps.beyond(9.9, -1) == 99


def test_millimetres_are_read_in_any_unit() -> None:
    assert read_length(millimetres(9.803), "in").mm == pytest.approx(9.803)
