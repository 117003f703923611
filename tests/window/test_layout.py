"""Panels at any window size: inside, apart, and hit where they are drawn."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.window.layout import (
    SLIDERS,
    Box,
    direction_at,
    layout,
    place_of,
    slider_at,
    slider_share,
)


@given(st.integers(420, 4000), st.integers(360, 2400))
def test_panels_are_inside_and_apart(width: int, height: int) -> None:
    plan = layout((width, height))
    panels = [box for box in (plan.readout, plan.hint, plan.sliders, plan.map_panel) if box is not None]
    for box in [*panels, plan.help]:
        assert box.left >= 0
        assert box.top >= 0
        assert box.right <= width
        assert box.foot <= height
    for one, other in combinations(panels, 2):
        assert one.apart(other)


@pytest.mark.parametrize("size", [(900, 640), (1200, 800), (1920, 1080), (3840, 2160)])
def test_usual_windows_have_everything(size: tuple[int, int]) -> None:
    plan = layout(size)
    assert plan.sliders is not None
    assert plan.map_panel is not None
    assert plan.chart is not None
    assert len(plan.tracks) == len(SLIDERS)
    for panel in (plan.readout, plan.sliders, plan.map_panel, plan.hint):
        assert plan.notice.apart(panel)
    # Two degrees of bearing to one of elevation, as on every map of all directions.
    assert plan.chart.width == pytest.approx(2 * plan.chart.height, abs=2)


def test_larger_windows_have_larger_type() -> None:
    assert layout((900, 640)).em < layout((1920, 1080)).em < layout((3840, 2160)).em


def test_sliders_are_hit_along_their_whole_way() -> None:
    plan = layout((900, 640))
    for name, track in zip(SLIDERS, plan.tracks, strict=True):
        middle = track.top + track.height / 2
        for x in (track.left, track.left + track.width / 2, track.right - 1):
            assert slider_at(plan, x, middle) == name
        assert slider_share(track, track.left) == 0.0
        assert slider_share(track, track.right - 1) == 1.0
        assert slider_share(track, track.right + 500) == 1.0
    assert slider_at(plan, 450, 320) is None


@given(st.floats(0, 359.9), st.floats(-90, 90))
def test_map_there_and_back(bearing: float, elevation: float) -> None:
    chart = Box(37, 411, 256, 128)
    assert direction_at(chart, *place_of(chart, bearing, elevation)) == pytest.approx((bearing, elevation))


def test_map_holds_the_mouse_beyond_its_rim() -> None:
    chart = Box(0, 0, 360, 180)
    assert direction_at(chart, -50, -50) == (0.0, 90.0)
    assert direction_at(chart, 100, 900) == (100.0, -90.0)
