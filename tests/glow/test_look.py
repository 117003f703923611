from dataclasses import replace
from typing import Any

import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.description.material import Finish
from stackview.glow.gathered import GROUPS
from stackview.glow.look import look
from stackview.glow.room import DARK
from stackview.glow.scene import GlowScene, part_bodies
from stackview.sight.camera import Camera
from tests.glow.bodies import light, quick, square
from tests.lamps import box as part_box

SANDED = Finish("sanded", "sanded", "sanded")
CAMERA = Camera(0.0, 25.0, 700.0, (0.0, 0.0, 20.0), 12.0, (160, 120))


def scene(*parts, row=5, pitch=16.0):
    quads = [square(((k - (row - 1) / 2) * pitch, 0, 0), 3.0) for k in range(row)]
    bodies = [body for number, part in enumerate(parts) for body in part_bodies(part, number, ())]
    return GlowScene(tuple(bodies), (light(np.concatenate(quads), 1e5),), tuple(parts))


PLATE = part_box("plate", (-60, -30, 20), (60, 30, 24), "clear", SANDED)


def seen_of(parts, **more):
    return look(
        scene(*parts), DARK, CAMERA, pitch=16.0, **{"error": 0.3, "longest": 60.0, "variant": quick()} | more
    )


def test_plates_in_sight_are_measured_with_an_error():
    found = seen_of([PLATE])
    (plate,) = found.plates
    assert found.met
    assert plate.ratio_error <= 0.3
    assert 0.0 < plate.mean_error < plate.peak_error
    assert plate.layer == "plate"
    assert 1.0 <= plate.hot_spot_ratio < 20.0
    assert 0.0 < plate.ratio_error < 1.0
    assert 0.0 < plate.mean_cd_m2 < plate.peak_cd_m2
    assert found.unseen == ()
    assert found.samples % GROUPS == 0
    assert found.raw.shape == (120, 160, 3)


def test_plates_of_a_lamp_that_gives_no_light_are_known_to_be_dark():
    unlit = replace(scene(PLATE), lights=(light(square((0, 0, 0), 3.0), 0.0),))
    for only_ratios in (True, False):
        found = look(
            unlit,
            DARK,
            CAMERA,
            pitch=16.0,
            error=0.1,
            longest=5.0,
            variant=quick(),
            only_ratios=only_ratios,
        )
        (plate,) = found.plates
        assert found.met
        assert (plate.layer, plate.looks, plate.peak_cd_m2, plate.mean_cd_m2) == ("plate", "dark", 0.0, 0.0)
        assert plate.ratio_error == plate.peak_error == plate.mean_error == 0.0
        assert not found.raw.any()


@pytest.mark.slow
def test_same_seed_same_bits():
    first, again, other = seen_of([PLATE]), seen_of([PLATE]), seen_of([PLATE], seed=2)
    assert np.array_equal(first.raw, again.raw)
    assert first.plates == again.plates
    assert not np.array_equal(first.raw, other.raw)


@pytest.mark.slow
@pytest.mark.parametrize("error", [0.1, 0.05])
def test_a_smaller_error_takes_more_samples(error):
    first, finer = seen_of([PLATE]), seen_of([PLATE], error=error)
    # A plate's own samples come first; only where those do not do, the whole picture gets more.
    if error <= 0.05:
        assert finer.samples > first.samples
    # What is lacking is taken at the brightest place and about it: of the whole plate only as far as its mean asks for
    # it, which chance may ask for less of (232 after 240 with other seeds).
    assert finer.plates[0].ratio_error < first.plates[0].ratio_error
    if finer.met:
        assert finer.plates[0].ratio_error <= error


def test_no_time_left_is_said():
    hurried = seen_of([PLATE], error=0.02, longest=0.01)
    assert not hurried.met


