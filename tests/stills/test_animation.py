from io import BytesIO

import numpy as np
from PIL import Image

from stackview.stills.animation import FRAME_TIME, gif_of, turntable, webp_of
from tests.stills.demos import demo

SIZE = (128, 96)


def test_frames_turn_once_round_and_meet():
    stack, light = demo("turning-lantern")
    frames = list(turntable(stack, light, size=SIZE, frames=12))
    assert len(frames) == 12
    steps = [
        np.abs(one.astype(int) - other.astype(int)).mean()
        for one, other in zip(frames, frames[1:] + frames[:1], strict=True)
    ]
    # Every step moves something, and the last leads on to the first like any other.
    assert min(steps) > 0.5
    assert steps[-1] < 2.0 * np.median(steps)


def test_a_round_lamp_stays_where_it_is():
    stack, light = demo("moor-drum")
    masks = []
    for frame in turntable(stack, light, size=SIZE, frames=4, cut_out=True):
        assert frame.shape == (96, 128, 4)
        masks.append(frame[..., 3] > 250)
    # Its feet and its shadow turn; its outline does not.
    for mask in masks[1:]:
        assert (mask ^ masks[0]).mean() < 0.02


def test_files_hold_all_frames_for_ever_in_order():
    frames = [np.full((12, 16, 3), value, np.uint8) for value in range(0, 250, 50)]
    for packed in (gif_of(frames), webp_of(frames)):
        with Image.open(BytesIO(packed)) as opened:
            assert opened.n_frames == len(frames)
            assert opened.info["loop"] == 0
            for number, frame in enumerate(frames):
                opened.seek(number)
                shown = np.asarray(opened.convert("RGB")).astype(int)
                assert np.abs(shown - frame).max() <= 6
            assert opened.info["duration"] == FRAME_TIME


def test_same_frames_give_the_same_bytes():
    rng = np.random.default_rng(4)
    frames = [rng.integers(0, 256, (24, 32, 3), np.uint8) for _ in range(3)]
    assert gif_of(frames) == gif_of(frames)
    assert webp_of(frames) == webp_of(frames)


def test_a_gif_keeps_one_set_of_colours():
    ramp = np.tile(np.linspace(0, 255, 64).astype(np.uint8)[None, :, None], (48, 1, 3))
    with Image.open(BytesIO(gif_of([ramp, ramp[:, ::-1]]))) as opened:
        first = opened.global_palette.palette if opened.global_palette else None
        opened.seek(1)
        assert first is not None
        assert np.abs(np.asarray(opened.convert("RGB")).astype(int) - ramp[:, ::-1]).mean() < 3
