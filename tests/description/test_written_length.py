from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.units import MM_PER_UNIT
from stackview.description.written_length import LengthError, read_length


# 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)
@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("5.6 mm", 5.6),
        ("5-1/2 in", 139.7),
        ("1 1/8 in", 28.575),
        (".220 in", 5.588),
        ("3/16 in", 4.7625),
        ("5 ft", 1524.0),
        ("5 ft 6 in", 1676.4),
        ("5'6\"", 1676.4),
        ("5′ 6-1/2″", 1689.1),
        ('6"', 152.4),
        ("1½ in", 38.1),
        ("½ in", 12.7),
        ("3 m", 3000.0),
        ("2.5 cm", 25.0),
        ("12 inches", 304.8),
        ("-1/2 in", -12.7),
        ("−3 mm", -3.0),
        ("5.", 5.0),
    ],
)
def test_what_makers_write(written: str, mm: float) -> None:
    assert read_length(written, "mm").mm == mm


@pytest.mark.parametrize(
    ("unit", "mm"), [("mm", 12.0), ("cm", 120.0), ("in", 304.8), ("ft", 3657.6), ("m", 12000.0)]
)
def test_bare_numbers_count_in_the_files_unit(unit: str, mm: float) -> None:
    assert read_length(12, unit).mm == mm
    assert read_length("12", unit).mm == mm
    assert read_length(12, unit).written == f"12 {unit}"


def test_a_decimal_is_taken_as_written_not_as_the_nearest_binary() -> None:
    assert read_length(0.1, "in").mm == 2.54
    assert read_length(0.742, "in").mm == 18.8468


def test_what_was_written_is_kept() -> None:
    assert read_length(" 5-1/2 in ", "mm").written == "5-1/2 in"
    assert read_length("1/2", "in").written == "1/2 in"


@pytest.mark.parametrize("word", ["mil", "mils", "thou"])
def test_mil_is_refused_with_the_reason(word: str) -> None:
    with pytest.raises(LengthError, match=r"thousandth of an inch and a millimetre.*write \"\.220 in\""):
        read_length(f"220 {word}", "mm")


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("", "is not a length"),
        ("wide", "is not a length"),
        ("5,6 mm", "with a point for the decimals"),
        ("1/0 in", "divides by zero"),
        ("3 parsec", 'no unit "parsec"'),
        ("5 mm 6 in", "is not a length|no unit"),
        ("1e3", "is not a length|no unit"),
        ("9" * 60, "longer than 40 characters"),
        (float("nan"), "not a finite length"),
        (float("inf"), "not a finite length"),
        (True, "true is not a length"),
        (None, "is not a length"),
        ([3], "is not a length"),
        (1e300, "too large"),
        (10**400, "too large"),
        ("5 mm\n", None),
    ],
)
def test_what_is_no_length_is_refused(written: object, says: str | None) -> None:
    if says is None:
        assert read_length(written, "mm").mm == 5.0
        return
    with pytest.raises(LengthError, match=says):
        read_length(written, "mm")


def test_limits_name_value_limit_and_advice() -> None:
    with pytest.raises(
        LengthError, match=r"-3 is negative; a size is at least 0.01 mm: write it without the minus"
    ):
        read_length(-3, "mm", low=0.01, of="a size")
    with pytest.raises(
        LengthError, match=r"\"9 ft\" is too large \(9 ft is 2743.2 mm\); a size is at most 2000 mm: check"
    ):
        read_length("9 ft", "mm", high=2000, of="a size")
    assert read_length(0.01, "mm", low=0.01).mm == 0.01


@given(st.fractions(0, 100, max_denominator=999), st.sampled_from(sorted(MM_PER_UNIT)))
def test_a_fraction_is_exact_in_every_unit(value: Fraction, unit: str) -> None:
    text = f"{value.numerator}/{value.denominator} {unit}"
    assert read_length(text, "mm").mm == float(value * MM_PER_UNIT[unit])


@given(st.text(max_size=50))
def test_any_text_is_read_or_refused(text: str) -> None:
    said = ""
    try:
        read_length(text, "mm", high=1e6)
    except LengthError as refused:
        said = str(refused)
    assert said.isprintable()
