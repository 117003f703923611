"""Materials as values: which thickness holds, and which way a board's width runs."""

import math
from dataclasses import replace

import pytest

from stackview.description.material import Length, MaterialKind, Movement, Optics
from tests.lamps import WOOD


def test_the_caliper_wins_over_the_label() -> None:
    sold, measured = Length(6.35, "1/4 in"), Length(5.8, ".228 in")
    assert WOOD.thickness is None
    assert replace(WOOD, sold=sold).thickness == 6.35
    assert replace(WOOD, measured=measured).thickness == 5.8
    assert replace(WOOD, sold=sold, measured=measured).thickness == 5.8


def test_a_length_is_shown_as_written() -> None:
    assert str(Length(18.8468, ".742 in")) == ".742 in"


def test_a_quarter_sawn_board_moves_as_the_radius_does() -> None:
    # Wood Handbook FPL-GTR-190, table 13-5, black walnut: C_R 0.00190, C_T 0.00274 per % of moisture.
    walnut = Movement(tangential=0.00274, radial=0.00190)
    assert walnut.across == 0.00274
    assert replace(walnut, quarter=True).across == 0.00190


def test_what_does_not_move_moves_by_nothing() -> None:
    assert Movement().across == replace(Movement(), quarter=True).across == 0.0


def test_optics_are_assumptions_until_given() -> None:
    usual = Optics()
    assert usual.given == ()
    for share in (usual.roughness, usual.transmission, usual.haze):
        assert 0.0 < share <= 1.0
        assert math.isfinite(share)
    with pytest.raises(AttributeError):
        usual.roughness = 0.1  # type: ignore[misc]


@pytest.mark.parametrize(
    ("kind", "figured", "wooden"),
    [
        ("wood", True, True),
        ("plywood", True, True),
        ("board", False, True),
        ("acrylic", False, False),
        ("metal", False, False),
        ("plastic", False, False),
    ],
)
def test_a_material_says_what_it_is(kind: MaterialKind, figured: bool, wooden: bool) -> None:
    one = replace(WOOD, kind=kind)
    said = (one.is_solid_wood, one.is_plywood, one.is_board, one.is_acrylic, one.is_metal)
    assert said == tuple(kind == each for each in ("wood", "plywood", "board", "acrylic", "metal"))
    assert (one.is_figured, one.is_wooden) == (figured, wooden)
