import numpy as np
import pytest

from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle
from stackview.solids.build import rod
from stackview.solids.measure import volume
from stackview.solids.placing import placed

BAR = rod(Outline(Rectangle(1.1, 0.7), at=(0.3, 0.1)), None, 10.1, None, 0.05)


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0, 360.0, -90.0, 450.0])
def test_quarter_turns_do_not_round(turn: float) -> None:
    moved = placed(BAR, turn, 0.0)
    x, y, z = BAR.vertices.T
    expected = {0: (x, y), 90: (-y, x), 180: (-x, -y), 270: (y, -x)}[turn % 360]
    assert (moved.vertices == np.column_stack((*expected, z))).all()


def test_front_turns_to_the_right() -> None:
    # Counter-clockwise from above: what faced the front (−y) faces right (+x) after a quarter turn.
    post = rod(Outline(Rectangle(2.0, 2.0), at=(0.0, -10.0)), None, 5.0, None, 0.05)
    assert placed(post, 90.0, 0.0).vertices.mean(axis=0) == pytest.approx((10.0, 0.0, 2.5))


def test_lift_and_other_turns() -> None:
    moved = placed(BAR, 33.0, 7.0)
    assert volume(moved) == pytest.approx(volume(BAR), rel=1e-12)
    assert moved.vertices[:, 2].min() == pytest.approx(7.0)
    assert np.allclose(np.hypot(*moved.vertices[:, :2].T), np.hypot(*BAR.vertices[:, :2].T))
    assert BAR.vertices[:, 2].min() == 0.0
