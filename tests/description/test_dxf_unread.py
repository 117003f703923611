"""Ends that meet close a curve, in any order and direction; a tree of them does not."""

from itertools import permutations

import ezdxf
import pytest

from stackview.description.dxf_unread import Unread

SQUARE = [((0, 0), (1, 0)), ((1, 1), (1, 0)), ((1, 1), (0, 1)), ((0, 0), (0, 1))]


@pytest.mark.parametrize("order", list(permutations(range(4))))
def test_a_square_closes_with_its_last_side(order: tuple[int, ...]) -> None:
    space, unread = ezdxf.new().modelspace(), Unread()
    for count, side in enumerate(order):
        assert not unread.found, count
        unread.add(space.add_line(*SQUARE[side]))
    assert unread.found == "lines and arcs that close"


def test_a_star_closes_nothing_and_texts_do_not_matter() -> None:
    space, unread = ezdxf.new().modelspace(), Unread()
    for k in range(5):
        unread.add(space.add_line((0, 0), (k + 1, 1)))
    unread.add(space.add_text("title"))
    unread.add(space.add_point((0, 0)))
    assert not unread.found


def test_curves_that_close_alone() -> None:
    space = ezdxf.new().modelspace()
    for entity, said in (
        (space.add_ellipse((0, 0), (2, 0), 0.5), "an ellipse"),
        (space.add_closed_spline([(0, 0), (1, 0), (1, 1)]) if hasattr(space, "add_closed_spline")
         else space.add_spline([(0, 0), (1, 0), (0, 0)]), "a spline that closes"),
    ):  # fmt: skip
        unread = Unread()
        unread.add(entity)
        assert unread.found == said
    half = Unread()
    half.add(space.add_ellipse((0, 0), (2, 0), 0.5, 0, 3.0))
    assert not half.found


def test_an_ellipse_that_stands_upright_to_the_drawing_is_told_and_not_read() -> None:
    """Found by fuzzing: its minor axis, extrusion × major axis, is nothing, and the library divides by its length."""
    unread = Unread()
    unread.add(ezdxf.new().modelspace().add_ellipse((0, 0), (0, 0, 2), 0.5, 0, 3.0))
    assert unread.found == "an ellipse"


@pytest.mark.parametrize("axis", [(0.0, 0.0, 2.0), (1e-200, 0.0, 2.0)])
def test_an_ellipse_whose_minor_axis_has_no_length_is_told(axis: tuple[float, float, float]) -> None:
    """Found by fuzzing: a length under the least number there is is nothing too, and is divided by."""
    unread = Unread()
    unread.add(ezdxf.new().modelspace().add_ellipse((0, 0), axis, 0.5, 0, 3.0))
    assert unread.found == "an ellipse"
