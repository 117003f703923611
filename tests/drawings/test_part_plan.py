"""The plan: its dimensions are those of the curves, its marks and numbers all find room."""

import numpy as np
import pytest

from stackview.description.lamp import Layer, Opening
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.units import Units
from stackview.drawings.label_room import meets
from stackview.drawings.paper import MIDDLE_LINE, PAPERS, Paper
from stackview.drawings.part_plan import PlanView, draw_plan, plan_measures, room_beside
from tests.drawings.sheets import full_sheet, sheet_of
from tests.shop.parts import WOOD


def test_dimensions_are_those_of_the_curves() -> None:
    sheet = full_sheet()
    assert plan_measures(sheet, Units("mm"), level=True) == [
        (-75.0, 75.0, "150 mm"), (-30.0, 30.0, "60 mm"), (-67.0, 67.0, "134 mm"),
    ]  # fmt: skip
    assert [label for _, _, label in plan_measures(sheet, Units("mm"), level=False)] == [
        "90 mm",
        "40 mm",
        "74 mm",
    ]


def test_a_circle_has_its_diameter_once_and_a_small_hole_none() -> None:
    layer = Layer(
        "ring", WOOD, 9.0, Outline(Circle(120.0)),
        openings=(Opening(Outline(Circle(92.0)), main=True), Opening(Outline(Circle(5.0), at=(53.0, 0.0)))),
    )  # fmt: skip
    sheet = sheet_of(layer)
    assert [label for _, _, label in plan_measures(sheet, Units("mm"), level=True)] == ["⌀ 120 mm", "⌀ 92 mm"]
    assert plan_measures(sheet, Units("mm"), level=False) == []
    small = sheet_of(
        Layer("lid", WOOD, 9.0, Outline(Circle(120.0)), openings=(Opening(Outline(Circle(8.0))),))
    )
    assert len(plan_measures(small, Units("mm"), level=True)) == 1


def test_an_axis_out_of_the_middle_is_dimensioned() -> None:
    sheet = sheet_of(Layer("lid", WOOD, 9.0, Outline(Rectangle(100.0, 60.0), at=(10.0, 0.0))))
    assert (0.0, 60.0, "60 mm") in plan_measures(sheet, Units("mm"), level=True)


def test_all_numbers_marks_and_grain_stand_clear_of_each_other() -> None:
    sheet = full_sheet()
    paper = Paper(PAPERS["a4"])
    view = PlanView((115.0, 200.0), 1.0)
    assert draw_plan(paper, sheet, view, Units("mm"), (8.0, 100.0, 202.0, 289.0)) == []
    words = [words for words, _ in paper.boxes]
    assert {"A", "grain", "a", "b", "c", *(str(k) for k in range(1, 10))} <= set(words)
    boxes = [box for _, box in paper.boxes]
    assert not any(meets(a, b) for k, a in enumerate(boxes) for b in boxes[:k])


def test_where_there_is_no_room_that_is_told() -> None:
    paper = Paper(PAPERS["a4"])
    assert "1" in draw_plan(
        paper, full_sheet(), PlanView((105.0, 150.0), 1.0), Units("mm"), (100.0, 148.0, 110.0, 152.0)
    )


def test_room_grows_with_the_dimensions() -> None:
    few = sheet_of(Layer("lid", WOOD, 9.0, Outline(Rectangle(100.0, 60.0))))
    assert all(
        more > less
        for more, less in zip(
            room_beside(full_sheet(), Units("mm")), room_beside(few, Units("mm")), strict=True
        )
    )


def test_a_pitch_circle_is_drawn_only_where_it_lies_on_the_part() -> None:
    holes = Opening(Outline(Circle(8.0)), Around(4, 240.0, 45.0))
    sheet = sheet_of(Layer("top", WOOD, 20.0, Outline(Rectangle(220.0, 220.0)), openings=(holes,)))
    paper = Paper(PAPERS["a4"])
    assert (
        draw_plan(paper, sheet, PlanView((105.0, 180.0), 0.5), Units("mm"), (8.0, 60.0, 202.0, 289.0)) == []
    )
    # a radius of 120 at half its size, and the square reaches 55 from its middle
    arcs = [
        points for pen, _, points, _ in paper.strokes
        if pen == MIDDLE_LINE and len(points) > 4
    ]  # fmt: skip
    assert len(arcs) in (4, 5)  # one of four may begin where the circle does
    for arc in arcs:
        away = arc - np.array((105.0, 180.0))
        assert np.hypot(*away.T) == pytest.approx(60.0, abs=0.02)
        assert np.abs(away).max() <= 55.0 + 1e-9
