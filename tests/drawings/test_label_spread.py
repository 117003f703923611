import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from stackview.drawings.label_spread import spread

PLACES = st.lists(st.tuples(st.floats(-50, 150), st.floats(1, 12)), min_size=1, max_size=7)


def test_labels_with_room_stay_where_they_want_to_be() -> None:
    assert spread([10.0, 50.0, 30.0], [4.0, 4.0, 4.0], 0.0, 100.0) == [10.0, 50.0, 30.0]


def test_labels_that_cannot_fit_are_refused() -> None:
    assert spread([1.0, 2.0], [6.0, 6.0], 0.0, 11.0) is None


def test_nothing_to_spread_is_no_trouble() -> None:
    assert spread([], [], 0.0, 1.0) == []


@given(PLACES)
def test_no_overlap_in_order_and_within_the_limits(labels: list[tuple[float, float]]) -> None:
    wanted, sizes = [place for place, _ in labels], [size for _, size in labels]
    middles = spread(wanted, sizes, 0.0, 100.0)
    assert middles is not None
    order = np.argsort(wanted, kind="stable")
    at, size = np.array(middles)[order], np.array(sizes)[order]
    assert (at - size / 2 >= -1e-9).all()
    assert (at + size / 2 <= 100 + 1e-9).all()
    assert (np.diff(at) >= (size[1:] + size[:-1]) / 2 - 1e-9).all()


def test_no_other_arrangement_moves_the_labels_less() -> None:
    """Least squares under the same limits by scipy's SLSQP, from a neutral start."""
    draw = np.random.default_rng(5)
    for _ in range(10):
        wanted, sizes = np.sort(draw.uniform(-10, 60, 6)), draw.uniform(2, 9, 6)
        ours = spread(wanted.tolist(), sizes.tolist(), 0.0, 60.0)
        need = (sizes[1:] + sizes[:-1]) / 2
        limits = [
            {"type": "ineq", "fun": lambda x, need=need: np.diff(x) - need},
            {"type": "ineq", "fun": lambda x, sizes=sizes: x[0] - sizes[0] / 2},
            {"type": "ineq", "fun": lambda x, sizes=sizes: 60 - x[-1] - sizes[-1] / 2},
        ]
        start = np.cumsum(sizes) - sizes / 2
        best = minimize(lambda x, wanted=wanted: ((x - wanted) ** 2).sum(), start, constraints=limits)
        assert ours is not None
        assert ((np.array(ours) - wanted) ** 2).sum() <= best.fun + 1e-6
