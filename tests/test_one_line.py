"""One line for any value: bounded, without arrays, and the small told as it is."""

from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.one_line import _LONGEST, clipped, in_short, one_line


class Side(IntEnum):
    LEFT = 1


@dataclass
class Part:
    name: str
    sizes: tuple[float, ...] = ()
    mesh: object = None
    secret: int = field(default=7, repr=False)
    __repr__ = one_line


@given(st.text(), st.integers(0, 5000))
def test_it_is_one_bounded_line(name: str, many: int) -> None:
    said = repr(Part(name, tuple(float(k) for k in range(many)), np.zeros((many, 3))))
    assert len(said) <= _LONGEST
    assert "\n" not in said


def test_what_is_empty_or_absent_or_hidden_is_left_out() -> None:
    assert repr(Part("lid")) == "Part(name='lid')"


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (Side.LEFT, "LEFT"),
        (True, "True"),
        (2, "2"),
        (1 / 3, "0.333333"),
        ("lid", "'lid'"),
        (np.zeros((40, 3), np.float32), "40 × 3 float32"),
        ((1.0, 2.5), "(1, 2.5)"),
        ((1.0, 2.0, 3.0, 4.0), "4 float"),
        (("a", 1), "2 of several kinds"),
        ({"a": 1.0, "b": 2.0}, "2 float"),
        (Part("lid"), "Part 'lid'"),
    ],
)
def test_values_in_short(value: object, said: str) -> None:
    assert in_short(value) == said


@given(st.text(), st.integers(1, 200))
def test_clipping_keeps_the_beginning(text: str, longest: int) -> None:
    cut = clipped(text, longest)
    assert len(cut) <= longest
    assert cut == text or (cut.endswith("…") and text.startswith(cut[:-1]))
