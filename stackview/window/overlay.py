"""Panels and marks over the lamp, each drawn anew only when what it shows has changed."""

import time
from collections.abc import Callable, Hashable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.sight.causes import Cause
from stackview.window import panels
from stackview.window.cutting import kept_points
from stackview.window.ink import Slip
from stackview.window.layout import WindowPlan, layout
from stackview.window.marks import Marks, bands, marks_joined, places_on_screen, rings
from stackview.window.onlooker import PlatesHere
from stackview.window.reading import Readout, causes_here, edge_lines, reading
from stackview.window.shown import Shown, display_camera
from stackview.window.small_map import chart_picture, map_panel
from stackview.window.stage import FlatPicture, Stage
from stackview.window.state import ViewState

SLOW = 0.03
"""Edges that would have to grow are looked for while the eye moves only if that takes less than this [s]."""
NAMES = ("readout", "plates", "growth", "sliders", "hint", "map", "message", "error", "help")


@dataclass(frozen=True, slots=True, eq=False)
class PlacedPanel:
    """A panel as drawn, with its lower left corner in the window [px, up from the foot]."""

    slip: Slip
    left: int
    low: int


class Overlay:
    """Everything that is written over the lamp."""

    def __init__(self, stage: Stage, shown: Shown) -> None:
        self.stage = stage
        self.marks = stage.flat()
        self.panels: dict[str, FlatPicture] = {name: stage.panel() for name in NAMES}
        self.drawn: dict[str, Hashable] = {}
        self.laid: dict[str, PlacedPanel] = {}
        self.found: Readout | None = None
        self.growth_took = 0.0
        self.grown: tuple[Hashable, tuple[Cause, ...]] = ((), ())
        self.plates: PlatesHere | None = None
        self.adopt(shown)

    def adopt(self, shown: Shown) -> None:
        """Take another lamp."""
        self.shown = shown
        self.drawn.clear()
        self.chart: tuple[tuple[int, int], NDArray[np.uint8]] | None = None
        self.grown = ((), ())
        self.plates = None

    @property
    def plan(self) -> WindowPlan:
        """Where everything lies at the window's present size."""
        return layout(self.stage.size)

    def show(self, state: ViewState, *, quick: bool = False) -> None:
        """Bring panels and marks up to date; ``quick`` leaves what takes long for when the hand rests."""
        plan, shown = self.plan, self.shown
        found = self.found = reading(state, shown)
        total, name = len(shown.study.sightlines.points), shown.study.lamp.name
        where = (plan.size, state.bearing, state.elevation, state.distance, state.eye)
        self._put(
            "readout",
            (where, state.units, state.whole),
            lambda: panels.readout(plan, state, found, name, total),
            plan.readout.left,
            plan.readout.top,
        )
        self._growth(plan, state, found, quick, self._plates(plan, state))
        if plan.sliders is not None:
            key = (plan.size, state.light, state.spread, state.cut)
            box = plan.sliders
            self._put("sliders", key, lambda: panels.sliders(plan, state), box.left, box.top)
        else:
            self._hide("sliders")
        self._put("hint", plan.size, lambda: panels.hint(plan), plan.hint.left, plan.hint.top)
        self._map(plan, state)
        self._words(plan, state)
        self._marks(state, found)

    def _plates(self, plan: WindowPlan, state: ViewState) -> int:
        """Put up what is known of the acrylic from here; returns where the next panel begins."""
        top, plates = plan.readout.foot + round(0.7 * plan.em), self.plates
        # Nothing is said rather than something about where the eye was before.
        if plates is None or plates.where != (state.bearing, state.elevation, state.distance):
            self._hide("plates")
            return top
        slip = panels.plates(plan, plates)
        foot = plan.sliders.top if plan.sliders is not None else plan.size[1]
        if top + slip.height > foot:
            self._hide("plates")
            return top
        self._put("plates", (plan.size, plates), lambda: slip, plan.readout.left, top)
        return top + slip.height + round(0.7 * plan.em)

    def _growth(self, plan: WindowPlan, state: ViewState, found: Readout, quick: bool, top: int) -> None:
        where = (state.bearing, state.elevation, state.distance)
        fresh = self.grown[0] == where
        if not state.grow or (quick and not fresh and self.growth_took > SLOW):
            # Nothing is said rather than something about where the eye was before.
            self.grown = self.grown if fresh else ((), ())
            self._hide("growth")
            return
        if not fresh:
            begun = time.perf_counter()
            self.grown = (where, causes_here(state, self.shown, found))
            self.growth_took = time.perf_counter() - begun
        causes = self.grown[1]
        self._put(
            "growth",
            (plan.size, where, state.units, top),
            lambda: panels.growth(plan, causes, len(found.bare)),
            plan.readout.left,
            top,
        )

    def _map(self, plan: WindowPlan, state: ViewState) -> None:
        if plan.map_panel is None or plan.chart is None:
            self._hide("map")
            return
        size = (plan.chart.width, plan.chart.height)
        if self.chart is None or self.chart[0] != size:
            self.chart = (size, chart_picture(self.shown, *size))
        chart = self.chart[1]
        key = (plan.size, state.bearing, state.elevation)
        box = plan.map_panel
        self._put("map", key, lambda: map_panel(plan, state, self.shown, chart), box.left, box.top)

    def _words(self, plan: WindowPlan, state: ViewState) -> None:
        if state.error:
            box = plan.notice
            self._put(
                "error", (plan.size, state.error), lambda: panels.error(plan, state.error), box.left, box.top
            )
        else:
            self._hide("error")
        if state.message:
            slip = panels.message(plan, state.message)
            left = plan.notice.left + (plan.notice.width - slip.width) // 2
            top = plan.notice.foot - slip.height
            self._put("message", (plan.size, state.message), lambda: slip, left, top)
        else:
            self._hide("message")
        if state.help:
            eyes = tuple(stop.name for stop in self.shown.stops)
            self._put("help", plan.size, lambda: panels.help_sheet(plan, eyes), plan.help.left, plan.help.top)
        else:
            self._hide("help")

    def _marks(self, state: ViewState, found: Readout) -> None:
        marks = marks_of(state, self.shown, found, self.grown[1] if state.grow else (), self.plan)
        self.marks.put(marks.corners, marks.triangles, marks.colours)

    def _put(self, name: str, key: Hashable, draw: Callable[[], Slip], left: int, top: int) -> None:
        if self.drawn.get(name) == key:
            return
        self.drawn[name] = key
        slip: Slip = draw()
        low = self.stage.size[1] - top - slip.height
        self.laid[name] = PlacedPanel(slip, left, low)
        self.panels[name].put(slip.pixels(), left, low)

    def _hide(self, name: str) -> None:
        self.drawn.pop(name, None)
        self.laid.pop(name, None)
        self.panels[name].hide()


