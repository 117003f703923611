"""Figures of the glow: as many as are known, without powers of ten, the error beside the ratio."""

import io
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.commands.glow_output import _cells, _figures, _short, print_record
from stackview.glow.gathered import PlateGlow


def plate(ratio: float, error: float) -> PlateGlow:
    return PlateGlow(
        layer="plate",
        hot_spot_ratio=ratio,
        ratio_error=error,
        peak_cd_m2=12345.0,
        peak_error=error,
        mean_cd_m2=0.0512,
        mean_error=0.01,
        samples=66,
    )


@given(st.floats(1e-6, 1e9))
def test_three_figures_are_within_half_of_the_last(value: float) -> None:
    text = _short(value)
    assert "e" not in text
    assert float(text) == pytest.approx(value, rel=0.0051)
    assert len(text.replace(".", "").strip("0")) <= 3


def test_nought_and_what_is_not_known() -> None:
    assert _short(0.0) == "0"
    assert _short(float("nan")) == "nan"


@given(st.floats(1e-3, 1e6), st.integers(1, 8))
def test_a_record_keeps_so_many_figures(value: float, count: int) -> None:
    assert _figures(value, count) == pytest.approx(value, rel=0.51 * 10.0 ** (1 - count))
    assert _figures(_figures(value, count), count) == _figures(value, count)


@pytest.mark.parametrize(
    ("ratio", "error", "shown"),
    [
        # Two figures of the error, and the ratio to the same place.
        (2.3456, 0.05, "2.35 ± 0.12"),
        (12.345, 0.1, "12.3 ± 1.2"),
        (1.5, 0.0, "1.50"),
        (1.5, 0.7, "not known yet"),
    ],
)
def test_a_ratio_is_no_finer_than_its_error(ratio: float, error: float, shown: str) -> None:
    assert _cells(plate(ratio, error))[0] == shown


def test_luminances_are_short_and_what_is_no_plate_has_none() -> None:
    assert _cells(plate(2.0, 0.1))[1:] == ("12000 ± 1000 cd/m²", "0.0512 ± 0.0005 cd/m²")
    # Nothing is printed as if it were known.
    assert _cells(plate(2.0, 0.6)) == ("not known yet", "not known yet", "0.0512 ± 0.0005 cd/m²")
    assert _cells(None) == ("", "", "")


def test_a_record_is_one_line() -> None:
    out = io.StringIO()
    print_record({"lamp": "Moor\nDrum", "lumens": 1.5}, out)
    assert out.getvalue().count("\n") == 1
    assert json.loads(out.getvalue())["lumens"] == 1.5
    with pytest.raises(ValueError, match="not JSON compliant"):
        print_record({"lumens": float("nan")}, out)