def test_progress_rises_to_one():
    told = []
    seen_of([PLATE], progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_without_a_plate_in_sight_there_is_no_ratio():
    wall = part_box("wall", (-90, -60, -10), (90, -50, 90))
    found = seen_of([PLATE, wall])
    assert found.plates == ()
    assert found.unseen == ("plate",)
    assert found.met


def test_a_picture_alone_takes_all_of_the_time_and_looks_for_no_plate() -> None:
    told: list[float] = []
    found = seen_of([PLATE], only_picture=True, progress=told.append)
    assert (found.plates, found.unseen, found.met) == ((), (), True)
    assert found.samples == found.asked
    assert told[-2] == told[-1] == 1.0
    assert (found.raw > 0.0).any()


@pytest.mark.slow
def test_thin_gaps_and_in_a_picture_alone_plates_get_nine_times_the_ways_and_a_third_of_the_noise() -> None:
    """The standard error of a mean of n ways falls as 1/√n."""
    wood = part_box("board behind", (-60, 20, 0), (60, 30, 40))
    left = np.zeros((120, 160), bool)
    left[:, :80] = True

    def noise(parts, own, **more):
        one, two = (seen_of(parts, only_picture=True, seed=seed, **more) for seed in (1, 2))
        here = (one.seen.part == 0) & one.seen.whole & own
        return float(np.abs(one.raw - two.raw)[here].sum() / (one.raw + two.raw)[here].sum())

    assert noise([wood], left, gaps=left) == pytest.approx(noise([wood], ~left, gaps=left) / 3.0, rel=0.25)
    # The same plate of a sort that is given nothing more: opal.
    sanded, plain = noise([PLATE], left, gaps=left), noise([PLATE], left)
    assert sanded == pytest.approx(plain, rel=0.25)
    milk = part_box("plate", (-60, -30, 20), (60, 30, 24), "opal")
    assert noise([milk], left, gaps=left) < 0.5 * noise([milk], left)


@pytest.mark.parametrize(("most", "each"), [(19_200, 16), (19_199, 4)])
def test_four_pixels_that_make_one_of_a_photograph_share_its_samples(
    monkeypatch: pytest.MonkeyPatch, most: int, each: int
) -> None:
    taken: list[int] = []

    def photographed(_built: object, _camera: Camera, samples: int, _seed: int, *, window: Any) -> np.ndarray:
        taken.append(samples)
        down, across = window or (slice(0, 120), slice(0, 160))
        return np.ones((down.stop - down.start, across.stop - across.start, 3), np.float32)

    def seen_at(
        _built: object, _camera: Camera, rows: np.ndarray, _columns: np.ndarray, samples: int, _seed: int
    ) -> np.ndarray:
        taken.append(samples)
        return np.ones((1, len(rows), 3), np.float32)

    monkeypatch.setattr("stackview.glow.look.PICTURE_PIXELS", most)
    monkeypatch.setattr("stackview.glow.engine.photographed", photographed)
    monkeypatch.setattr("stackview.glow.engine.seen_at", seen_at)
    found = seen_of([PLATE], only_picture=True, error=0.05)
    # Four rounds of all, and two of the plate alone, each of four times as many as those four.
    assert set(taken) == {each, 4 * 4 * each}
    # What is told are a photograph's samples.
    assert found.samples == found.asked == 64
    assert (found.raw == 1.0).all()


def test_ratios_alone_leave_the_room_dark_and_are_told_as_well() -> None:
    alone, whole = seen_of([PLATE], only_ratios=True), seen_of([PLATE])
    assert (alone.samples, alone.met) == (0, True)
    (plate,), (same,) = alone.plates, whole.plates
    shown = (alone.seen.part == 0) & alone.seen.whole
    assert (alone.raw[~shown] == 0.0).all()
    assert alone.raw[shown].any()
    assert plate.hot_spot_ratio == pytest.approx(
        same.hot_spot_ratio, rel=3 * (plate.ratio_error + same.ratio_error)
    )
    assert plate.mean_cd_m2 == pytest.approx(same.mean_cd_m2, rel=4 * (plate.mean_error + same.mean_error))
