"""UGR of pictures: one even source, bounds over every grouping, and agreement with bare points."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.glow.glare import Sources, glare_term, ugr
from stackview.glow.picture_glare import picture_glare, pixels_seen
from stackview.glow.position_index import position_index
from stackview.sight.camera import Camera


def picture(luminance: np.ndarray, spread: float = 1e-5) -> dict[str, Any]:
    rows, columns = luminance.shape
    x, y = np.meshgrid(np.linspace(-0.1, 0.1, columns), np.linspace(0.1, -0.1, rows))
    return {
        "luminance": luminance,
        "solid_angles": np.full(luminance.shape, spread),
        "directions": np.stack([x, y, np.ones_like(x)], axis=-1),
        "distance": 2000.0,
    }


def test_a_picture_of_one_even_source_gives_its_ugr_either_way() -> None:
    luminance = np.full((5, 5), 1.0)
    luminance[2, 2] = 6484.6
    found = picture_glare(**picture(luminance, 4.86014e-4), background=47.75)
    expected = ugr(6484.6**2 * 4.86014e-4, 47.75)
    assert found.most == pytest.approx(expected)
    assert found.least == pytest.approx(expected)
    assert found.solid_angle == pytest.approx(4.86014e-4)


def test_what_is_not_much_brighter_than_the_room_is_no_source() -> None:
    found = picture_glare(**picture(np.full((4, 4), 69.9)), background=10.0)
    assert found.threshold == 70.0
    assert (found.ugr, found.most, found.least, found.solid_angle) == (-np.inf, -np.inf, -np.inf, 0.0)
    assert picture_glare(**picture(np.full((4, 4), 70.0)), background=10.0).solid_angle > 0.0


@settings(deadline=None, max_examples=40)
@given(seed=st.integers(0, 200), cut=st.integers(1, 5))
def test_pixels_and_all_as_one_bound_every_grouping(seed: int, cut: int) -> None:
    luminance = np.random.default_rng(seed).exponential(5000.0, (6, 6)) + 100.0
    given_picture = picture(luminance)
    found = picture_glare(**given_picture)
    index = position_index(*np.moveaxis(given_picture["directions"], -1, 0))
    # Two sources, above and below the cut, each with the mean of its luminance over its index.
    term = 0.0
    for part in (slice(None, cut), slice(cut, None)):
        angle = given_picture["solid_angles"][part]
        term += float((luminance[part] * angle / index[part]).sum()) ** 2 / float(angle.sum())
    assert found.least - 1e-9 <= ugr(term, 10.0) <= found.most + 1e-9


def looking_down(size: tuple[int, int] = (320, 240), field: float = 24.0) -> Camera:
    return Camera(40.0, 15.0, 1500.0, (0.0, 0.0, 100.0), field, size)


def test_pixels_fill_the_picture() -> None:
    # Solid angle of a rectangle seen square on from its middle: 4·asin(ab/√((1 + a²)(1 + b²))),
    # a and b the tangents of its half angles (solid geometry).
    solid, _ = pixels_seen(looking_down(field=60.0))
    b = np.tan(np.radians(30.0))
    a = b * 320 / 240
    assert solid.sum() == pytest.approx(4 * np.arcsin(a * b / np.sqrt((1 + a * a) * (1 + b * b))), rel=1e-5)


def test_pixels_are_seen_from_a_level_line_of_sight() -> None:
    # The camera looks 15° down; the line of sight stays level, so its middle lies 15° below that.
    _, towards = pixels_seen(looking_down((321, 241)))
    middle = towards[120, 160]
    assert middle == pytest.approx([0.0, -np.sin(np.radians(15.0)), np.cos(np.radians(15.0))], abs=1e-6)
    assert towards[120, 161, 0] > 0.0
    assert towards[119, 160, 1] > middle[1]
    with pytest.raises(ValueError, match="perspective"):
        pixels_seen(Camera(0.0, 0.0, 1.0, (0.0, 0.0, 0.0), 24.0, (4, 4), parallel=True))


def test_a_small_spot_counts_as_a_bare_point_does() -> None:
    # One pixel of 1 mm² at 2 m with 2 cd, straight ahead: 200·I²/r² (CIE 147, from memory).
    luminance = np.full((3, 3), 1.0)
    luminance[1, 1] = 2.0 / 1e-6
    found = picture_glare(**picture(luminance, 1e-6 / 2.0**2))
    assert found.ugr == pytest.approx(ugr(200.0 * 2.0**2 / 2.0**2, 10.0))
    assert found.most > found.ugr


def test_spots_in_a_picture_give_the_ugr_of_the_same_bare_points() -> None:
    rng = np.random.default_rng(3)
    offsets = rng.uniform(-120.0, 120.0, (25, 2))
    towards = np.column_stack([offsets, np.full(25, 1500.0)])
    towards /= np.linalg.norm(towards, axis=1)[:, None]
    candela = rng.uniform(0.5, 3.0, 25)
    points = Sources(1500.0 * towards, candela, np.full(25, 16.0))
    angle = np.full((1, 25), 16e-6 / 1.5**2)
    found = picture_glare(candela[None] / 16e-6, angle, towards[None], distance=1500.0)
    assert found.ugr == pytest.approx(ugr(glare_term(points), 10.0), abs=0.2)


def test_a_wide_even_plate_is_hardly_changed_by_spreading() -> None:
    # 600 × 600 mm at 2 m: only a border of 40 mm is softened.
    side = 120
    x, y = np.meshgrid(*[(np.arange(side) - side / 2 + 0.5) * 600.0 / side] * 2)
    towards = np.stack([x, y, np.full_like(x, 2000.0)], axis=-1)
    reach = np.linalg.norm(towards, axis=-1)
    angle = 25.0 * 2000.0 / reach**3
    found = picture_glare(np.full((side, side), 900.0), angle, towards / reach[..., None], distance=2000.0)
    assert found.most - found.least < 0.05
    assert 0.0 < found.most - found.ugr < 0.4


def test_faulty_questions_are_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        picture_glare(**picture(np.ones((2, 2))), background=0.0)
