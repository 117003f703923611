"""Finding the spot, and its brightness by radius."""

import numpy as np
import pytest

from stackview.glow.photograph import Photograph, PhotographError
from stackview.glow.spot import clipped_too_far, find_spot, profile_of, with_plateau


def bell(
    middle: tuple[float, float] = (80.0, 60.0), width: float = 9.0, height: float = 0.8, room: float = 0.01
) -> np.ndarray:
    y, x = np.indices((120, 160)) + 0.5
    return room + height * np.exp(-((x - middle[0]) ** 2 + (y - middle[1]) ** 2) / (2 * width**2))


def photo(light: np.ndarray, shrink: int = 1) -> Photograph:
    light = np.minimum(light, 1.0)
    return Photograph("spot.png", light, light >= 0.975, shrink, "linear")


@pytest.mark.parametrize("middle", [(80.0, 60.0), (67.3, 71.8), (60.0, 50.5)])
def test_middle_and_width_of_a_bell(middle: tuple[float, float]) -> None:
    found = find_spot(photo(bell(middle)))
    assert (found.x, found.y) == pytest.approx(middle, abs=0.1)
    # A bell is at half its height at σ√(2 ln 2).
    assert found.half == pytest.approx(9.0 * np.sqrt(2 * np.log(2)), rel=0.04)
    assert found.stretch == pytest.approx(1.0, abs=0.03)


def test_profile_of_a_bell_is_the_bell() -> None:
    shot = photo(bell())
    found = profile_of(shot, find_spot(shot))
    assert found.light == pytest.approx(0.01 + 0.8 * np.exp(-(found.radius**2) / 162.0), abs=0.006)
    assert found.clipped_to == 0.0
    assert (np.diff(found.radius) > 0).all()


def test_radii_count_in_pixels_of_the_file() -> None:
    plain, shrunk = photo(bell()), photo(bell(), shrink=3)
    one, three = (profile_of(shot, find_spot(shot)) for shot in (plain, shrunk))
    assert three.radius == pytest.approx(3.0 * one.radius)


def test_clipped_pixels_are_left_out() -> None:
    shot = photo(bell(height=1.6))
    place = find_spot(shot)
    found = profile_of(shot, place)
    edge = 9.0 * np.sqrt(2 * np.log(1.6 / 0.965))
    assert found.clipped_to == pytest.approx(edge, abs=1.5)
    assert found.radius.min() > edge - 1.0
    assert found.light.max() < 0.975
    assert clipped_too_far(place, found, 1)


def test_a_little_clipping_in_the_middle_is_borne() -> None:
    shot = photo(bell(height=0.985))
    place = find_spot(shot)
    assert not clipped_too_far(place, profile_of(shot, place), 1)


def test_two_spots_are_refused() -> None:
    for brightness in (0.8, 0.5, 0.35):
        two = bell((45.0, 60.0), 6.0) + bell((115.0, 60.0), 6.0, height=brightness, room=0.0)
        with pytest.raises(PhotographError, match="more than one"):
            find_spot(photo(two))


def test_two_spots_that_run_together_are_refused() -> None:
    two = bell((72.0, 60.0), 8.0, 0.5) + bell((88.0, 60.0), 8.0, 0.5, room=0.0)
    with pytest.raises(PhotographError, match="as long as wide|more than one"):
        find_spot(photo(two))


def test_white_below_full_scale_is_clipped_and_a_round_top_is_not() -> None:
    whole = bell(height=0.6)
    for light, burnt in ((whole, False), (np.minimum(whole, 0.3), True)):
        shot = Photograph("spot.jpg", light, np.zeros(light.shape, bool), 1, "unknown", bits=8)
        found = with_plateau(shot)
        assert found.clipped.any() == burnt
        assert not burnt or (found.clipped[light >= 0.3].all() and not found.clipped[light < 0.28].any())
        assert clipped_too_far(find_spot(found), profile_of(found, find_spot(found)), 1) == burnt


def test_a_few_hot_pixels_are_no_second_spot() -> None:
    light = bell()
    light[5, 5] = light[110, 20] = 0.9
    assert find_spot(photo(light)).x == pytest.approx(80.0, abs=0.3)


def test_nothing_to_see_is_refused() -> None:
    rng = np.random.default_rng(3)
    with pytest.raises(PhotographError, match="no bright spot"):
        find_spot(photo(0.2 + 0.01 * rng.normal(size=(120, 160))))


@pytest.mark.parametrize("dark", [0, 40])
def test_a_picture_that_is_mostly_white_is_overexposed(dark: int) -> None:
    light = np.full((120, 160), 1.0)
    light[:, :dark] = 0.1
    with pytest.raises(PhotographError, match="overexposed, .* expose for less"):
        find_spot(photo(light))


def test_spot_too_small_or_cut_by_the_frame_is_refused() -> None:
    with pytest.raises(PhotographError, match="pixels wide"):
        find_spot(photo(bell(width=2.0)))
    with pytest.raises(PhotographError, match="frame"):
        find_spot(photo(bell(middle=(12.0, 60.0))))
