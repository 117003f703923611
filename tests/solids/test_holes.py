import pytest

from stackview.description.lamp import Opening, Recess
from stackview.description.outline import Around, Outline, path_of
from stackview.description.shapes import Circle, Rectangle
from stackview.errors import SolidError
from stackview.solids.chamfer import Bevel
from stackview.solids.holes import check_openings, hole_walls, holes_of

TOP = {"top opening": Bevel(2.0, 2.0, "top opening")}


def test_only_main_openings_are_bevelled(layer) -> None:
    plate = layer(
        Rectangle(100.0, 100.0),
        10.0,
        openings=(
            Opening(Outline(Circle(30.0)), main=True),
            Opening(Outline(Circle(4.0)), Around(3, 70.0)),
        ),
    )
    holes = holes_of(plate, TOP)
    assert [hole.main for hole in holes] == [True, False, False, False]
    assert [hole.upper is not None for hole in holes] == [True, False, False, False]
    walls, cuts = hole_walls(holes, (0.0, 10.0), 0.05)
    assert (len(walls), len(cuts)) == (4, 0)


def test_depth_of_the_recess_that_an_edge_lies_in(layer) -> None:
    plate = layer(
        Rectangle(100.0, 100.0),
        18.0,
        openings=(Opening(Outline(Circle(30.0)), main=True),),
        recesses=tuple(
            Recess("top", depth, Outline(Circle(size)), 0.0)
            for depth, size in ((3.0, 60.0), (5.0, 50.0), (7.0, 20.0))
        ),
    )
    (hole,) = holes_of(plate, TOP)
    assert (hole.above, hole.below) == (5.0, 0.0)


def test_openings_that_run_together_are_cut(layer) -> None:
    def count(apart: float) -> tuple[int, int]:
        openings = (Opening(Outline(Circle(10.0))), Opening(Outline(Circle(10.0), at=(apart, 0.0))))
        walls, cuts = hole_walls(holes_of(layer(Circle(80.0), 5.0, openings=openings), {}), (0.0, 5.0), 0.05)
        return len(walls), len(cuts)

    assert count(10.2) == (2, 0)
    assert count(10.05) == (0, 2)
    assert count(8.0) == (0, 2)


def test_wall_thinner_than_the_facets_can_show(layer) -> None:
    outer = path_of(Outline(Circle(50.0)))
    holes = holes_of(layer(Circle(50.0), 5.0, openings=(Opening(Outline(Circle(49.98))),)), {})
    with pytest.raises(SolidError, match=r"wall of only 0\.0100 mm.*at least 0\.05 mm"):
        check_openings(outer, holes, 0.05)
    check_openings(outer, holes, 0.005)