def marks_of(
    state: ViewState, shown: Shown, found: Readout, causes: tuple[Cause, ...], plan: WindowPlan
) -> Marks:
    """Rings round the bare light points, and bands along the edges that would have to grow."""
    camera = display_camera(state, shown, plan.size)
    parts: list[Marks] = []
    if causes:
        ends, part = edge_lines(shown, tuple(cause.edge for cause in causes))
        place = {
            placed.name: state.spread * up
            for placed, up in zip(shown.setting.placed, shown.lift, strict=True)
        }
        lift = np.array([place.get(name, 0.0) for name in shown.study.sightlines.scene.names])
        ends = ends.copy()
        ends[:, :, 2] += lift[part][:, None]
        at = places_on_screen(camera, ends.reshape(-1, 3)).reshape(-1, 2, 2)
        parts.append(bands(at, _far_side(ends, camera.eye)))
    if state.rings and len(found.bare):
        bare = found.bare[kept_points(state, shown)[found.bare]]
        centres = shown.study.light.points.centres[bare].copy()
        centres[:, 2] += state.spread * shown.point_lift[bare]
        parts.append(rings(places_on_screen(camera, centres), 0.62 * plan.em))
    return marks_joined(parts)


def _far_side(ends: NDArray[np.float64], eye: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether lines lie on the far side of the axis from the eye (n,)."""
    middle = ends.mean(axis=1)
    return np.asarray((middle[:, :2] @ eye[:2]) < 0)
