from dataclasses import replace

import numpy as np
import pytest

from stackview.glow.parts_seen import PartsSeen
from stackview.light.colour import LUMINANCE
from stackview.photographs.cleaned import (
    TIMES,
    _spread_out,
    cleaned,
    gap_shares,
    held,
    one_hue,
    thin_gaps,
    true_to,
)
from stackview.photographs.out_of_focus import RoomSeen
from stackview.photographs.photograph import Taken
from stackview.sight.camera import Camera
from stackview.stills.local_tone import box_sum

SHAPE = (90, 120)


def guides() -> PartsSeen:
    flat = np.ones((*SHAPE, 3), np.float32)
    return PartsSeen(np.full(SHAPE, -2, np.int32), np.ones(SHAPE, bool), flat.copy(), flat.copy())


def taken(share: np.ndarray) -> Taken:
    camera = Camera(0.0, 0.0, 1000.0, (0.0, 0.0, 0.0), 12.0, SHAPE[::-1])
    room = RoomSeen(np.full(SHAPE, 1500.0, np.float32), share)
    return Taken(
        camera, room, np.ones((*SHAPE, 3), np.float32), np.zeros(SHAPE, bool), np.zeros(SHAPE, np.float32)
    )


@pytest.fixture
def _no_denoiser(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stackview.photographs.cleaned.denoised", lambda picture, *_: picture)


def test_even_light_with_ordinary_noise_is_left_alone() -> None:
    noise = np.random.default_rng(2).gamma(1.0, 1.0, (*SHAPE, 1)).astype(np.float32)
    picture = noise * np.ones(3, np.float32)
    assert held(picture, np.ones(SHAPE, bool)) == pytest.approx(picture)


def test_a_chance_in_the_room_is_held_to_its_neighbourhood() -> None:
    picture = np.ones((*SHAPE, 3), np.float32)
    picture[40, 50] = [4000.0, 500.0, 10.0]
    found = held(picture, np.ones(SHAPE, bool))
    assert found[40, 50] @ LUMINANCE == pytest.approx(TIMES, rel=0.01)
    # Its colour stays, and so does all else.
    assert found[40, 50] / found[40, 50, 1] == pytest.approx(picture[40, 50] / 500.0)
    found[40, 50] = picture[40, 50]
    assert (found == picture).all()


def test_the_lamp_is_never_held() -> None:
    picture = np.ones((*SHAPE, 3), np.float32)
    picture[40, 50] = 1e6
    room = np.ones(SHAPE, bool)
    room[40, 50] = False
    assert (held(picture, room) == picture).all()


@pytest.mark.usefixtures("_no_denoiser")
def test_what_is_held_back_is_spread_and_not_lost() -> None:
    picture = np.ones((*SHAPE, 3), np.float32)
    picture[45, 60] = 3000.0
    found = cleaned(picture, guides(), taken(np.ones(SHAPE, np.float32)))
    assert found.sum() == pytest.approx(picture.sum(), rel=0.05)
    assert found.max() < TIMES + 3.0
    assert found[5, 5, 0] >= 1.0
    # No cloud shows: neighbouring places differ little.
    assert np.abs(np.diff(found[:40, :, 1], axis=1)).max() < 0.05


@pytest.mark.usefixtures("_no_denoiser")
def test_spread_light_has_one_colour_and_stays_off_the_lamp() -> None:
    picture = np.ones((*SHAPE, 3), np.float32)
    picture[20, 30] = [6000.0, 100.0, 1.0]
    share = np.ones(SHAPE, np.float32)
    share[50:, 60:] = 0.0
    found = cleaned(picture, guides(), taken(share))
    assert (found[50:, 60:] == 1.0).all()
    added = found[:40, :25] - 1.0
    assert added[..., 0] / added[..., 1] == pytest.approx(60.0, rel=0.1)


def test_light_of_few_ways_leaves_no_cloud() -> None:
    """One way on a wall, of all that were rendered, once made an orange cloud over a quarter of Turning Lantern's."""
    rest = np.zeros((90, 120, 3), np.float32)
    rest[20, 30] = [6000.0, 900.0, 20.0]
    room = np.ones((90, 120), bool)
    few = _spread_out(rest, room)
    assert np.ptp(few, axis=(0, 1)) == pytest.approx(0.0)
    assert few.sum() == pytest.approx(rest.sum(), rel=1e-5)
    # Of many it stays about where it was found.
    rest[:40, :50] = [60.0, 9.0, 0.2]
    many = _spread_out(rest, room) @ LUMINANCE
    assert many[20, 30] > 2.0 * many[80, 110]


def test_a_slanted_slit_has_no_steps() -> None:
    """Each pixel shows as much of a slit as its rim leaves it: 2.4 pixels tall, rising by one in eight."""
    shape, fine = (240, 320), 8
    row, column = (np.arange(n * fine)[:, None] / fine for n in shape)
    inside = np.abs(row - 120.0 - column.T / 8.0) < 1.2
    cover = inside.reshape(shape[0], fine, shape[1], fine).mean(axis=(1, 3))
    clean = 500.0 * cover + 0.5
    chance = np.random.default_rng(4).gamma(6.0, 1.0 / 6.0, shape)
    noisy = np.repeat((clean * chance)[..., None], 3, axis=2).astype(np.float32)
    smooth = np.repeat(clean[..., None], 3, axis=2).astype(np.float32)

    def steps(share: np.ndarray) -> float:
        """Of the light of the slit: how far off it is in each kind of pixel, which comes again every eight columns."""
        off = true_to(noisy, smooth, share)[..., 1] - clean
        along = [off[117 + k // 8 : 125 + k // 8, k] for k in range(24, 296)]
        return float(np.sqrt((np.reshape(along, (34, 8, 8)).mean(axis=0) ** 2).mean()) / 500.0)

    # By whether its middle shows the slit alone, a pixel at the rim got too much or too little.
    assert steps(cover.astype(np.float32)) < 0.5 * steps(cover >= 0.5)


def gap_by_day() -> tuple[np.ndarray, np.ndarray]:
    """Daylight (h, w, 3) on wood with a thin gap that falls aslant, and the gap's true share (h, w) of each pixel."""
    row, column = np.mgrid[:240, :320]
    top = 100.0 + column / 8.0
    share = np.clip(np.minimum(row + 1.0, top + 2.5) - np.maximum(row, top), 0.0, 1.0)
    share[:, :20] = share[:, 300:] = 0.0
    light = 100.0 * (1.0 - share) + 10.0 * share
    return np.repeat(light[..., None], 3, axis=2).astype(np.float32), share.astype(np.float32)


def test_how_much_of_a_pixel_shows_a_thin_gap_is_read_from_daylight() -> None:
    day, share = gap_by_day()
    wood = np.ones(share.shape, bool)
    found = gap_shares(day, wood)
    assert found == pytest.approx(share, abs=0.15)
    assert found.sum() == pytest.approx(share.sum(), rel=0.1)
    # A wide dark place is no gap.
    wide = day.copy()
    wide[60:180] = 10.0
    assert not thin_gaps(wide, wood).any()


def test_the_light_of_a_thin_gap_between_wood_stays_without_its_specks(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Kelp's gaps: one pixel in ten has a way of light, the rest none, and the denoiser takes all of it away."""
    day, share = gap_by_day()
    size = share.shape
    specks = np.where(np.random.default_rng(7).random(size) < 0.1, 50.0, 0.0) * share
    lamp = (0.3 + specks[..., None] * np.array([1.6, 0.9, 0.3])).astype(np.float32)
    monkeypatch.setattr(
        "stackview.photographs.cleaned.denoised", lambda picture, *_: np.full_like(picture, 0.3)
    )
    camera = Camera(0.0, 0.0, 1000.0, (0.0, 0.0, 0.0), 12.0, size[::-1])
    room = RoomSeen(np.full(size, np.inf, np.float32), np.zeros(size, np.float32))
    stand = Taken(camera, room, np.ones_like(lamp), np.zeros(size, bool), np.zeros(size, np.float32))
    flat = np.ones_like(lamp)
    seen = PartsSeen(np.zeros(size, np.int32), np.ones(size, bool), flat, flat.copy())
    gaps = gap_shares(day, np.ones(size, bool))
    found, before = cleaned(lamp, seen, stand, gaps) @ LUMINANCE, lamp @ LUMINANCE
    assert (cleaned(lamp, seen, stand) @ LUMINANCE).sum() == pytest.approx(0.3 * size[0] * size[1], rel=1e-3)
    inside = share > 0.99
    inside[:, :40] = inside[:, 280:] = False
    assert found[inside].std() < 0.3 * before[inside].std()
    assert found.sum() - 0.3 * found.size == pytest.approx(before.sum() - 0.3 * found.size, rel=0.15)
    assert found[share == 0.0] == pytest.approx(0.3, abs=1e-3)
    # Where the denoiser keeps a gap's light, it is left to it; and so are pixels that show acrylic.
    monkeypatch.setattr("stackview.photographs.cleaned.denoised", lambda picture, *_: picture)
    assert (cleaned(lamp, seen, stand, gaps) == lamp).all()
    monkeypatch.setattr(
        "stackview.photographs.cleaned.denoised", lambda picture, *_: np.full_like(picture, 0.3)
    )
    lit = np.zeros(size, np.float32)
    lit[:, 160] = 0.1
    beside = cleaned(lamp, seen, replace(stand, acrylic=lit), gaps)[:, 160]
    assert beside == pytest.approx(np.full_like(beside, 0.3), abs=1e-3)


def test_the_rim_of_a_wide_plate_is_left_to_the_denoiser() -> None:
    """A plate that is darker along its rim got a white line there: half of the light farther in."""
    plate = np.zeros((240, 320), bool)
    row, column = np.mgrid[:240, :320]
    plate[np.hypot((row - 120) / 90.0, (column - 160) / 130.0) < 1.0] = True
    inner = np.hypot((row - 120) / 82.0, (column - 160) / 122.0) < 1.0
    clean = np.repeat(np.where(inner, 900.0, np.where(plate, 200.0, 0.5))[..., None], 3, axis=2)
    found = true_to(clean.astype(np.float32), clean.astype(np.float32) * 1.01, plate)
    assert found[plate] == pytest.approx(clean[plate] * 1.01, rel=1e-3)


def test_acrylic_keeps_the_light_that_was_rendered() -> None:
    shape = (240, 320)
    slit = np.zeros(shape, bool)
    slit[40:42] = True
    noise = np.random.default_rng(5).exponential(300.0, (*shape, 1)).astype(np.float32)
    picture = np.where(slit[..., None], noise * np.array([2.0, 1.0, 0.3], np.float32), 0.1).astype(np.float32)
    smooth = np.where(slit[..., None], np.array([900.0, 500.0, 60.0]), 0.1).astype(np.float32)
    smooth[40, 60] = 5e4
    found = true_to(picture, smooth, slit)
    sums = found[slit].sum(axis=0) / picture[slit].sum(axis=0)
    assert sums == pytest.approx(np.ones(3), abs=0.1)
    assert found[40, 60, 0] < picture[38:43, 58:63, 0].max() * 1.5
    # A pixel round it belongs to the slit; beyond nothing changes.
    assert found[:38] == pytest.approx(smooth[:38])


def test_on_wide_plates_the_denoiser_is_trusted() -> None:
    plate = np.zeros(SHAPE, bool)
    plate[20:70, 20:100] = True
    picture = np.random.default_rng(5).exponential(300.0, (*SHAPE, 3)).astype(np.float32)
    smooth = np.full((*SHAPE, 3), 290.0, np.float32)
    assert true_to(picture, smooth, plate)[25:65, 25:95] == pytest.approx(290.0)


def test_no_pale_square_stands_round_a_light_point_on_wood() -> None:
    """A light point that runs into a pixel of wood once dyed the whole window about it."""
    shape = (360, 480)
    wood, albedo = np.ones(shape, bool), np.full((*shape, 3), [0.7, 0.5, 0.3], np.float32)
    picture = (np.full((*shape, 3), [2.0, 0.9, 0.2]) * albedo * 900.0).astype(np.float32)
    picture[120, 150:160] = 1.8e6
    hue = one_hue(picture, albedo, wood)
    hue /= (hue @ LUMINANCE)[..., None]
    plain = hue[10, 10]
    near, far = hue[112:118, 140:180].reshape(-1, 3), hue[20:60, 20:60].reshape(-1, 3)
    # As dyed as wood far away, but for a tenth of the way to white; and nowhere does a window's edge show.
    assert near.mean(axis=0) == pytest.approx(far.mean(axis=0), abs=0.1)
    assert np.abs(np.diff(hue[114, :, 2] / plain[2])).max() < 0.1


def test_wood_beside_a_slit_gets_no_fringe_of_the_slits_colour() -> None:
    shape = (240, 320)
    slit = np.zeros(shape, bool)
    slit[100:104] = True
    chance = np.random.default_rng(8).gamma(20.0, 0.05, (*shape, 1))
    white, brown = np.array([1.0, 1.0, 1.0]), np.array([2.5, 0.6, 0.4])
    clean = np.where(slit[..., None], 500.0 * white, 300.0 * brown)
    found = true_to((clean * chance).astype(np.float32), clean.astype(np.float32), slit)
    for row in (98, 99, 104, 105):
        assert found[row] / found[row, :, 1:2] == pytest.approx(clean[row] / clean[row, :, 1:2], rel=1e-4)


def test_specks_of_chance_in_a_thin_slit_are_evened_out_and_true_spots_stay() -> None:
    shape = (240, 320)
    slit = np.zeros(shape, bool)
    slit[100:103] = True
    clean = np.where(slit, 200.0, 0.5)
    # Light points that show every 27 pixels, as they do a metre away.
    for column in range(20, 320, 27):
        clean[100:103, column : column + 4] = 4000.0
    chance = np.random.default_rng(9).exponential(1.0, shape)
    chance[clean > 1000.0] = 1.0 + 0.05 * chance[clean > 1000.0]
    noisy = np.repeat((clean * chance)[..., None], 3, axis=2).astype(np.float32)
    found = true_to(noisy, np.repeat(clean[..., None], 3, axis=2).astype(np.float32), slit)[..., 1]
    between, spots = slit & (clean < 1000.0), clean > 1000.0
    far = between & ~box_near(spots, 10)
    assert found[far].std() < 0.4 * noisy[far, 1].std()
    assert found[slit].sum() == pytest.approx(noisy[slit, 1].sum(), rel=0.05)
    assert found[spots].mean() > 3000.0


def box_near(mask: np.ndarray, radius: int) -> np.ndarray:
    return np.asarray(box_sum(mask.astype(float), radius) > 0.5)


@pytest.mark.slow
def test_specks_of_colour_take_the_light_of_all_round() -> None:
    wood = np.zeros((240, 320), bool)
    wood[:, :200] = True
    albedo = np.where(wood[..., None], np.array([0.7, 0.5, 0.3]), 0.9).astype(np.float32)
    # Lamplight of one colour on wood of one colour, but each pixel's own brightness ...
    level = np.random.default_rng(6).exponential(5.0, (240, 320, 1))
    picture = (level * albedo * np.array([2.0, 0.9, 0.3])).astype(np.float32)
    assert one_hue(picture, albedo, wood) == pytest.approx(picture, rel=1e-3)
    # ... and a speck that is blue.
    specked = picture.copy()
    specked[100, 100] = [0.0, 0.0, 20.0]
    found = one_hue(specked, albedo, wood)
    assert found[100, 100] @ LUMINANCE == pytest.approx(specked[100, 100] @ LUMINANCE, rel=1e-3)
    assert found[100, 100, 0] > found[100, 100, 1] > found[100, 100, 2]
    assert (found[:, 200:] == specked[:, 200:]).all()
