"""The sightlines as plain values: JSON holds them, they agree with the sightlines, and no more is claimed."""

import json
from dataclasses import replace

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.description.light_source import Diode, Emitter, Feed, Light
from stackview.findings import Finding, Level
from stackview.sight.beams import TOLERANCE
from stackview.sight.record import point_bands, points_record, record
from tests.drawings.drawn import studied
from tests.lamps import box, light_points

PARTS = (
    box("base", (-50, -50, 0), (50, 50, 10)),
    box("lid", (-50, -50, 50), (50, 50, 60)),
    box("pane", (-50, -50, 10), (50, -46, 50), "clear"),
)
POINTS = light_points([(-10, 0, 25), (10, 0, 25), (0, 5, 30)], [(0, -1, 0), (1, 0, 0), (0, 1, 0)])


@pytest.fixture(scope="module")
def made():  # type: ignore[no-untyped-def]
    lines, stack = studied(PARTS, POINTS, eyes=(Eye("level", 1000.0, 30.0),), bearings=72)
    light = Light(
        "spots",
        Diode("base", "up", (0.0, 0.0), 0.0, 0.0, 0.0),
        Emitter(120.0, (1.0, 1.0), 2700.0, None, None),
        Feed(5.0, None),
    )
    return lines, replace(stack, lamp=replace(stack.lamp, lights=(light,)))


def test_json_gives_it_back_whole(made) -> None:  # type: ignore[no-untyped-def]
    lines, stack = made
    finding = Finding("check", Level.NOTE, "lamp", "it is so")
    whole = {
        **record(stack, lines, (finding,)),
        "points": points_record(stack, lines),
        "own": list(point_bands(lines)),
    }
    assert json.loads(json.dumps(whole, allow_nan=False)) == whole
    assert whole["findings"] == [finding.record()]


def test_numbers_are_those_of_the_sightlines(made) -> None:  # type: ignore[no-untyped-def]
    lines, stack = made
    found = record(stack, lines, ())
    assert (found["light_points"], found["height_mm"], found["bearings"]) == (3, 60.0, 72)
    assert found["share_of_sphere_bare"] == lines.share_bare
    assert found["share_of_sphere_shown"] == lines.share_shown
    assert found["glazed_tracing"]["tolerance_deg"] == TOLERANCE
    (eye,), (seen,) = found["eyes"], lines.eyes
    assert eye["shown_worst"] >= max(eye[f"{word}_worst"] for word in ("bare", "glazed", "veiled"))
    # The mean of all that show is the sum of the means.
    assert eye["shown_mean"] == pytest.approx(
        sum(eye[f"{word}_mean"] for word in ("bare", "glazed", "veiled"))
    )
    assert eye["worst_bearing_deg"] == seen.bearings[seen.worst]


def test_every_band_has_its_point_its_class_and_its_edges(made) -> None:  # type: ignore[no-untyped-def]
    lines, _ = made
    rows = list(point_bands(lines))
    assert len(rows) == len(lines.bands)
    assert {row["light_point"] for row in rows} <= {0, 1, 2}
    assert {"bare", "glazed"} <= {row["class"] for row in rows}
    for row in rows:
        assert row["low_deg"] < row["high_deg"]
        assert all(isinstance(edge, str) and edge for edge in row["bounded_by"])


def test_merged_bands_never_hold_more_than_all_points(made) -> None:  # type: ignore[no-untyped-def]
    lines, stack = made
    for band in record(stack, lines, ())["bands"]:
        assert 1 <= band["bare"] <= 3
        assert band["low_deg"] < band["high_deg"]


def test_points_stand_where_they_are(made) -> None:  # type: ignore[no-untyped-def]
    lines, stack = made
    rows = points_record(stack, lines)
    at = np.array([[row["x_mm"], row["y_mm"], row["z_mm"]] for row in rows])
    assert at == pytest.approx(np.asarray(POINTS.centres))
    assert {row["light"] for row in rows} == {"spots"}
