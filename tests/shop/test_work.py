from dataclasses import replace

from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.units import units_of
from stackview.shop.work import work_on
from tests.lamps import WOOD

MM = units_of("mm")
BASE = Layer("base", WOOD, 18.0, Outline(Rectangle(150.0, 90.0)))


def test_nothing_to_do_is_no_turning_over() -> None:
    work = work_on(BASE, MM, 3.0)
    assert (work.through, work.top, work.underside, work.chamfers, work.bores) == ((), (), (), (), ())
    assert (work.flips, work.face_up) == (0, "either")


def test_every_cut_is_told_with_its_numbers() -> None:
    ring = replace(
        BASE,
        openings=(Opening(Outline(Circle(60.0)), main=True), Opening(Outline(Circle(2.5)), Around(3, 80.0))),
        recesses=(Recess("top", 2.0, Outline(Rectangle(134.4, 74.4)), 0.2),),
        grooves=(Groove("top", "recess", 1.0, 1.5, 0.8),),
        chamfers=(Chamfer("top outer", 2.0, 30.0),),
        bores=(Bore(6.0, 9.0, -180.0, 25.0), Bore(5.0, 9.0, 90.0)),
    )
    work = work_on(ring, MM, 3.0)
    assert work.through == (
        "opening ⌀ 60 mm",
        "3 × opening ⌀ 2.5 mm, on ⌀ 80 mm at bearings 0°, 120°, 240°, drilled",
    )
    assert work.top == (
        "recess 2 mm deep, 134.4 mm × 74.4 mm, corners sharp",
        "groove in the recess, 1 mm from its edge, 1.5 mm wide, 0.8 mm deep",
    )
    assert work.chamfers == ("top outer edge 2 mm wide at 30°",)
    assert work.bores == (
        "6 mm across, its middle 9 mm above the underside, from bearing 180° 25 mm deep",
        "5 mm across, its middle 9 mm above the underside, from bearing 90° as far as the axis",
    )
    assert (work.flips, work.face_up) == (0, "top")


def test_it_is_turned_over_where_both_faces_are_worked_on() -> None:
    recess = Recess("underside", 2.0, Outline(Circle(20.0)), 0.2)
    below = replace(BASE, recesses=(recess,))
    assert (work_on(below, MM, 3.0).flips, work_on(below, MM, 3.0).face_up) == (0, "underside")
    both = replace(below, chamfers=(Chamfer("top outer", 2.0),))
    assert (work_on(both, MM, 3.0).flips, work_on(both, MM, 3.0).face_up) == (1, "top")
    assert (
        work_on(replace(BASE, chamfers=(Chamfer("underside opening", 1.0),)), MM, 3.0).face_up == "underside"
    )
