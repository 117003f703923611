"""Where panels, sliders and the small map lie in a window of any size, and what a click hits.

Pixels, x to the right and y down from the upper left corner.
"""

from dataclasses import dataclass

import numpy as np

_EDGE = 12
"""Room between panels and the window's rim, at scale 1 [px]."""
SLIDERS = ("light", "spread", "cut")


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle [px]."""

    left: int
    top: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """One past its last column."""
        return self.left + self.width

    @property
    def foot(self) -> int:
        """One past its last row."""
        return self.top + self.height

    def holds(self, x: float, y: float) -> bool:
        """Whether a place lies in it."""
        return self.left <= x < self.right and self.top <= y < self.foot

    def apart(self, other: "Box") -> bool:
        """Whether it shares no pixel with another."""
        return (
            self.right <= other.left
            or other.right <= self.left
            or self.foot <= other.top
            or other.foot <= self.top
        )


@dataclass(frozen=True, slots=True)
class WindowPlan:
    """Boxes for a window of ``size``; None for what finds no room. ``em`` is the size of text [px]."""

    size: tuple[int, int]
    em: float
    readout: Box
    hint: Box
    notice: Box
    """Where messages and errors may stand; they take as much of its height as they need."""
    sliders: Box | None
    tracks: tuple[Box, ...]
    """The way of each slider's knob, in the order of :data:`SLIDERS`."""
    map_panel: Box | None
    chart: Box | None
    """The small map itself."""
    help: Box


def layout(size: tuple[int, int]) -> WindowPlan:
    """Lay a window out."""
    width, height = size
    scale = float(np.clip(min(width / 900.0, height / 640.0), 0.7, 2.6)) ** 0.6
    em = 12.2 * scale
    edge = round(_EDGE * scale)
    across = round(19.2 * em)
    readout = Box(edge, edge, min(across, width - 2 * edge), min(round(18.6 * em), height - 2 * edge))
    hint = Box(width - edge - round(5.2 * em), edge, round(5.2 * em), round(2.0 * em))
    sliders_high = round(7.6 * em)
    sliders = None
    if height >= readout.foot + sliders_high + 2 * edge:
        sliders = Box(edge, height - edge - sliders_high, readout.width, sliders_high)
    map_wide, map_high = round(22.0 * em), round(14.6 * em)
    map_panel = chart = None
    if width >= readout.right + map_wide + 2 * edge and height >= map_high + hint.foot + 2 * edge:
        map_panel = Box(width - edge - map_wide, height - edge - map_high, map_wide, map_high)
        chart = Box(
            map_panel.left + round(0.8 * em),
            map_panel.top + round(2.1 * em),
            round(20.4 * em),
            round(10.2 * em),
        )
    low = (sliders or readout).right + edge
    high = map_panel.left - edge if map_panel else width - edge
    notice = Box(low, hint.foot + edge, max(high - low, 40), max(height - 2 * edge - hint.foot, 40))
    if map_panel is None:
        notice = Box(low, hint.foot + edge, max(width - edge - low, 40), notice.height)
    return WindowPlan(
        size, em, readout, hint, notice, sliders, _tracks(sliders, em), map_panel, chart, _help_box(size, em)
    )


def _tracks(sliders: Box | None, em: float) -> tuple[Box, ...]:
    if sliders is None:
        return ()
    step = sliders.height / (len(SLIDERS) + 0.25)
    left, width = sliders.left + round(5.3 * em), sliders.width - round(11.0 * em)
    return tuple(
        Box(left, round(sliders.top + 0.12 * step + k * step), width, round(step))
        for k in range(len(SLIDERS))
    )


def _help_box(size: tuple[int, int], em: float) -> Box:
    width, height = min(round(54 * em), size[0] - 8), min(round(30 * em), size[1] - 8)
    return Box((size[0] - width) // 2, (size[1] - height) // 2, width, height)


def slider_share(track: Box, x: float) -> float:
    """How far along its way a slider's knob is when the mouse is at ``x``, 0 to 1."""
    return float(np.clip((x - track.left) / max(track.width - 1, 1), 0.0, 1.0))


def slider_at(plan: WindowPlan, x: float, y: float) -> str | None:
    """The slider under a place, with some room round its way; None elsewhere."""
    slack = plan.em * 0.8
    for name, track in zip(SLIDERS, plan.tracks, strict=False):
        if track.left - slack <= x < track.right + slack and track.top <= y < track.foot:
            return name
    return None


def direction_at(chart: Box, x: float, y: float) -> tuple[float, float]:
    """Bearing and elevation that a place on the small map stands for [°].

    >>> direction_at(Box(0, 0, 360, 180), 90.0, 45.0)
    (90.0, 45.0)
    """
    bearing = np.clip((x - chart.left) / chart.width, 0.0, 1.0) * 360.0
    elevation = 90.0 - np.clip((y - chart.top) / chart.height, 0.0, 1.0) * 180.0
    return float(bearing) % 360.0, float(elevation)


def place_of(chart: Box, bearing: float, elevation: float) -> tuple[float, float]:
    """Where a direction [°] stands on the small map.

    >>> place_of(Box(0, 0, 360, 180), 90.0, 45.0)
    (90.0, 45.0)
    """
    return (
        chart.left + (bearing % 360.0) / 360.0 * chart.width,
        chart.top + (90.0 - elevation) / 180.0 * chart.height,
    )
