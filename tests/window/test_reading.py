"""The readout: the same counts as the table, from exactly where the eye is."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from stackview.sight.bands import HIDDEN, Kind
from stackview.window.keys import after_key
from stackview.window.reading import causes_here, edge_lines, next_band, reading
from stackview.window.shown import Shown
from stackview.window.state import after_slider, eye_of, first_view, looking


@pytest.mark.parametrize("lamp", ["honeycomb", "moor_drum"])
def test_a_named_eye_reads_as_in_the_table(lamp: str, request: pytest.FixtureRequest) -> None:
    shown: Shown = request.getfixturevalue(lamp)
    assert shown.study.sightlines.eyes
    for number, seen in enumerate(shown.study.sightlines.eyes, 1):
        state = after_key(first_view(shown.ball), str(number), shown)
        found = reading(state, shown)
        assert found.eye == seen.eye.name
        assert found.kinds.tolist() == seen.kind[:, seen.worst].tolist()
        for kind in Kind:
            assert found.count(kind) == seen.counts(kind)[seen.worst]
        assert found.height == pytest.approx(seen.eye.height)


def test_counts_add_up_and_bare_ones_are_named(honeycomb: Shown) -> None:
    state = first_view(honeycomb.ball)
    for bearing in range(0, 360, 30):
        found = reading(looking(state, honeycomb.ball, bearing=bearing, elevation=3.0), honeycomb)
        assert sum(found.count(kind) for kind in (HIDDEN, *Kind)) == len(honeycomb.study.light.points)
        assert len(found.bare) == found.count(Kind.BARE)


def test_what_it_stands_on_is_said_to_be_in_the_way(honeycomb: Shown) -> None:
    state = first_view(honeycomb.ball)
    assert not reading(state, honeycomb).under
    below = reading(looking(state, honeycomb.ball, elevation=-75.0), honeycomb)
    assert below.under
    assert below.count(HIDDEN) == len(honeycomb.study.light.points)


def test_spread_and_cut_count_for_the_assembled_lamp(honeycomb: Shown) -> None:
    state = first_view(honeycomb.ball)
    plain = reading(state, honeycomb)
    for changed in (after_slider(state, "spread", 0.7), after_slider(state, "cut", 0.5)):
        found = reading(changed, honeycomb)
        assert not found.whole
        assert np.array_equal(found.kinds, plain.kinds)


def test_causes_at_a_named_eye_are_those_of_the_table(honeycomb: Shown) -> None:
    for number, expected in enumerate(honeycomb.study.sightlines.causes, 1):
        state = after_key(first_view(honeycomb.ball), str(number), honeycomb)
        found = causes_here(state, honeycomb, reading(state, honeycomb))
        assert [(one.edge, one.points) for one in found] == [(one.edge, one.points) for one in expected]
        assert [one.between for one in found] == [one.between for one in expected]


def test_edge_lines_lie_on_the_part_they_are_named_after(honeycomb: Shown) -> None:
    name = next(cause.edge for found in honeycomb.study.sightlines.causes for cause in found)
    ends, part = edge_lines(honeycomb, (name,))
    assert len(ends)
    owner = name.split(",")[0]
    assert {honeycomb.study.sightlines.scene.names[k] for k in part.tolist()} == {owner}
    solid = honeycomb.study.stack.part(owner).solid
    low, high = solid.vertices.min(axis=0) - 1e-6, solid.vertices.max(axis=0) + 1e-6
    assert ((ends >= low) & (ends <= high)).all()
    assert len(edge_lines(honeycomb, ("no such edge",))[0]) == 0


def test_bare_bands_are_stepped_through_upwards_then_round(honeycomb: Shown) -> None:
    state = replace(first_view(honeycomb.ball), bearing=0.0, elevation=-89.0)
    seen: list[tuple[float, float]] = []
    for _ in range(40):
        band = next_band(state, honeycomb)
        assert band is not None
        state = replace(state, bearing=band.bearing, elevation=band.elevation)
        # It never stops where the count is nought.
        assert reading(state, honeycomb).count(Kind.BARE) == band.count > 0
        seen.append((band.bearing, band.elevation))
    bearings = [bearing for bearing, _ in seen]
    assert len(set(bearings)) > 5
    for (b, e), (b2, e2) in itertools.pairwise(seen):
        assert e2 > e if b2 == b else (b2 - b) % 360.0 >= 9.0


def test_from_far_along_a_wide_band_bare_points_show(honeycomb: Shown) -> None:
    # At 30 m lines from anywhere in the lamp are parallel to 0.4°: bands wider than that agree.
    bare = honeycomb.study.sightlines.bare
    for number in np.flatnonzero(bare.high - bare.low > 1.5)[::40].tolist():
        far = looking(
            first_view(honeycomb.ball),
            honeycomb.ball,
            bearing=float(honeycomb.study.sightlines.bands.bearings[bare.bearing[number]]),
            elevation=float(bare.low[number] + bare.high[number]) / 2.0,
            distance=30_000.0,
        )
        if eye_of(far, honeycomb.ball)[2] > 0:
            assert reading(far, honeycomb).count(Kind.BARE) >= 1
