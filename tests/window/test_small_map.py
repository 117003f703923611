"""The small map: counts from far away, and the eye where it is."""

from dataclasses import replace

import numpy as np

from stackview.drawings.map_counts import map_counts
from stackview.drawings.sightline_map import coloured
from stackview.sight.bands import Kind
from stackview.window.layout import layout
from stackview.window.shown import EyeStop, Shown
from stackview.window.small_map import chart_picture, map_panel
from stackview.window.state import first_view, looking
from tests.window.test_panels import tidy


def test_colours_are_those_of_the_sightline_map(honeycomb: Shown) -> None:
    counts = {kind: map_counts(honeycomb.study.sightlines.bands, kind, 200, 100) for kind in Kind}
    expected, found = coloured(counts), chart_picture(honeycomb, 200, 100)
    # Above the horizon no surface is in the way, so that nothing is hatched.
    assert np.array_equal(found[:50], expected[:50])
    hatched = (found != expected).any(axis=2)
    assert hatched[50:].any()


def test_small_map_shows_the_eye_where_it_is(honeycomb: Shown) -> None:
    plan = layout((900, 640))
    assert plan.chart is not None
    assert plan.map_panel is not None
    chart = chart_picture(honeycomb, plan.chart.width, plan.chart.height)
    assert chart.shape == (plan.chart.height, plan.chart.width, 3)
    state = looking(
        first_view(honeycomb.ball), honeycomb.ball, bearing=200.0, elevation=50.0, distance=20_000.0
    )
    assert honeycomb.study.sightlines.is_far(state.distance)
    other = replace(state, bearing=100.0)
    one, two = (map_panel(plan, each, honeycomb, chart) for each in (state, other))
    tidy(one)
    changed = np.argwhere((one.pixels() != two.pixels()).any(axis=2))
    left, top = plan.chart.left - plan.map_panel.left, plan.chart.top - plan.map_panel.top
    x = (changed[:, 1] - left) / plan.chart.width * 360.0
    y = 90.0 - (changed[:, 0] - top) / plan.chart.height * 180.0
    near = [np.hypot(x - bearing, y - 50.0) < 24.0 for bearing in (200.0, 100.0)]
    assert (near[0] | near[1]).all()
    assert near[0].any()
    assert near[1].any()


def test_of_a_near_eye_the_bearing_alone_is_marked(honeycomb: Shown) -> None:
    plan = layout((900, 640))
    assert plan.chart is not None
    assert plan.map_panel is not None
    chart = chart_picture(honeycomb, plan.chart.width, plan.chart.height)
    state = replace(first_view(honeycomb.ball), bearing=200.0)
    assert not honeycomb.study.sightlines.is_far(state.distance)
    level, above, turned = (
        map_panel(plan, replace(state, **where), honeycomb, chart).pixels()
        for where in ({"elevation": 0.0}, {"elevation": 50.0}, {"bearing": 100.0})
    )
    assert np.array_equal(level, above)
    changed = np.argwhere((level != turned).any(axis=2))
    rows = changed[:, 0] - (plan.chart.top - plan.map_panel.top)
    # At the upper and the lower side, each within an em.
    assert ((rows < plan.em) | (rows > plan.chart.height - plan.em)).all()
    assert (rows < plan.em).any()
    assert (rows > plan.chart.height - plan.em).any()


def test_near_named_eyes_have_no_place_on_it(honeycomb: Shown) -> None:
    plan = layout((900, 640))
    assert plan.chart is not None
    chart = chart_picture(honeycomb, plan.chart.width, plan.chart.height)
    state = first_view(honeycomb.ball)
    far = replace(honeycomb.stops[0], distance=20_000.0)

    def drawn(*stops: EyeStop) -> np.ndarray:
        return map_panel(plan, state, replace(honeycomb, stops=stops), chart).pixels()

    assert np.array_equal(drawn(*honeycomb.stops), drawn())
    assert not np.array_equal(drawn(far), drawn())
