"""The small flat map of all directions, with the eye and the named eyes on it where they are far."""

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.map_counts import column_bearings, map_counts, surface_edge, surface_zone
from stackview.drawings.sightline_map import coloured
from stackview.sight.bands import Kind
from stackview.window.ink import PANEL_INK, PANEL_QUIET, Slip
from stackview.window.layout import WindowPlan, place_of
from stackview.window.shown import Shown
from stackview.window.state import ViewState


def chart_picture(shown: Shown, width: int, height: int) -> NDArray[np.uint8]:
    """Colours (h, w, 3) of the counts from far away in all directions, what the surface hides hatched."""
    lines = shown.study.sightlines
    counts = {kind: map_counts(lines.bands, kind, width, height) for kind in Kind}
    picture = coloured(counts)
    middle = shown.ball.middle
    edge = surface_edge(lines.standpoint, middle, column_bearings(width))
    zone = surface_zone(lines.standpoint, middle, width, height, edge)
    rows, columns = np.arange(height)[:, None], np.arange(width)
    lined = zone & ((rows + columns) % 7 < 2)
    picture[lined] = (0.5 * picture[lined] + 0.5 * np.array([98, 103, 109])).astype(np.uint8)
    return np.asarray(picture)


def map_panel(plan: WindowPlan, state: ViewState, shown: Shown, chart: NDArray[np.uint8]) -> Slip:
    """The panel with the map: where light points show from far away, and where the eye is if it is far.

    Eyes have a place on it by the same rule as on the sightline map; of one that is near, only the
    bearing is marked, at the chart's upper and lower side.
    """
    from PIL import Image

    assert plan.map_panel is not None
    assert plan.chart is not None
    em, panel, box = plan.em, plan.map_panel, plan.chart
    slip = Slip(panel.width, panel.height, em)
    left, top = box.left - panel.left, box.top - panel.top
    lines = shown.study.sightlines
    far = lines.is_far(state.distance)
    words = "all directions, seen from far away" if far else "seen from far away; you are near"
    slip.write((left, 1.45 * em), words, size=0.88)
    slip.image.paste(Image.fromarray(chart), (left, top))
    level = top + box.height // 2
    slip.line([(left, level), (left + box.width, level)], (40, 42, 45, 120))
    for k, word in enumerate(("front", "right", "back", "left", "front")):
        x = left + k * box.width / 4
        anchor = "ls" if k == 0 else "rs" if k == 4 else "ms"
        slip.write((x, top + box.height + 1.25 * em), word, size=0.8, colour=PANEL_QUIET, anchor=anchor)
        if 0 < k < 4:
            slip.line([(x, top), (x, top + box.height)], (40, 42, 45, 50))
    for number, stop in enumerate(shown.stops[:9], 1):
        if not lines.is_far(stop.distance):
            continue
        x, y = place_of(box, stop.bearing, stop.elevation)
        half = round(0.6 * em)
        x = min(max(x, box.left + half), box.right - half)
        _diamond(slip, x - panel.left, y - panel.top, str(number))
    x, y = place_of(box, state.bearing, state.elevation)
    within = (left, top, left + box.width, top + box.height)
    if far:
        _here(slip, x - panel.left, y - panel.top, within)
    else:
        _bearing_here(slip, x - panel.left, within)
    return slip


def _bearing_here(slip: Slip, x: float, within: tuple[int, int, int, int]) -> None:
    """Two wedges at the chart's upper and lower side that point at a bearing, light on dark."""
    left, top, right, foot = within
    half, tall = 0.5 * slip.em, 0.8 * slip.em
    x = float(np.clip(x, left + half, right - half))
    for base, tip in ((top, top + tall), (foot, foot - tall)):
        wedge = [(x - half, base), (x + half, base), (x, tip)]
        slip.pen.polygon(wedge, fill=(255, 255, 255, 255), outline=(20, 20, 20, 255))


def _diamond(slip: Slip, x: float, y: float, words: str) -> None:
    r = 0.6 * slip.em
    slip.pen.polygon(
        [(x, y - r), (x + r, y), (x, y + r), (x - r, y)], fill=(27, 29, 32, 255), outline=PANEL_INK
    )
    slip.write((x, y + 0.24 * slip.em), words, size=0.68, anchor="ms")


def _here(slip: Slip, x: float, y: float, within: tuple[int, int, int, int]) -> None:
    """A ring with four arms, light on dark, so that it stands out on every colour of the map."""
    r, arm = 0.5 * slip.em, 1.0 * slip.em
    left, top, right, foot = within
    for colour, wide in (((20, 20, 20, 255), 4), ((255, 255, 255, 255), 2)):
        slip.pen.ellipse((x - r, y - r, x + r, y + r), outline=colour, width=wide)
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            arms = [
                (float(np.clip(x + dx * out, left, right)), float(np.clip(y + dy * out, top, foot)))
                for out in (r, arm)
            ]
            slip.line(arms, colour, wide)
