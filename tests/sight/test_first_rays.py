"""The first lattice of a fan: what following every ray finds, following some of them finds too."""

import numpy as np
import pytest

from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.first_rays import (
    COLUMNS,
    FAN_STEP,
    ROWS,
    Sender,
    directions_at,
    first_rays,
    lattice,
    lattice_number,
)
from stackview.sight.scene import scene_of
from stackview.stack.placed import Placed
from tests.lamps import box, disc


def sender(parts: tuple[Placed, ...], front: list[float]) -> Sender:
    bodies = clear_bodies(scene_of(parts))
    assert bodies is not None
    return Sender(bodies, np.zeros((1, 3)), np.array([front]))


def lit(send: Sender) -> tuple[np.ndarray, np.ndarray]:
    """Which rays of the lattice get through when all are followed, and when some are (columns, rows)."""
    found, at = first_rays(send), lattice()
    every = send(np.zeros(len(at), np.int64), at)
    number = lattice_number(found)
    assert (found.faces != 0).all()
    assert np.array_equal(found.at, at[number])
    assert np.array_equal(found.faces, every.faces[number])
    assert found.places == pytest.approx(every.places[number], abs=1e-9)
    shown = np.zeros(len(at), bool)
    shown[number] = True
    shape = (COLUMNS, ROWS + 1)
    return (every.faces != 0).reshape(shape), shown.reshape(shape)


def test_the_lattice_holds_all_directions_once() -> None:
    at = lattice()
    assert len(at) == COLUMNS * (ROWS + 1)
    assert len(np.unique(at, axis=0)) == len(at)
    assert FAN_STEP == (360.0 / COLUMNS, 180.0 / ROWS)
    assert np.linalg.norm(directions_at(at), axis=1) == pytest.approx(np.ones(len(at)))


@pytest.mark.parametrize("turn", [0.0, 0.7])
def test_slits_between_boards_behind_a_pane_are_found_whole(turn: float) -> None:
    # Slits of 2° up and down and of 3° aside between boards 100 mm away, and a slanting one.
    pane = box("pane", [20, -300, -300], [25, 300, 300], "clear")
    boards = (
        box("below", [100, -300, -300], [101, 300, -1.75]),
        box("left", [100, -300, 1.75], [101, -2.6, 300]),
        box("right", [100, 2.6, 1.75], [101, 300, 300]),
    )
    every, some = lit(sender((pane, *boards), [np.cos(turn), np.sin(turn), 0.0]))
    assert every.sum() > 100
    assert np.array_equal(some, every)


def test_only_a_single_ray_amid_one_obstacle_can_be_passed_over() -> None:
    rng = np.random.default_rng(5)
    missed = shown = 0
    for _ in range(6):
        pane = disc("pane", 60.0, 20.0, 24.0, "clear")
        walls = tuple(
            box(f"wall {k}", [x, y, 40.0 + 3 * k], [x + w, y + d, 42.0 + 3 * k])
            for k, (x, y, w, d) in enumerate(rng.uniform([-200, -200, 60, 60], [100, 100, 300, 300], (6, 4)))
        )
        every, some = lit(sender((pane, *walls), [0.0, 0.0, 1.0]))
        lost = every & ~some
        beside = np.roll(every, 1, 0) | np.roll(every, -1, 0)
        beside[:, 1:] |= every[:, :-1]
        beside[:, :-1] |= every[:, 1:]
        assert not (lost & beside).any()
        missed, shown = missed + lost.sum(), shown + every.sum()
    assert shown > 1000
    assert missed <= 2
