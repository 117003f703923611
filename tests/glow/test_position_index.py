"""Guth's position index against CIE 117 Table 4.1, its limits, and what holds below the line of sight."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.position_index import GREATEST_INDEX, above_line, below_line, position_index


def index(across: float, up: float, along: float = 1.0) -> float:
    return float(position_index(np.array(across), np.array(up), np.array(along)))


@pytest.mark.parametrize(
    ("across", "up", "printed"),
    [
        (0.0, 0.1, 1.26),
        (0.0, 0.4, 2.35),
        (0.0, 0.5, 2.86),
        (0.0, 1.5, 13.15),
        (0.667, 0.5, 3.23),
        (2.0, 1.5, 12.85),
    ],
)
def test_values_of_cie_117_table_4_1(across: float, up: float, printed: float) -> None:
    # The closed formula lies within −8 % to +0.5 % of the printed values.
    assert -0.08 <= index(across, up) / printed - 1.0 <= 0.005


def test_on_the_line_of_sight_it_is_one() -> None:
    assert index(0.0, 0.0) == 1.0
    assert index(0.0, 1e-9) == pytest.approx(1.0, abs=1e-6)
    assert index(0.0, -1e-9) == pytest.approx(1.0, abs=1e-6)
    assert index(1e-9, 0.0) == pytest.approx(1.0, abs=1e-6)


def test_level_with_the_eye_and_behind_it_nothing_glares() -> None:
    assert index(0.0, 1.0, 0.0) == np.inf
    assert index(0.0, 0.5, -1.0) == np.inf
    assert index(0.0, 0.0, -1.0) == np.inf


def test_below_the_line_it_follows_iwata_and_tokura() -> None:
    # 1 + 0.8·r, and 1 + 1.2·r from r = 0.6 on (Iwata and Tokura 1997, from memory).
    assert index(0.0, -0.5) == pytest.approx(1.4)
    assert index(0.3, -0.4) == pytest.approx(1.4)
    assert index(0.0, -1.0) == pytest.approx(2.2)
    assert below_line(np.array([3.0, 50.0])).tolist() == pytest.approx([4.6, 4.6])


def test_far_off_the_line_it_ends_at_its_greatest_value() -> None:
    assert index(0.0, 10.0) == GREATEST_INDEX


@given(
    across=st.floats(-3.0, 3.0),
    up=st.floats(-3.0, 3.0),
    along=st.floats(0.01, 3.0),
    scale=st.floats(0.01, 100.0),
)
def test_only_directions_matter_and_left_is_like_right(
    across: float, up: float, along: float, scale: float
) -> None:
    value = index(across, up, along)
    assert 1.0 <= value <= GREATEST_INDEX
    assert index(-across, up, along) == value
    if abs(up) > 1e-6:  # so near the line of sight, scaling may round it to the other side
        assert index(scale * across, scale * up, scale * along) == pytest.approx(value, rel=1e-6)


@given(alpha=st.floats(0.0, 90.0), beta=st.floats(0.0, 80.0), step=st.floats(0.1, 9.0))
def test_it_grows_with_the_angle_off_the_line(alpha: float, beta: float, step: float) -> None:
    assert above_line(np.array(alpha), np.array(beta + step)) > above_line(np.array(alpha), np.array(beta))
