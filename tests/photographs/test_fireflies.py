import numpy as np
import pytest

from stackview.light.colour import LUMINANCE
from stackview.photographs.fireflies import without_fireflies, without_lone_ways


def even(level: float = 10.0) -> np.ndarray:
    return np.full((30, 40, 3), level, np.float32)


def test_a_lone_pixel_comes_down_to_its_neighbours_in_light_and_colour() -> None:
    image = even() * np.array([1.5, 1.0, 0.4], np.float32)
    image[10, 20] = [5.0, 900.0, 5.0]
    found = without_fireflies(image)
    assert found[10, 20] == pytest.approx(image[0, 0])


def test_two_side_by_side_and_one_at_the_rim_come_down_too() -> None:
    image = even()
    image[10, 20] = image[11, 21] = 700.0
    image[0, 0] = 700.0
    assert without_fireflies(image).max() == pytest.approx(10.0)


def test_lines_edges_and_patches_of_light_stay() -> None:
    image = even(0.1)
    image[15, :] = 500.0
    image[np.arange(28), np.arange(28) + 12] = 300.0
    image[:8, :8] = 500.0
    image[20:23, 5:8] = 500.0
    found = without_fireflies(image)
    # Only the free end of a line a pixel wide loses a pixel.
    found[27, 39] = image[27, 39]
    assert found == pytest.approx(image)


def test_true_points_are_believed() -> None:
    image = even(0.1)
    image[10, 20] = 1e5
    true = np.zeros((30, 40), bool)
    true[10, 20] = True
    assert without_fireflies(image, true) == pytest.approx(image)


def test_nothing_gets_brighter_and_black_stays() -> None:
    image = np.random.default_rng(3).exponential(1.0, (30, 40, 3)).astype(np.float32) ** 4
    found = without_fireflies(image)
    assert (found @ LUMINANCE <= (image @ LUMINANCE) * 1.0001).all()
    black = np.zeros((5, 6, 3), np.float32)
    assert not without_fireflies(black).any()
    black[2, 2] = 9.0
    assert not without_fireflies(black).any()


def test_a_lone_way_goes_and_the_few_that_light_a_gap_stay() -> None:
    image = np.full((210, 280, 3), 0.01, np.float32)
    image[30, 40] = 500.0
    image[150, 20:260:3] = 500.0
    found = without_lone_ways(image, np.zeros((210, 280), bool))
    assert found[30, 40].max() < 0.1
    assert (found[150] == image[150]).all()
    # A true point stays.
    true = np.zeros((210, 280), bool)
    true[30, 40] = True
    assert (without_lone_ways(image, true) == image).all()
