from dataclasses import replace

import numpy as np
import pytest

from stackview.description.material import Material
from stackview.stills.surface import finished, surface_colour
from tests.stills import lamps

BOARD = Material("hardboard", "board", "hardboard", "opaque", 900, (0.2, 0.12, 0.07))
PLASTIC = Material("printed", "plastic", "petg", "opaque", 1270, (0.05, 0.05, 0.05))
DISC = lamps.part("disc", lamps.prism([lamps.circle(20)], 0, 5), lamps.BRASS)
UP = np.tile(np.array([[0, 0, 1]], np.float32), (50, 1))
AT = np.random.default_rng(0).uniform(-20, 20, (50, 3)).astype(np.float32)
NEAR = np.full(50, 0.05, np.float32)
ONE = np.ones((50, 3), np.float32)


@pytest.mark.parametrize("material", [lamps.BRASS, PLASTIC])
def test_plain_materials_have_one_colour(material):
    seen = surface_colour(replace(DISC, material=material), AT, UP, NEAR)
    assert seen == pytest.approx(np.tile(np.array(material.colour, np.float32), (50, 1)))


def test_board_is_speckled_about_its_colour():
    seen = surface_colour(replace(DISC, material=BOARD), AT, UP, NEAR)
    assert 0 < seen[:, 0].std() < 0.1 * 0.2
    assert seen.mean(axis=0) == pytest.approx(BOARD.colour, rel=0.05)


@pytest.mark.parametrize("material", [lamps.ASH, lamps.BIRCH_PLY, BOARD, PLASTIC])
def test_surfaces_shine_more_at_a_glancing_view_and_are_dark_without_light(material):
    part = replace(DISC, material=material)
    colour = np.broadcast_to(np.array(material.colour, np.float32), (50, 3))
    square = np.tile(np.array([[0, 0, -1]], np.float32), (50, 1))
    glancing = np.tile(np.array([[0.6, -0.799, -0.04]], np.float32), (50, 1))
    ways = [finished(part, colour, ONE, ONE, UP, way).mean() for way in (square, glancing)]
    assert ways[1] > ways[0]
    assert finished(part, colour, 0 * ONE, 0 * ONE, UP, square).max() == 0
