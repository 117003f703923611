"""All of a plate: which pixels stand for it, and whether the brightest place is among those that are looked at."""

import numpy as np
import pytest

from stackview.glow.hot_spots import hot_spot
from stackview.glow.places import BrightPlace
from stackview.glow.plates_seen import Plate
from stackview.glow.seen_light import LOTS
from stackview.glow.whole_plate import WholePlate

SHAPE = (240, 320)
BROAD = np.zeros(SHAPE, bool)
BROAD[10:-10, 10:-10] = True
WINDOW = (slice(0, 240), slice(0, 320))
SPOT = 91, 203
ACROSS = np.mgrid[:240, :320]
LIGHT = 100.0 * (
    1.0 + 0.6 * np.exp(-0.5 * ((ACROSS[0] - SPOT[0]) ** 2 + (ACROSS[1] - SPOT[1]) ** 2) / 9.0**2)
)


def whole(even: bool, mask: np.ndarray = BROAD, blur: float = 1.0, surround: float = 40.0) -> WholePlate:
    return WholePlate(Plate("plate", mask, WINDOW, (), "opal", even), blur, surround)


def lit(own: WholePlate, light: np.ndarray, each: int, seed: int, share: float) -> None:
    """So many samples of each group; of all so few bring all the light."""
    level = light[own.rows, own.columns][own.over]
    hits = np.random.default_rng(seed).binomial(each, share, (LOTS, len(level))) / (each * share)
    own.take(hits * level, each * LOTS, searched=False)


def test_only_a_large_plate_without_fine_detail_is_looked_at_pixels_apart() -> None:
    assert (whole(even=False).step, whole(even=True).step) == (1, 2)
    apart = whole(even=True)
    assert len(apart.over) == 150 * 110
    assert apart.rough == 2.0
    small = np.zeros(SHAPE, bool)
    small[20:100, 20:200] = True
    assert whole(even=True, mask=small).step == 1
    # A surround of few pixels bounds it too.
    assert whole(even=True, surround=6.0).step == 1


@pytest.mark.parametrize("even", [False, True])
def test_steady_light_is_told_as_it_is(even: bool) -> None:
    own = whole(even=even)
    own.take(
        np.broadcast_to(LIGHT[own.rows, own.columns][own.over], (LOTS, len(own.over))), 8, searched=False
    )
    assert own.mean[0] == pytest.approx(LIGHT[BROAD].mean(), rel=0.001)
    places, levels = own.candidates()
    true = hot_spot(LIGHT, BROAD, 1.0, 40.0)
    assert max(levels) == pytest.approx(true.peak, rel=0.03)
    best = places[int(np.argmax(levels))]
    assert (own.rows[best.middle], own.columns[best.middle]) == pytest.approx(SPOT, abs=3)
    level = own.around(best)[0]
    assert true.peak / level == pytest.approx(true.ratio, rel=0.03)
    about = own.surround_of(best)
    assert about.level == pytest.approx(level)
    assert len(about.pixels) < len(own.over)


@pytest.mark.parametrize("seed", range(4))
def test_a_broad_spot_in_rare_light_is_among_the_places(seed: int) -> None:
    """A sample scatters eight times as much as the mean is: single hits look like spots."""
    own = whole(even=True)
    lit(own, LIGHT, 14, seed, 0.015)
    places, _ = own.candidates()
    away = [np.hypot(own.rows[p.middle] - SPOT[0], own.columns[p.middle] - SPOT[1]) for p in places]
    assert min(away) < 10.0
    assert all(isinstance(place, BrightPlace) and place.taken == 0 for place in places)


def test_what_scatters_too_much_asks_for_more() -> None:
    own = whole(even=True)
    lit(own, LIGHT, 2, 1, 0.015)
    lacks, most = own.search_lacks(0.1)
    assert lacks > 1.0
    assert most > own.samples
    lit(own, LIGHT, 400, 2, 0.015)
    assert own.search_lacks(0.1)[0] < 1.0
