"""The table of sheets: whole, sorted, and asked by thickness."""

from dataclasses import replace

import pytest

from stackview.description.sheets_table import sheet_of, sold_sheets
from tests.lamps import WOOD, acrylic


def test_every_row_is_whole() -> None:
    for name, row in sold_sheets().items():
        assert row.name == name
        assert list(row.thicknesses) == sorted(row.thicknesses)
        assert min(row.sheet) > 1000.0
        assert "common practice" in row.source


@pytest.mark.parametrize(
    ("thickness", "sold"), [(3.0, True), (3.05, True), (6.35, True), (3.1, False), (7.0, False)]
)
def test_what_is_sold(thickness: float, sold: bool) -> None:
    assert sold_sheets()["cast acrylic"].sells(thickness) is sold


def test_plywood_of_the_trade() -> None:
    assert all(sold_sheets()["plywood"].sells(one) for one in (4, 6.5, 9, 12, 15, 18, 21, 24))


def test_what_lies_beside() -> None:
    plywood = sold_sheets()["plywood"]
    assert plywood.beside(13.0) == (12.7, 15.0)
    assert plywood.beside(1.0) == (3.0,)
    assert plywood.beside(90.0) == (30.0,)


def test_which_sheet_a_material_is_cut_from() -> None:
    assert sheet_of(WOOD) is None
    clear = acrylic("clear")
    assert sheet_of(clear) is sold_sheets()["cast acrylic"]
    assert sheet_of(replace(clear, extruded=True)) is sold_sheets()["extruded acrylic"]
