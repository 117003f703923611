import numpy as np
import pytest

from stackview.glow.parts_seen import PartsSeen
from stackview.light.colour import LUMINANCE
from stackview.photographs.cleaned import TIMES, cleaned, held, one_hue, true_to
from stackview.photographs.out_of_focus import RoomSeen
from stackview.photographs.photograph import Taken
from stackview.sight.camera import Camera
from stackview.stills.local_tone import box_sum

SHAPE = (90, 120)


def guides() -> PartsSeen:
    flat = np.ones((*SHAPE, 3), np.float32)
    return PartsSeen(np.full(SHAPE, -2, np.int32), np.ones(SHAPE, bool), flat.copy(), flat.copy())


def taken(share: np.ndarray, believed: np.ndarray | None = None) -> Taken:
    camera = Camera(0.0, 0.0, 1000.0, (0.0, 0.0, 0.0), 12.0, SHAPE[::-1])
    room = RoomSeen(np.full(SHAPE, 1500.0, np.float32), share)
    return Taken(camera, room, np.ones((*SHAPE, 3), np.float32), believed)


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
