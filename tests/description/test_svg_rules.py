"""Transforms and paths by the grammar of SVG, against its own matrices; what is not followed is refused, and at once."""

import math
import time
from xml.etree.ElementTree import Element, fromstring

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.svg_rules import (
    AS_DRAWN,
    SvgError,
    check_nested,
    check_path,
    check_sheet,
    is_unseen,
    placed_within,
    placing_of,
)


def placed(written: str) -> tuple[float, ...]:
    return placing_of(Element("path", transform=written))


@pytest.mark.parametrize(
    ("written", "matrix"),
    [
        # SVG 1.1 (2nd ed.), 7.6: what each function stands for
        ("", AS_DRAWN),
        ("matrix(1 2 3 4 5 6)", (1, 2, 3, 4, 5, 6)),
        ("translate(3)", (1, 0, 0, 1, 3, 0)),
        ("translate(3,-4)", (1, 0, 0, 1, 3, -4)),
        ("scale(2)", (2, 0, 0, 2, 0, 0)),
        ("scale(2-.5)", (2, 0, 0, -0.5, 0, 0)),
        ("rotate(90)", (0, 1, -1, 0, 0, 0)),
        ("rotate(90 10 0)", (0, 1, -1, 0, 10, -10)),
        ("skewX(45)", (1, 0, 1, 1, 0, 0)),
        ("skewY(45)", (1, 1, 0, 1, 0, 0)),
        ("  translate( 1e1 , 0 ) , scale(2)\n", (2, 0, 0, 2, 10, 0)),
        # 7.4, the specification's own example of nested transforms: (2, 4) goes to (50 + ..., 90)
        ("translate(50,90)rotate(-45)translate(130,160)", (0.7071, -0.7071, 0.7071, 0.7071, 255.06, 111.21)),
    ],
)
def test_transforms(written: str, matrix: tuple[float, ...]) -> None:
    assert placed(written) == pytest.approx(matrix, abs=5e-3)


@given(st.lists(st.floats(-9, 9), min_size=12, max_size=12), st.floats(-9, 9), st.floats(-9, 9))
def test_one_after_the_other(numbers: list[float], x: float, y: float) -> None:
    def moved(m: tuple[float, ...], x: float, y: float) -> tuple[float, float]:
        return m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]

    outer, inner = tuple(numbers[:6]), tuple(numbers[6:])
    both = placed_within(outer, inner)  # type: ignore[arg-type]
    assert moved(both, x, y) == pytest.approx(moved(outer, *moved(inner, x, y)), abs=1e-9)


@pytest.mark.parametrize(
    "written",
    ["spin(3)", "scale()", "scale(1 2 3)", "matrix(1 2 3)", "rotate(1 2)", "translate(1mm)", "scale(1", "scale(1))",
     "scale(1)x", "scale(--1)", "scale(1,,2)", "scale(1e)", "none", "rotate(1e400)"],
)  # fmt: skip
def test_transforms_that_cannot_be_read(written: str) -> None:
    with pytest.raises(SvgError, match="holds a transform that cannot be read"):
        placed(written)


@pytest.mark.parametrize(
    "written",
    [
        "scale(1)" * 27 + "!",
        ("scale(1)" + " " * 40) * 50 + "!",
        "scale(1)" + " ," * 30_000 + "!",
        "scale(" + "1 " * 100_000,
        "translate" + " " * 200_000,
        "scale(1)" * 100_000,
    ],
)
def test_no_text_takes_long(written: str) -> None:
    begun = time.process_time()
    with pytest.raises(SvgError):
        placed(written)
    assert time.process_time() - begun < 1.0


@pytest.mark.parametrize(
    "style", ["transform:scale(2)", "r: 5mm", "fill:none;width:3in", "TRANSFORM : none", "d:path('')", "cx:0"]
)
def test_sizes_and_transforms_in_styles_are_refused(style: str) -> None:
    with pytest.raises(SvgError, match="in a style, which is not followed"):
        placing_of(Element("circle", style=style))
    sheet = fromstring(f"<svg><defs><style>.a {{ {style} }}</style></defs></svg>")
    with pytest.raises(SvgError, match="in a style sheet"):
        check_sheet(sheet)


@pytest.mark.parametrize(
    "style", ["fill:none;stroke-width:.25px", "stroke:#000", "fill-rule:evenodd", "opacity:1", ""]
)
def test_colours_in_styles_are_let_through(style: str) -> None:
    assert placing_of(Element("path", style=style)) == AS_DRAWN
    check_sheet(fromstring(f"<svg><style>.cls-1{{{style}}}</style></svg>"))


def test_an_origin_of_its_own_is_refused() -> None:
    with pytest.raises(SvgError, match="transform-origin"):
        placing_of(Element("path", {"transform-origin": "center"}))


@pytest.mark.parametrize("own", [{"viewBox": "0 0 1 1"}, {"x": "3"}, {"width": "50%"}])
def test_a_drawing_within_the_drawing(own: dict[str, str]) -> None:
    with pytest.raises(SvgError, match=f"its own {next(iter(own))}"):
        check_nested(Element("svg", own))
    check_nested(Element("svg", {"x": "0"}))


def test_what_is_not_displayed() -> None:
    assert is_unseen(Element("g", display="none"))
    assert is_unseen(Element("g", style="fill:red; display : none"))
    assert not is_unseen(Element("g", style="display:inline"))


@pytest.mark.parametrize(
    "path",
    [
        # SVG 1.1, 8.3.9: white space and commas may be left out wherever nothing is ambiguous
        "", " ", "M0 0", "m1,2", "M0 0L10 10", "M0,0 10,0 10,10z", "M.5.5-1-1", "M1e3-2e-3", "M0 0h1v1H0Z",
        "M0 0C1 1 2 2 3 3s1 1 2 2Q1 1 2 2t3 3", "M0 0a5 5 0 0110 10", "M0 0A5,5,0,1,0,10,10 5 5 0 1 1 0 0Z", "M0 0ZM1 1Z",
    ],
)  # fmt: skip
def test_sound_paths(path: str) -> None:
    check_path(path)


@pytest.mark.parametrize(
    "path",
    ["0 0", "L0 0", "M0", "M", "M0 0L1", "M0 0H", "M0 0C1 1 2 2 3", "M0 0Z1", "M0 0a5 5 0 2 1 3 3", "M0 0,,1 1",
     "M0 0L1 1e", "M0 0X1 1", "M0 0L1 1mm", "M0 0L٣ 1", "M0 0L--1 1"],
)  # fmt: skip
def test_broken_paths(path: str) -> None:
    with pytest.raises(SvgError, match="holds a path that cannot be read"):
        check_path(path)


def test_a_long_path_is_shown_where_it_breaks_and_read_at_once() -> None:
    begun = time.process_time()
    with pytest.raises(SvgError, match='near "Lbroken"'):
        check_path("M0 0" + "l1 1" * 100_000 + "Lbroken")
    check_path("M0 0l" + "1 " * 400_000)
    assert time.process_time() - begun < 3.0


def test_the_specifications_own_nested_transform() -> None:
    # turning by -45°, then back: a closed form of the example above
    c = math.cos(math.pi / 4)
    e, f = 50 + c * (130 + 160), 90 + c * (160 - 130)
    assert placed("translate(50,90) rotate(-45) translate(130,160)") == pytest.approx((c, -c, c, c, e, f))
