"""Angles and shares are written in one way: signs, decimals, spaces; nothing else in the package writes its own."""

import ast
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.in_figures import bearing_words, degrees, figure, percent
from tests.test_architecture import FILES, name_of, tree

OWN = "in_figures.py"


@given(st.floats(-90.0, 90.0))
def test_elevations_are_signed_and_read_back(angle: float) -> None:
    words = degrees(angle)
    assert words.endswith("°")
    assert "-" not in words
    assert float(words[:-1].replace("−", "-")) == pytest.approx(angle, abs=0.0501)
    assert words == "0.0°" or words[0] in "+−"


@given(st.floats(1e-6, 1e6), st.integers(0, 2))
def test_a_quantity_reads_back_to_two_figures_and_never_as_nothing(value: float, places: int) -> None:
    assert float(figure(value, places)) == pytest.approx(value, rel=0.051)


@given(st.floats(-720.0, 720.0))
def test_bearings_lie_within_a_turn(bearing: float) -> None:
    told = float(bearing_words(bearing)[:-1])
    assert 0.0 <= told < 360.0
    off = abs(told - bearing) % 360.0
    assert min(off, 360.0 - off) <= 0.0501


@given(st.floats(0.0, 1.0), st.integers(0, 2))
def test_a_share_is_nothing_or_all_only_if_it_is(share: float, places: int) -> None:
    words = percent(share, places)
    assert (words == "0%") == (share == 0.0)
    assert " %" not in words
    number = float(re.findall(r"[0-9.]+", words)[0])
    if words.startswith("under"):
        assert 0.0 < 100.0 * share < number
    elif words.startswith("over"):
        assert number < 100.0 * share
    else:
        assert number == pytest.approx(100.0 * share, abs=0.5001 * 10.0**-places)


def wrong_figures(code: ast.Module) -> list[str]:
    """Formatted values written as a share or a signed angle, and texts with a space before "%"."""
    found = []
    plain = {node.value for node in ast.walk(code) if isinstance(node, ast.Expr)}  # docstrings
    for node in ast.walk(code):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in plain:
            found += re.findall(r"\d %.{0,10}", node.value)
        if not isinstance(node, ast.JoinedStr):
            continue
        for value, after in zip(node.values, [*node.values[1:], ast.Constant("")], strict=True):
            if isinstance(value, ast.FormattedValue):
                spec = ast.unparse(value.format_spec) if value.format_spec else ""
                text = after.value if isinstance(after, ast.Constant) and isinstance(after.value, str) else ""
                if (
                    spec.rstrip("'\"").endswith("%")
                    or text.startswith(" %")
                    or ("+" in spec and text.startswith("°"))
                ):
                    found.append(ast.unparse(value) + text[:10])
    return found


def test_shares_and_signed_angles_are_written_in_one_place() -> None:
    wrong = {name_of(file): wrong_figures(tree(file)) for file in FILES if name_of(file) != OWN}
    assert {name: found for name, found in wrong.items() if found} == {}


@pytest.mark.parametrize("text", ['f"{x:.0%}"', 'f"{x:.1f} %"', 'f"{x:+.1f}°"', 'y = "passes 70 %"'])
def test_the_rule_sees_what_it_forbids(text: str) -> None:
    assert wrong_figures(ast.parse(text)) or wrong_figures(ast.parse(f"y = {text}"))
