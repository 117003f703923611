"""Steps in a photograph: read in order either way round, and refused where they are none."""

import numpy as np
import pytest

from stackview.glow.photograph import Photograph, PhotographError
from stackview.glow.step_sheet import DRAWN_SHARES, DrawnSteps, KnownSteps, read_steps
from stackview.glow.tone_curves import to_light

CARD = (0.9, 0.45, 0.18)


def photo(light: np.ndarray, clipped: np.ndarray | None = None) -> Photograph:
    burnt = light >= 0.975 if clipped is None else clipped
    return Photograph("steps.png", light, burnt, 1, "linear")


def row(reflectances: tuple[float, ...] = CARD, exposure: float = 0.8) -> np.ndarray:
    return np.repeat(np.repeat(exposure * np.array(reflectances), 20)[None], 30, axis=0)


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_steps_are_read_whichever_way_they_lie(turn: int) -> None:
    steps = read_steps(photo(np.ascontiguousarray(np.rot90(row(), turn))), CARD)
    assert to_light(steps.values).mean(axis=1) == pytest.approx(0.8 * np.array(CARD), rel=1e-6)
    assert steps.reflected(np.zeros(0)) == pytest.approx(np.log(CARD))


def test_lines_that_show_keep_their_two_tones() -> None:
    light = row()
    light[:, 20:40:2], light[:, 21:40:2] = 0.7, 0.1
    steps = read_steps(photo(light), CARD)
    assert np.unique(np.round(to_light(steps.values[1]), 3)).tolist() == [0.1, 0.7]


def test_our_sheet_without_gain_or_scatter_is_what_was_drawn() -> None:
    # Murray and Davies (1936): R = (1 − a) + a·black, where lines are as broad as drawn and paper scatters nothing.
    steps = DrawnSteps(np.ones((len(DRAWN_SHARES), 1)), np.array(DRAWN_SHARES))
    found = np.exp(steps.reflected(np.array([-0.1 / 0.07, 0.0, -4.0])))
    share = np.array(DRAWN_SHARES)
    assert found == pytest.approx((1.0 - share) + share * 0.05)


def test_wider_lines_and_scatter_make_steps_darker() -> None:
    steps = DrawnSteps(np.ones((len(DRAWN_SHARES), 1)), np.array(DRAWN_SHARES))
    plain, wide, scattered = (
        steps.reflected(np.array(turned)) for turned in ((0, 0, 0), (1, 0, 0), (0, 0, 1))
    )
    assert (wide[1:-1] <= plain[1:-1]).all()
    assert (scattered[1:-1] < plain[1:-1]).all()
    assert wide[[0, -1]] == pytest.approx(plain[[0, -1]])
    assert scattered[[0, -1]] == pytest.approx(plain[[0, -1]])


@pytest.mark.parametrize(
    ("light", "reflectances", "word"),
    [
        (row((0.9, 0.2, 0.5)), CARD, "do not darken"),
        (row(exposure=1.2), CARD, "clipped"),
        (row()[:4, :], CARD, "at least 6"),
        (row()[:, :60], tuple(np.linspace(0.9, 0.1, 30)), "at least 6"),
        (row((0.5,)), (0.5,), "2 to 40"),
        (row(), (0.9, 0.9, 0.2), "must fall"),
    ],
)
def test_what_is_no_row_of_steps_is_refused(
    light: np.ndarray, reflectances: tuple[float, ...], word: str
) -> None:
    with pytest.raises(PhotographError, match=word):
        read_steps(photo(light), reflectances)


def test_known_steps_need_nothing_further() -> None:
    assert KnownSteps(np.ones((2, 4)), np.array([0.9, 0.18])).unknowns == 0
