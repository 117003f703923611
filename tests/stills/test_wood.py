from dataclasses import replace

import numpy as np
import pytest

from stackview.stills.wood import FIGURES, figure_of, wood_colour
from tests.stills import lamps

BOARD = lamps.part("board", lamps.prism([lamps.rounded(200, 200, 5, 0)], 0, 20), lamps.WALNUT, grain=90.0)
PLY = lamps.part("ply", lamps.prism([lamps.rounded(200, 200, 5, 0)], 0, 18), lamps.BIRCH_PLY, grain=90.0)
TOP, SIDE, END = (0, 0, 1), (0, -1, 0), (1, 0, 0)


def colours(part, at, normal, grain_size=0.1):
    at = np.asarray(at, np.float32)
    normals = np.tile(np.array([normal], np.float32), (len(at), 1))
    return wood_colour(part, at, normals, np.full(len(at), grain_size, np.float32))


def patch(axis, level=10.0, count=120, size=90.0):
    """Points of a flat square across one axis, rows and columns evenly spaced."""
    a, b = np.meshgrid(np.linspace(-size, size, count), np.linspace(-size, size, count), indexing="ij")
    columns = [a.ravel(), b.ravel()]
    columns.insert(axis, np.full(a.size, level))
    return np.stack(columns, axis=1)


@pytest.mark.parametrize("sort", [*FIGURES, "unheard-of"])
def test_every_species_stays_near_its_own_colour(sort):
    material = replace(lamps.ASH, sort=sort)
    seen = colours(replace(BOARD, material=material), patch(2, 20.0), TOP)
    mean = seen.mean(axis=0) / material.colour
    assert mean.min() > 0.6
    assert mean.max() < 1.2
    assert seen.min() > 0
    # Believable, not cartoonish: tones within one face spread by less than a third.
    assert seen[:, 1].std() / seen[:, 1].mean() < 0.33


def test_species_are_found_inside_their_trade_names():
    assert figure_of("Black Walnut") is FIGURES["walnut"]


def test_marks_run_along_the_grain():
    tone = colours(BOARD, patch(2, 20.0), TOP)[:, 1].reshape(120, 120)
    along, across = np.abs(np.diff(tone, axis=0)).mean(), np.abs(np.diff(tone, axis=1)).mean()
    assert across > 3 * along


def test_turning_the_part_turns_its_grain():
    turned = replace(BOARD, grain=0.0)
    tone = colours(turned, patch(2, 20.0), TOP)[:, 1].reshape(120, 120)
    assert np.abs(np.diff(tone, axis=0)).mean() > 3 * np.abs(np.diff(tone, axis=1)).mean()


def test_face_and_side_agree_where_they_meet():
    edge = np.stack([np.linspace(-90, 90, 400), np.full(400, -100), np.full(400, 20.0)], axis=1)
    assert colours(BOARD, edge, TOP) == pytest.approx(colours(BOARD, edge, SIDE), abs=1e-6)


def test_end_grain_is_darker_than_the_face():
    face = colours(BOARD, patch(2, 20.0), TOP).mean()
    end = colours(BOARD, patch(0, 100.0, size=9.0) + np.array([0, 0, 10]), END).mean()
    assert 0.6 * face < end < 0.95 * face


def test_layers_come_from_different_places_of_the_board_and_the_same_one_always_from_the_same():
    other = replace(BOARD, name="board 2")
    place = patch(2, 20.0)
    one, two, again = (colours(part, place, TOP)[:, 1] for part in (BOARD, other, BOARD))
    assert np.array_equal(one, again)
    assert abs(np.corrcoef(one, two)[0, 1]) < 0.5


def test_from_far_away_fine_marks_fade_but_the_mean_tone_stays():
    place = patch(2, 20.0, count=240)
    near, far = colours(BOARD, place, TOP, 0.05), colours(BOARD, place, TOP, 6.0)
    assert far[:, 1].std() < 0.75 * near[:, 1].std()
    assert far.mean() == pytest.approx(near.mean(), rel=0.1)


def test_plywood_shows_its_plies_on_the_edge_and_not_on_the_face():
    heights = np.linspace(0.01, 17.99, 1800)
    line = np.stack([np.full(1800, 100.0), np.full(1800, 3.0), heights], axis=1)
    tone = colours(PLY, line, END)[:, 1]
    # 18 mm of 1.4 mm plies: 13, alternately end grain (dark) and long grain (light).
    plies = [
        tone[(heights > (k + 0.3) * 18 / 13) & (heights < (k + 0.7) * 18 / 13)].mean() for k in range(13)
    ]
    steps = np.diff(plies)
    assert (np.sign(steps[::2]) == np.sign(steps[0])).all()
    assert (np.sign(steps[1::2]) == -np.sign(steps[0])).all()
    face = colours(PLY, patch(2, 18.0), TOP)[:, 1]
    assert face.std() < 0.5 * tone.std()


def test_plywood_edges_swap_light_and_dark_round_the_corner():
    middle = (6 + 0.5) * 18 / 13
    end = colours(PLY, [[100, 0, middle]], END)[0, 1]
    side = colours(PLY, [[0, -100, middle]], SIDE)[0, 1]
    assert end < side


def test_a_pixel_shows_the_mean_of_the_plies_that_it_covers():
    """Plies and glue lines at a pixel's middle alone would run in steps round a curved edge."""
    rows = np.linspace(0.0, 18.0, 4501)[:-1] + 0.002
    for wide in (0.4, 0.9):
        at = np.stack([np.full(len(rows), 20.0), np.full(len(rows), -100.0), rows], axis=1)
        fine, coarse = (colours(PLY, at, SIDE, size)[:, 1] for size in (0.01, wide))
        # The mean of the logarithm: marks darken by exponents.
        each = round(wide / 0.004)
        means = np.convolve(np.log(fine), np.ones(each) / each, "valid")
        middle = np.log(coarse)[each // 2 : each // 2 + len(means)]
        assert np.abs(means - middle).max() < 0.05
        # And from one place to the next nothing jumps.
        assert np.abs(np.diff(middle)).max() < 0.02
