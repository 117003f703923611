import numpy as np
import pytest

from stackview.description.lamp import Layer, Opening
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.shop.cut_curves import cut_curves, turned_over
from stackview.shop.laid_on import template, turn_onto
from tests.lamps import WOOD
from tests.shop.parts_to_cut import drawn_again

HOLED = Layer(
    "disc",
    WOOD,
    6.0,
    Outline(Circle(100.0)),
    openings=(
        Opening(Outline(Circle(5.0)), Around(7, 80.0)),
        Opening(Outline(Rectangle(4.0, 9.0), at=(11.0, 3.0))),
    ),
)


@pytest.mark.parametrize("turn", [0.0, 1e-3, 40.0, 359.9])
def test_the_turn_is_found(turn: float) -> None:
    one = template(cut_curves(HOLED), None)
    other = template(cut_curves(drawn_again(HOLED, turn=turn, to=(300.0, -7.0))), None)
    assert turn_onto(one, other) == pytest.approx(turn, abs=1e-9)
    assert turn_onto(template(turned_over(cut_curves(HOLED), 6.0), None), other) is None


def test_a_hole_circle_of_many_is_one_of_many_turns() -> None:
    many = Layer(
        "disc", WOOD, 6.0, Outline(Circle(100.0)), openings=(Opening(Outline(Circle(2.0)), Around(90, 80.0)),)
    )
    one = template(cut_curves(many), None)
    # 90 holes: every 4°; the least of the turns is taken
    turn = turn_onto(one, template(cut_curves(drawn_again(many, turn=41.0)), None))
    assert turn is not None
    assert np.isclose(turn % 4.0, 1.0)
    assert min(turn, 360.0 - turn) <= 2.0
    # one hole moved by a tenth of a millimetre along its circle
    holes = list(cut_curves(drawn_again(many)))
    moved = drawn_again(Layer("hole", WOOD, 6.0, Outline(Circle(2.0), at=(0.1, -40.0))))
    assert turn_onto(one, template((*holes[:-1], *cut_curves(moved)[:1]), None)) is None
