"""The table of cuts says each number that cuts them."""

from stackview.description.lamp import Layer, Opening, Recess
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Curve, Regular
from stackview.description.units import Units
from stackview.drawings.cut_words import cut_words, least_wall, spans_about_axis
from stackview.shop.drawn_cuts import drawn_cuts
from tests.shop.parts import WOOD, full_layer


def test_every_kind_of_cut_in_words() -> None:
    layer = full_layer()
    assert cut_words(drawn_cuts(layer), layer, 3.0, Units("mm")) == [
        "outline: 150 mm × 90 mm, corners R 12 mm",
        "opening right through: 60 mm × 40 mm, corners R 5 mm; 25 mm to the outer edge",
        "opening right through: ⌀ 8 mm, middle 60 mm left of and 20 mm behind the axis; 11 mm to the outer edge",
        "recess in the top, 2 mm deep (16 mm left): 134 mm × 74 mm, corners R 8 mm; 8 mm to the outer edge; "
        "takes plate, play 0.2 mm a side",
        "recess in the underside, 5 mm deep (13 mm left): ⌀ 4 mm, middle 62 mm right of and 30 mm in front of "
        "the axis; 11 mm to the outer edge",
        "groove in the top, 1.5 mm wide, 0.8 mm deep below the recess's floor (2.8 mm below the face), its near "
        "side 1 mm from the wall of the recess",
        "chamfer on the top outer edge: 2 mm × 45°",
        "chamfer on the underside opening edge: 3 mm × 60°, 5.2 mm high",
        "bore ⌀ 6 mm from the back (bearing 180°) towards the axis, 45 mm deep, its middle 9 mm above the underside",
    ]


def test_holes_in_a_ring_are_told_by_their_circle_and_bearings() -> None:
    layer = Layer(
        "lid", WOOD, 9.525, Outline(Regular(6, 139.7)),
        openings=(Opening(Outline(Circle(3.175)), Around(4, 101.6, 45.0)),),
    )  # fmt: skip
    outline, holes = cut_words(drawn_cuts(layer), layer, 6.35, Units("in"))
    # a side of a hexagon 5-1/2 in across flats: 5.5 / √3
    assert outline == "outline: hexagon, 5-1/2 in across flats, straight sides 3.175 in long, corners sharp"
    assert holes.startswith(
        "4 × opening right through: ⌀ 1/8 in, on ⌀ 4 in at bearings 45°, 135°, 225°, 315°"
    )
    assert holes.endswith("drill it: the cutter is ⌀ 1/4 in")


def test_a_recess_that_is_open_to_the_edge_says_so() -> None:
    layer = Layer(
        "ring",
        WOOD,
        9.0,
        Outline(Circle(100.0)),
        recesses=(Recess("top", 2.0, Outline(Circle(20.0), at=(45.0, 0.0)), 0.0),),
    )
    cuts = drawn_cuts(layer)
    assert least_wall(cuts[1], cuts[0].paths[0]) < 0.0
    assert "open to the outer edge" in cut_words(cuts, layer, 3.0, Units("mm"))[1]


def test_a_drawn_outline_names_its_file_and_its_hollows() -> None:
    drawn = Curve(
        ((50.0, 0.0, 0.3), (0.0, 40.0, -0.2), (-50.0, 0.0, 0.3), (0.0, -40.0, 0.2)), "shapes/leaf.svg"
    )
    layer = Layer("leaf", WOOD, 9.0, Outline(drawn))
    (words,) = cut_words(drawn_cuts(layer), layer, 3.0, Units("mm"))
    assert "hollows R" in words
    assert words.endswith("drawn in leaf.svg: cut it by the DXF or SVG")


def test_only_what_stands_about_the_axis_is_dimensioned_on_the_plan() -> None:
    kept = [spans_about_axis(cut) is not None for cut in drawn_cuts(full_layer())]
    assert kept == [True, True, False, True, False, False, False, False, False]
