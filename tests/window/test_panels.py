"""What stands on the panels: readable, inside, and never one text on another."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from stackview.description.units import Units
from stackview.errors import Fault, LampError, OutputError
from stackview.sight.bands import Kind
from stackview.spots.eye_spots import PlateSpots
from stackview.window import panels
from stackview.window.ink import PANEL_INK, PANEL_PAPER, PANEL_QUIET, WARM, Slip
from stackview.window.keys import after_key
from stackview.window.layout import layout
from stackview.window.onlooker import PlatesHere
from stackview.window.reading import causes_here, reading
from stackview.window.shown import Shown
from stackview.window.state import first_view

SIZES = [(700, 520), (900, 640), (1920, 1080)]


def tidy(slip: Slip) -> None:
    """All text inside the panel, and no text on another."""
    for left, top, right, foot in slip.texts:
        assert left >= 0
        assert top >= 0
        assert right <= slip.width
        assert foot <= slip.height
    for one, other in combinations(slip.texts, 2):
        across = min(one[2], other[2]) - max(one[0], other[0])
        upright = min(one[3], other[3]) - max(one[1], other[1])
        assert across <= 0 or upright <= 0, (one, other)


def luminance(colour: np.ndarray) -> float:
    """Relative luminance of sRGB 0 to 255, WCAG 2.2."""
    linear = np.where(colour / 255 <= 0.04045, colour / 255 / 12.92, ((colour / 255 + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


@pytest.mark.parametrize("behind", [0, 255])
@pytest.mark.parametrize("ink", [PANEL_INK, PANEL_QUIET, WARM])
def test_text_is_readable_by_day_and_evening(ink: tuple[int, ...], behind: int) -> None:
    # WCAG 2.2 success criterion 1.4.3 asks for a contrast of 4.5.
    share = PANEL_PAPER[3] / 255
    paper = share * np.array(PANEL_PAPER[:3]) + (1 - share) * behind
    light, dark = luminance(np.array(ink[:3], float)), luminance(paper)
    assert (light + 0.05) / (dark + 0.05) >= 4.5


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("unit", ["mm", "in", "ft"])
def test_readout(honeycomb: Shown, size: tuple[int, int], unit: str) -> None:
    plan = layout(size)
    for keys in ("", "1", "n", "a", "c"):
        state = replace(first_view(honeycomb.ball), units=Units(unit))
        if keys:
            state = after_key(state, keys, honeycomb)
        tidy(
            panels.readout(
                plan, state, reading(state, honeycomb), "A lamp with rather a long name to it", 1234
            )
        )


@pytest.mark.parametrize("size", SIZES)
def test_other_panels(honeycomb: Shown, size: tuple[int, int]) -> None:
    plan = layout(size)
    state = after_key(first_view(honeycomb.ball), "1", honeycomb)
    found = reading(state, honeycomb)
    tidy(panels.growth(plan, causes_here(state, honeycomb, found), found.count(Kind.BARE)))
    tidy(panels.growth(plan, (), 0))
    tidy(panels.hint(plan))
    tidy(panels.message(plan, "a long message " * 12))
    tidy(panels.error(plan, "layer 1 · thickness: wrong\n" * 40))
    tidy(panels.help_sheet(plan, tuple(f"eye number {k} with a long name" for k in range(12))))
    for light in (0.0, 0.5, 1.0):
        if plan.sliders is not None:
            tidy(panels.sliders(plan, replace(state, light=light, spread=1.0, cut=1.0)))


def test_error_keeps_to_its_room(honeycomb: Shown) -> None:
    for size in SIZES:
        plan = layout(size)
        assert panels.error(plan, "x" * 4000 + "\n" + "y " * 3000).height <= plan.notice.height
        assert panels.message(plan, "word " * 400).height <= plan.notice.height
    assert honeycomb.stops


def test_error_text_has_one_line_a_fault() -> None:
    faults = (Fault("lamp · name", "missing"), Fault('layer "ring"', "too thick"))
    assert (
        panels.error_text(LampError("long/path.toml", faults))
        == 'lamp · name: missing\nlayer "ring": too thick'
    )
    assert panels.error_text(OutputError("said")) == "said"


PLATES = tuple(
    PlateSpots(name, ratio, error, peak, 100.0, 0.01, ())
    for name, ratio, error, peak in (
        ("bottom plate", 1.1, 0.05, 200.0),
        ("a plate whose name is far longer than the panel is wide", 5.0, 0.05, 900.0),
        ("plate 3", 2.6, 0.9, 900.0),
        ("plate 4", 9.0, 0.1, 1.0),
        ("plate 5", 1.7, 0.05, 300.0),
    )
)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("count", [0, 1, 3, 5])
def test_acrylic_from_here_is_told_tidily(size: tuple[int, int], count: int) -> None:
    for looking in (True, False):
        tidy(panels.plates(layout(size), PlatesHere((0.0, 0.0, 900.0), PLATES[:count], looking)))
    tidy(panels.plates(layout(size), PlatesHere((0.0, 0.0, 900.0), None, looking=False)))
