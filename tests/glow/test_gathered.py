import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.glow.blur import masked_blur
from stackview.glow.gathered import GROUPS, KEPT_WIDTH, Gathered, level_kept, luminance_of
from stackview.glow.parts_seen import PartsSeen
from stackview.glow.plates_seen import Plate, tiles_of

HIGH, WIDE = 40, 200
MASK = np.zeros((HIGH, WIDE), bool)
MASK[12:28, 10:190] = True
WINDOW = slice(0, HIGH), slice(0, WIDE)


def seen():
    up = np.zeros((HIGH, WIDE, 3), np.float32)
    up[..., 2] = 1.0
    return PartsSeen(np.where(MASK, 0, -1).astype(np.int32), MASK.copy(), np.ones_like(up), up)


def gathered(groups, samples=64, sort="clear"):
    plate = Plate("plate", MASK, WINDOW, tiles_of(MASK), sort)
    count = np.full((HIGH, WIDE), samples, np.float32)
    return Gathered(plate, groups, count, samples, seen(), 1.0, 30.0)


def even_groups(level=100.0):
    each = np.full((GROUPS, HIGH, WIDE, 1), level)
    return np.repeat(each, 3, axis=3).astype(np.float32)


@pytest.mark.parametrize("sort", ["clear", "sanded", "opal"])
def test_an_even_plate_is_known_exactly(sort):
    glow = gathered(even_groups(), sort=sort).glow
    assert glow.hot_spot_ratio == pytest.approx(1.0, abs=0.02)
    # What the denoiser is off by counts too.
    assert glow.ratio_error == pytest.approx(glow.hot_spot_ratio - 1.0, abs=2e-3)
    assert max(glow.peak_error, glow.mean_error) < 0.02
    assert glow.mean_cd_m2 == pytest.approx(100.0, rel=0.02)
    assert glow.samples == 64


@pytest.mark.slow
def test_the_error_is_the_spread_that_other_samples_show():
    # A spot whose brightness is uncertain by 12 % in each group: 12 %/√8 of the whole, by statistics.
    found, said, draw = [], [], np.random.default_rng(3)
    for _ in range(24):
        groups = even_groups(10.0)
        groups[:, 19:22, 99:102] = 1000.0 * (1.0 + 0.12 * draw.standard_normal((GROUPS, 1, 1, 1)))
        glow = gathered(groups).glow
        found.append(glow.hot_spot_ratio)
        said.append(glow.ratio_error)
    spread = np.std(found, ddof=1) / np.mean(found)
    # The surround brightens with the spot, which takes away from both alike.
    assert np.sqrt(np.mean(np.square(said))) == pytest.approx(spread, rel=0.35)
    assert 0.02 < spread < 0.12 / np.sqrt(GROUPS) * 1.2


def test_more_samples_are_taken_in_for_their_tiles_alone():
    own = gathered(even_groups(100.0))
    before = own.glow
    own.add(np.full((GROUPS, own.plate.pixels, 3), 300, "f4"), 8)
    assert own.samples == own.glow.samples == 128
    # Half of all samples had 100, half 300.
    assert own.glow.mean_cd_m2 == pytest.approx(200.0, rel=1e-4)
    assert before.mean_cd_m2 == pytest.approx(100.0, rel=1e-4)
    assert own.picture[MASK] == pytest.approx(200.0, rel=1e-4)
    assert own.picture[0, 0] == pytest.approx(100.0, rel=1e-4)


def test_rounds_grow_with_what_is_lacking():
    groups = even_groups(10.0)
    groups[:, 19:22, 99:102] *= np.linspace(0.5, 1.5, GROUPS)[:, None, None, None] * 100
    own = gathered(groups)
    error = own.glow.ratio_error
    # Twice as exact takes four times the samples; never more than three times as many at once.
    assert own.more(error / 1.5) == pytest.approx(64 * (1.15 * 2.25 - 1), abs=GROUPS)
    assert own.more(error / 10) == 3 * 64
    assert own.more(2 * error) % GROUPS == 0


def test_light_that_few_samples_have_shown_is_not_known_well():
    # One group alone has met a bright spot: the denoiser may smooth it away, the groups as rendered tell.
    groups = even_groups(10.0)
    groups[3, 19:22, 99:102] = 4000.0
    for sort in ("sanded", "opal"):
        glow = gathered(groups, sort=sort).glow
        assert glow.ratio_error > 0.3 * (glow.hot_spot_ratio - 1.0) / glow.hot_spot_ratio
        assert glow.peak_error > 0.2


def test_what_denoising_took_is_given_back_where_it_is_known():
    mask = np.ones((60, 60), bool)
    smooth = np.full((60, 60), 10.0)
    rendered = np.full((60, 60), 25.0)
    soft = np.stack([masked_blur(rendered, mask, KEPT_WIDTH)] * GROUPS)
    assert level_kept(smooth, soft, mask, KEPT_WIDTH) == pytest.approx(rendered)
    same = np.stack([masked_blur(smooth, mask, KEPT_WIDTH)] * GROUPS)
    assert level_kept(smooth, same, mask, KEPT_WIDTH) == pytest.approx(smooth)


def test_chance_is_not_given_back():
    mask = np.ones((60, 60), bool)
    smooth = np.full((60, 60), 10.0)
    # Groups that scatter far more than their mean differs.
    soft = np.stack([np.full((60, 60), level) for level in (4.0, 16.5, 2.0, 18.0, 7.0, 13.0)])
    assert level_kept(smooth, soft, mask, KEPT_WIDTH) == pytest.approx(smooth)


def test_luminance_weighs_the_channels_to_one():
    assert luminance_of(np.full((2, 2, 3), 5.0, np.float32)) == pytest.approx(5.0)
