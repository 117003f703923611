"""The enlarged edge: which one it is, and that it has every number."""

from dataclasses import replace

import pytest

from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.units import Units
from stackview.drawings.cut_words import least_ledge
from stackview.drawings.paper import PAPERS, Paper
from stackview.drawings.part_edge import best_edge, draw_edge, edge_view
from stackview.drawings.part_section import section_of_part
from stackview.shop.part_sheet import PartSheet, part_sheets
from stackview.study import Study
from tests.drawings.sheets import sheet_of
from tests.drawings.test_part_section import ring
from tests.shop.parts import WOOD


def words_of(sheet: PartSheet) -> tuple[float | None, list[str]]:
    """Bearing of the best edge, and all that is written beside it."""
    edge = best_edge(sheet, section_of_part(sheet, 0.05), 0.05, 38.0, 26.0)
    if edge is None:
        return None, []
    paper = Paper(PAPERS["a4"])
    assert draw_edge(paper, edge, (60.0, 100.0), Units("mm"), (20.0, 40.0, 150.0, 180.0)) == []
    return edge.bearing, sorted(words for words, _ in paper.boxes)


def test_the_back_edge_tells_wall_rim_depth_and_thickness() -> None:
    section = section_of_part(sheet_of(ring()), 0.05)
    assert section is not None
    edge = edge_view(section, 38.0, 26.0)
    assert edge is not None
    assert edge.depth == pytest.approx(15.0 + 4.5)
    assert edge.scale == 1.0
    paper = Paper(PAPERS["a4"])
    assert draw_edge(paper, edge, (60.0, 100.0), Units("mm"), (20.0, 60.0, 150.0, 160.0)) == []
    assert sorted(words for words, _ in paper.boxes) == ["15 mm", "18 mm", "2 mm", "7 mm", "8 mm"]


def test_a_plain_plate_needs_no_edge() -> None:
    section = section_of_part(sheet_of(Layer("plate", WOOD, 3.8, Outline(Circle(96.0)))), 0.05)
    assert section is not None
    assert edge_view(section, 38.0, 26.0) is None


def test_the_back_is_the_best_where_none_is_better() -> None:
    assert words_of(sheet_of(ring()))[0] == 180.0
    assert words_of(sheet_of(Layer("plate", WOOD, 3.8, Outline(Circle(96.0))))) == (None, [])


def test_the_edge_is_where_the_bore_begins() -> None:
    layer = Layer("base", WOOD, 20.0, Outline(Circle(120.0)), bores=(Bore(6.0, 9.0, 90.0),))
    assert words_of(sheet_of(layer)) == (90.0, ["20 mm", "9 mm"])


def test_the_edge_is_where_a_pin_goes_in() -> None:
    hole = Recess("underside", 5.0, Outline(Circle(3.0), at=(0.0, -54.0)), 0.0)
    main = Opening(Outline(Circle(90.0)), main=True)
    sheet = sheet_of(Layer("ring", WOOD, 18.0, Outline(Circle(120.0)), openings=(main,), recesses=(hole,)))
    # wall 15, from the hole's rim to the edge 60 − 55.5
    assert words_of(sheet) == (0.0, ["15 mm", "18 mm", "4.5 mm", "5 mm"])


def test_a_drawn_outline_is_cut_square_to_its_edge() -> None:
    # inset walls of a drawn curve are as wide as they are only where the plane stands square to them
    sheet = part_sheets(Study.read("demos/kelp.toml"))[1]
    bearing, said = words_of(sheet)
    assert bearing not in (0.0, 90.0, 180.0, 270.0)
    # wall 15, plate play 0.2, outline inset by 8: 7.8 and a ledge of 7.2; recesses 1.5 and 3 deep
    assert said == ["1.5 mm", "14.8 mm", "15 mm", "3 mm", "7.2 mm", "7.8 mm"]
    cut = next(cut for cut in sheet.cuts if isinstance(cut.of, Recess))
    assert least_ledge(cut, sheet.cuts) == pytest.approx(7.2, abs=1e-6)


def test_a_small_hole_in_a_floor_leaves_no_ledge() -> None:
    layer = Layer(
        "base", WOOD, 18.0, Outline(Rectangle(150.0, 90.0)),
        openings=(Opening(Outline(Circle(10.0)), main=True),),
        recesses=(Recess("top", 2.0, Outline(Rectangle(134.0, 74.0)), 0.2, "plate"),),
    )  # fmt: skip
    sheet = sheet_of(layer)
    assert least_ledge(sheet.cuts[2], sheet.cuts) is None


def test_a_groove_and_a_bevel_have_their_widths_where_they_are_wide_enough() -> None:
    layer = Layer(
        "cap", WOOD, 18.0, Outline(Circle(120.0)), chamfers=(Chamfer("top outer", 4.0),),
        grooves=(Groove("underside", "outline", 6.0, 3.5, 1.0),),
    )  # fmt: skip
    assert words_of(sheet_of(layer)) == (180.0, ["18 mm", "3.5 mm", "4 mm"])
    narrow = replace(layer, chamfers=(Chamfer("top outer", 1.0),), grooves=())
    assert words_of(sheet_of(narrow)) == (180.0, ["18 mm"])
