"""Curves that a part is cut to: closed forms, and what is drawn of each cut."""

from math import cos, pi, radians, tan

import pytest

from stackview.curves.arcs import area, bounds, length
from stackview.curves.crossing import crosses_itself
from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.outline import Around, Outline, path_of
from stackview.description.shapes import Circle, Rectangle, Regular
from stackview.shop.drawn_cuts import DrawnCut, bore_length, circle_of, drawn_cuts
from tests.shop.parts import WOOD, full_layer


def of(cuts: tuple[DrawnCut, ...], kind: type) -> list[DrawnCut]:
    return [cut for cut in cuts if isinstance(cut.of, kind)]


def test_areas_and_lengths_by_closed_form() -> None:
    # CRC Standard Mathematical Tables: a rectangle with rounded corners, a regular polygon
    layer = Layer(
        "body",
        WOOD,
        18.0,
        Outline(Rectangle(150.0, 90.0, 12.0)),
        openings=(Opening(Outline(Regular(6, 40.0)), main=True),),
    )
    outline, opening = drawn_cuts(layer)
    assert area(outline.paths[0]) == pytest.approx(150 * 90 - (4 - pi) * 144, rel=1e-14)
    assert length(outline.paths[0]) == pytest.approx(2 * (126 + 66) + 24 * pi, rel=1e-14)
    assert area(opening.paths[0]) == pytest.approx(6 * 20**2 * tan(pi / 6), rel=1e-14)
    assert length(opening.paths[0]) == pytest.approx(12 * 20 * tan(pi / 6), rel=1e-14)


def test_every_kind_of_cut_with_its_face_and_depth() -> None:
    cuts = drawn_cuts(full_layer())
    assert [type(cut.of) for cut in cuts] == [
        Outline, Opening, Opening, Recess, Recess, Groove, Chamfer, Chamfer, Bore,
    ]  # fmt: skip
    assert [cut.face for cut in cuts[3:8]] == ["top", "underside", "top", "top", "underside"]
    # a groove in a recess's floor is told from the face: 2 + 0.8
    assert [cut.depth for cut in cuts[3:6]] == [2.0, 5.0, pytest.approx(2.8)]
    assert cuts[5].floor == 2.0
    assert all(crosses_itself(path) is None for cut in cuts for path in cut.paths)


def test_a_chamfer_is_drawn_where_its_slope_meets_the_face() -> None:
    top, under = of(drawn_cuts(full_layer()), Chamfer)
    assert bounds(top.paths[0]) == pytest.approx((-73.0, -43.0, 73.0, 43.0))
    assert top.depth == pytest.approx(2.0)
    # one of an opening grows; 60° to the face: height = width · tan 60°
    assert under.depth == pytest.approx(3.0 * tan(radians(60.0)))
    assert bounds(under.paths[0]) == pytest.approx((-33.0, -23.0, 33.0, 23.0))


def test_a_bore_is_a_rectangle_from_the_edge_to_its_end() -> None:
    layer = full_layer()
    (bore,) = of(drawn_cuts(layer), Bore)
    assert bounds(bore.paths[0]) == pytest.approx((-3.0, 0.0, 3.0, 45.0))
    assert bore_length(Bore(6.0, 9.0, 180.0), path_of(layer.outline)) == pytest.approx(45.0)
    assert bore_length(Bore(6.0, 9.0, 180.0, 30.0), path_of(layer.outline)) == 30.0
    # towards a corner of a hexagon the edge is flats / (2 cos 30°) away
    hexagon = path_of(Outline(Regular(6, 100.0)))
    assert bore_length(Bore(6.0, 9.0, 90.0), hexagon) == pytest.approx(50.0 / cos(pi / 6))


def test_holes_that_stand_around_the_axis_are_one_cut() -> None:
    at = [(0.0, -60.0), (52.0, 30.0), (-52.0, 30.0)]
    pins = tuple(Recess("top", 6.0, Outline(Circle(4.0), at=place), 0.0) for place in at)
    layer = Layer("ring", WOOD, 18.0, Outline(Circle(140.0)), recesses=pins)
    (cut,) = of(drawn_cuts(layer), Recess)
    assert len(cut.paths) == 3
    layer = Layer(
        "lid", WOOD, 9.0, Outline(Circle(140.0)), openings=(Opening(Outline(Circle(5.0)), Around(4, 100.0)),)
    )
    (cut,) = of(drawn_cuts(layer), Opening)
    assert len(cut.paths) == 4


def test_circles_are_known_as_such() -> None:
    found = circle_of(path_of(Outline(Circle(30.0), at=(3.0, -4.0))))
    assert found is not None
    assert found[0].tolist() == pytest.approx([3.0, -4.0])
    assert found[1] == pytest.approx(15.0, rel=1e-15)
    assert circle_of(path_of(Outline(Rectangle(40.0, 20.0, 10.0)))) is None
    assert circle_of(path_of(Outline(Regular(8, 40.0)))) is None
