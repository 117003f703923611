import numpy as np
import pytest

from stackview.stills.lens import CORES, drawn_by_lens, glared


def moffat(distance: float, shorter: float) -> float:
    """The spread by its closed form, as the module cites it."""
    return sum(
        part / (2 * np.pi * (core * shorter) ** 2) * (1 + (distance / (core * shorter)) ** 2) ** -1.5
        for part, core in CORES
    )


def lone_point(height: int, width: int, row: int, column: int) -> np.ndarray:
    image = np.zeros((height, width, 3), np.float32)
    image[row, column] = 1e6
    return image


def test_a_point_is_spread_by_the_closed_form() -> None:
    glow = glared(lone_point(300, 360, 150, 180), 0.04)[:, :, 1]
    assert glow[150, 180] == pytest.approx(0.96e6, rel=0.01)
    for away in (6, 20, 60, 140):
        assert glow[150, 180 + away] == pytest.approx(0.04e6 * moffat(away, 300), rel=0.01)


def test_nothing_comes_round_from_the_other_side() -> None:
    glow = glared(lone_point(300, 300, 150, 0), 0.04)[:, :, 1]
    # At the far rim there is what has come straight across, and no more.
    assert glow[150, 299] == pytest.approx(0.04e6 * moffat(299, 300), rel=0.01)


def test_the_glow_is_round_and_falls_without_a_cut() -> None:
    glow = glared(lone_point(560, 600, 280, 300), 0.04)[:, :, 0] / 1e6
    # Straight and aslant at one distance: 3-4-5, 20-21-29, 65-72-97 (whole-numbered triangles).
    for straight, aslant in ((25, (15, 20)), (58, (40, 42)), (194, (130, 144))):
        ring = [glow[280 + straight, 300], glow[280, 300 - straight]]
        ring += [glow[280 + y, 300 + x] for x, y in (aslant, aslant[::-1], (-aslant[0], -aslant[1]))]
        assert np.ptp(ring) < 0.02 * np.mean(ring)
    line = glow[280, 310:]
    assert (np.diff(line) <= 1e-12).all()
    # No step where a cut kernel would end: the slope itself falls evenly.
    steps = line[:-8] / line[8:]
    assert np.diff(steps).max() < 1e-3


def test_a_large_picture_worked_out_coarsely_shows_no_squares() -> None:
    glow = glared(lone_point(1200, 1300, 600, 650), 0.04)[:, :, 1] / 1e6
    # The point lies within a pixel and a half of the middle of its coarse pixel.
    for away in (40, 90, 200):
        assert glow[600, 650 + away] == pytest.approx(0.04 * moffat(away, 1200), rel=0.1)
    bend = np.diff(glow[600, 670:], 2)
    assert np.abs(bend).max() < 0.1 * (glow[600, 670] - glow[600, 674])


def test_light_is_kept_but_for_what_leaves_the_frame() -> None:
    image = lone_point(300, 300, 150, 150)
    kept = glared(image, 0.04)[:, :, 0].sum(dtype=np.float64) / 1e6
    assert 0.993 < kept < 1.0
    dark = np.zeros((40, 50, 3), np.float32)
    assert not glared(dark).any()


def test_without_a_share_the_picture_stays() -> None:
    image = np.random.default_rng(1).uniform(0, 5, (50, 60, 3)).astype(np.float32)
    assert glared(image, 0.0) == pytest.approx(image)


def test_an_aslant_edge_of_bright_light_is_no_row_of_dots() -> None:
    # An edge that rises one pixel in eight, between light of 1 and of 100: each pixel holds as much as it is covered.
    tall, wide = 40, 120
    edge = 20.0 + np.arange(wide) / 8.0
    cover = np.clip(edge[None] - np.arange(tall)[:, None], 0.0, 1.0)
    image = np.repeat((1.0 + 99.0 * cover)[..., None], 3, axis=2).astype(np.float32)
    drawn = drawn_by_lens(image)
    assert drawn[:, 30:90].sum() == pytest.approx(image[:, 30:90].sum(), rel=1e-3)

    # In the pixels that the edge crosses.
    crossed = np.array([image[int(edge[x]), x, 0] for x in range(40, 80)])
    drawn_over = np.array([drawn[int(edge[x]), x, 0] for x in range(40, 80)])
    assert np.ptp(np.log(drawn_over)) < 0.5 * np.ptp(np.log(crossed))
