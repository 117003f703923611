"""The section: area by closed form, and where curves meet its plane."""

from math import atan2, degrees, hypot

import pytest

from stackview.curves.corners import circle
from stackview.description.lamp import Chamfer, Layer, Opening, Recess
from stackview.description.outline import Around, Outline, path_of
from stackview.description.shapes import Circle, Rectangle
from stackview.description.units import Units
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import HIDDEN_EDGE, PAPERS, Paper
from stackview.drawings.part_section import draw_section, reach, reach_back, section_of_part
from tests.drawings.sheets import full_sheet, sheet_of
from tests.shop.parts import WOOD


def ring() -> Layer:
    return Layer(
        "ring",
        WOOD,
        18.0,
        Outline(Rectangle(150.0, 90.0)),
        openings=(Opening(Outline(Rectangle(120.0, 60.0)), main=True),),
        recesses=(Recess("top", 2.0, Outline(Rectangle(134.0, 74.0)), 0.2, "plate"),),
        chamfers=(Chamfer("top outer", 2.0),),
    )


def test_area_of_the_cut() -> None:
    section = section_of_part(sheet_of(ring()), 0.05)
    assert section is not None
    # two walls of 15 × 18, less a recess of 7 × 2 and half a square of 2 each
    assert section.material.area == pytest.approx(2.0 * (15.0 * 18.0 - 7.0 * 2.0 - 2.0), rel=1e-9)
    assert section.box == pytest.approx((-45.0, 0.0, 45.0, 18.0))
    assert section.rim == pytest.approx(45.0)


def test_where_curves_meet_the_plane() -> None:
    assert reach_back(circle(30.0)) == pytest.approx([-30.0, 30.0])
    box = path_of(Outline(Rectangle(150.0, 90.0), at=(10.0, 0.0)))
    assert reach(box, 90.0) == pytest.approx([-65.0, 85.0])
    assert reach(box, 270.0) == pytest.approx([-85.0, 65.0])
    # through the corner of the right and the back side
    assert reach(box, 90.0 + degrees(atan2(45.0, 85.0)))[-1] == pytest.approx(hypot(85.0, 45.0))


def test_a_plane_that_misses_the_part_cuts_nothing() -> None:
    assert (
        section_of_part(sheet_of(Layer("ear", WOOD, 9.0, Outline(Circle(20.0), at=(40.0, 0.0)))), 0.05)
        is None
    )


def test_thickness_beside_the_section() -> None:
    section = section_of_part(full_sheet(), 0.05)
    assert section is not None
    paper = Paper(PAPERS["a4"])
    assert (
        draw_section(paper, section, (105.0, 100.0), 1.0, Units("mm"), LabelRoom((8.0, 90.0, 202.0, 150.0)))
        == []
    )
    assert [words for words, _ in paper.boxes] == ["18 mm"]


def test_holes_beside_a_pocket_go_right_through() -> None:
    # a pocket from below in the middle, and hidden holes at 45°, which the plane misses
    layer = Layer(
        "top", WOOD, 20.0, Outline(Rectangle(220.0, 220.0)),
        openings=(Opening(Outline(Circle(8.0)), Around(4, 240.0, 45.0)),),
        recesses=(Recess("underside", 8.0, Outline(Circle(30.0)), 0.0),),
    )  # fmt: skip
    section = section_of_part(sheet_of(layer), 0.05)
    assert section is not None
    paper = Paper(PAPERS["a4"])
    draw_section(paper, section, (105.0, 100.0), 0.5, Units("mm"), LabelRoom((8.0, 90.0, 202.0, 150.0)))
    hidden = [points for pen, _, points, _ in paper.strokes if pen == HIDDEN_EDGE]
    assert len(hidden) == 2
    assert all((points[:, 1].min(), points[:, 1].max()) == (100.0, 110.0) for points in hidden)
