"""The small map: counts from far away, and the eye where it is."""

from dataclasses import replace

import numpy as np

from stackview.drawings.map_counts import map_counts
from stackview.drawings.sightline_map import coloured
from stackview.sight.bands import Kind
from stackview.window.layout import layout
from stackview.window.shown import Shown
from stackview.window.small_map import chart_picture, map_panel
from stackview.window.state import first_view
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
    state = replace(first_view(honeycomb.ball), bearing=200.0, elevation=50.0)
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
