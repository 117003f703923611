import math
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from stackview.description.material import Length
from stackview.description.units import MILLIMETRES, MM_PER_UNIT, Units, shown, unit_of, units_of
from stackview.description.written_length import read_length

ALL = [units_of(unit) for unit in MM_PER_UNIT] + [Units(unit) for unit in ("in", "ft")]
LENGTHS = st.floats(0.001, 5000.0)


def own(text: str) -> str:
    """What stands before the brackets."""
    return text.partition(" (")[0]


# --- What is shown -------------------------------------------------------------------------------


def test_millimetres() -> None:
    assert MILLIMETRES.show(17.4) == "17.4 mm"
    assert MILLIMETRES.show(100) == "100 mm"
    assert MILLIMETRES.show(-0.001) == "0 mm"


def test_inches_are_fractions_only_where_they_are_fractions() -> None:
    inches = Units("in")
    assert inches.show(139.7) == "5-1/2 in"
    assert inches.show(-25.4) == "-1 in"
    assert inches.show(0.001) == "0 in"
    assert inches.show(25.4 / 64) == "1/64 in"
    # 47/64 in is 0.734375 in, and .742 in is the caliper's own reading
    assert inches.show(25.4 * 0.742) == "0.742 in"
    assert inches.show(25.4 * 47 / 64) == "47/64 in"


def test_feet_and_inches_and_small_lengths_in_inches() -> None:
    feet = units_of("ft")
    assert feet.show(66 * 25.4) == "5 ft 6 in (1676.4 mm)"
    assert feet.show(60 * 25.4) == "5 ft (1524 mm)"
    assert feet.show(66.5 * 25.4) == "5 ft 6-1/2 in (1689.1 mm)"
    assert feet.show(11.75 * 25.4) == "11-3/4 in (298.45 mm)"
    assert feet.show(-13 * 25.4) == "-1 ft 1 in (-330.2 mm)"
    assert feet.plain(11.99999 * 25.4) == "1 ft"
    assert (feet.short(18.8468), feet.short(14.125 * 25.4)) == ("0.742 in", "1 ft 2.125 in")


def test_centimetres_and_metres() -> None:
    assert (Units("cm").show(17.4), Units("cm").show(0.25), Units("cm").show(300.0)) == (
        "1.74 cm",
        "0.025 cm",
        "30 cm",
    )
    assert (Units("m").show(17.4), Units("m").show(412.5), Units("m").show(1500.0)) == (
        "17.4 mm",
        "0.4125 m",
        "1.5 m",
    )
    assert Units("m").show(99.999) == "0.1 m"


def test_the_other_system_stands_in_brackets_where_asked_for() -> None:
    assert units_of("in").show(19.05) == "3/4 in (19.05 mm)"
    assert Units("mm", beside=True).show(19.05) == "19.05 mm (3/4 in)"
    assert units_of("in").alone.show(19.05) == "3/4 in"
    assert units_of("in").other.show(19.05) == "19.05 mm"


def test_a_written_length_is_shown_as_written_in_its_own_unit() -> None:
    inches = units_of("in")
    assert inches.show(read_length(".742 in", "in")) == ".742 in (18.85 mm)"
    assert inches.show(read_length(".500", "in")) == ".500 in (12.7 mm)"
    assert inches.show(read_length("3 mm", "in")) == "0.118 in (3 mm)"
    assert Units("mm").show(read_length(".742 in", "in")) == "18.85 mm"
    assert units_of("ft").show(read_length("5' 6\"", "ft")) == "5' 6\" (1676.4 mm)"
    assert Units("mm").show(Length(25.0, "2.5 cm")) == "25 mm"
    assert [unit_of(text) for text in ("1½ in", "5 ft 6", "3″", "2 Feet")] == ["in", "", "in", "ft"]


@given(st.integers(0, 500), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_inch_fractions_come_back_as_they_went(whole: int, part: int, denominator: int) -> None:
    inches = whole + Fraction(part % denominator, denominator)
    mm = float(inches * Fraction(254, 10))
    assert read_length(Units("in").plain(mm), "mm").mm == mm
    assert read_length(Units("ft").plain(mm), "mm").mm == mm


# --- What is promised of rounding ----------------------------------------------------------------


@pytest.mark.parametrize("units", ALL, ids=str)
@given(mm=LENGTHS)
def test_shown_lengths_are_read_back_within_half_of_the_last_place(units: Units, mm: float) -> None:
    # 0.01 mm, or a thousandth of an inch: half of it is 0.0127 mm
    for text in (units.plain(mm), units.short(mm), own(units.show(mm))):
        assert abs(read_length(text, units.unit).mm - mm) <= 0.0128, text


@pytest.mark.parametrize("units", ALL, ids=str)
@given(mm=LENGTHS)
@example(mm=773.1125253629751)
def test_typed_in_as_printed_a_least_is_enough_and_a_most_not_too_much(units: Units, mm: float) -> None:
    least, most = units.least(mm), units.most(mm)
    for text in least.rstrip(")").split(" ("):
        assert read_length(text, units.unit).mm >= mm - 1e-6, least
    for text in most.rstrip(")").split(" ("):
        assert read_length(text, units.unit).mm <= mm + 1e-6, most
    assert read_length(own(least), units.unit).mm - mm < 0.0256


@given(st.floats(-1e-3, 1e-3))
def test_no_minus_stands_before_nothing(mm: float) -> None:
    for units in ALL:
        assert own(units.show(mm)) in ("0 mm", "0 cm", "0 in")


@given(st.floats(0.0001, 1.0))
def test_small_amounts_keep_what_tells_them_from_nothing(mm: float) -> None:
    for units in ALL:
        assert math.isclose(
            read_length(own(units.small(mm)), "mm").mm, mm, abs_tol=1.3e-3 if mm >= 0.1 else 1.3e-4
        )


def test_places_and_powers() -> None:
    assert units_of("in").at(38.1, 19.05, -0.0001) == "x 1-1/2 in, y 3/4 in, z 0 in"
    assert units_of("in").volume(1638.7064) == "0.1 in³ (1638.71 mm³)"
    assert Units("cm").area(12.5) == "12.50 mm²"
    assert Units("ft").mm(0.5) == 152.4


def test_messages_show_values_safely() -> None:
    assert shown("\x1b[31m") == '"?[31m"'
    assert len(shown("x" * 1000)) < 50
    assert shown(10**500) == "a number of more than 40 figures"


@pytest.mark.parametrize(
    ("inches", "said", "listed"),
    [
        ("0.742", "0.742 in", "0.742 in"),
        ("0.484", "0.484 in", "0.484 in"),  # a ten-thousandth off 31/64
        ("0.1245", "0.1245 in", "0.1245 in"),
        ("5.0155", "5.0155 in", "5.0155 in"),
        ("0.0625", "1/16 in", "0.0625 in"),
        ("0.12345", "0.123 in", "0.123 in"),
        ("-0.7425", "-0.7425 in", "-0.7425 in"),
    ],
)
def test_what_a_caliper_reads_is_said_as_it_reads(inches: str, said: str, listed: str) -> None:
    mm = float(Fraction(inches) * MM_PER_UNIT["in"])
    units = Units("in")
    assert (units.plain(mm), units.short(mm)) == (said, listed)
    assert units.least(mm) in (said, "0.124 in")
    assert units.most(mm) == said
