"""The sightlines of a lamp: shares in closed form, every point asked, steps that add up, each part worked out once."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import FrozenInstanceError
from pathlib import Path

import numpy as np
import pytest

from stackview.description.lamp import Eye, Lamp
from stackview.description.reading import read_lamp
from stackview.errors import StackviewError
from stackview.kept import is_kept
from stackview.light.layout import lay_out
from stackview.light.points import LightPoints
from stackview.sight.bands import Kind
from stackview.sight.eyes import look_straight
from stackview.sight.summary import Sightlines, sightlines
from stackview.stack.assembly import Stack, assemble
from stackview.stack.seating import Standing
from tests.lamps import box, disc, light_points, wound

DEMOS = Path(__file__).parents[2] / "demos"
EYES = (Eye("level", 1000.0, 30.0), Eye("above", 500.0, 900.0))


def stack(*parts, eyes=EYES):  # type: ignore[no-untyped-def]
    return Stack(Lamp("test", "mm", (), eyes=eyes), parts, Standing(), 60.0, 0.0)


def lines(*parts, points, bearings: int = 360) -> Sightlines:  # type: ignore[no-untyped-def]
    return sightlines(stack(*parts), points, bearings=bearings)


def test_a_point_that_looks_up_from_a_plate_shows_from_half_of_all_directions() -> None:
    found = lines(disc("plate", 80.0, -5.0, 0.0), points=light_points([(0, 0, 0)], [(0, 0, 1)]))
    assert found.share_bare == pytest.approx(0.5, abs=1e-6)
    assert found.share_shown == found.share_bare


def test_a_lid_takes_its_cap_of_the_sphere() -> None:
    # A disc of radius r, h above the point, hides the cap of half-angle atan(r/h): (1 − cos)/2.
    lid = disc("lid", 60.0, 40.0, 45.0, facets=720)
    found = lines(lid, points=light_points([(0, 0, 0)], [(0, 0, 1)]))
    cap = (1.0 - np.cos(np.arctan2(60.0, 40.0))) / 2.0
    assert found.share_bare == pytest.approx(0.5 - cap, abs=2e-4)


def test_behind_opal_nothing_is_bare_and_all_still_shows() -> None:
    lid = disc("lid", 5000.0, 40.0, 45.0, "opal")
    found = lines(lid, points=light_points([(0, 0, 0)], [(0, 0, 1)]))
    assert found.share_shown == pytest.approx(0.5, abs=1e-4)
    assert found.share_bare == pytest.approx(40.0 / 5000.0 / 2.0, rel=0.02)
    assert set(np.unique(found.bands.kind)) <= {int(Kind.BARE), int(Kind.VEILED)}


def test_everything_is_told_for_every_eye() -> None:
    found = lines(box("base", (-50, -50, -10), (50, 50, 0)), points=wound(24, 5.0, 40.0), bearings=72)
    assert [seen.eye for seen in found.eyes] == list(EYES)
    assert len(found.causes) == len(found.eyes)
    for seen in found.eyes:
        assert seen.kind.shape == (24, 72)


def test_a_lamp_without_light_shows_nothing() -> None:
    found = lines(box("base", (-50, -50, -10), (50, 50, 0)), points=light_points([], []), bearings=72)
    assert (found.share_bare, found.share_shown, found.cut_offs) == (0.0, 0.0, ())


@pytest.mark.parametrize("eyes", [EYES, ()])
def test_progress_adds_up_to_four_steps_for_each_light_point(eyes: tuple[Eye, ...]) -> None:
    given, points, told = (
        stack(box("base", (-50, -50, -10), (50, 50, 0)), eyes=eyes),
        wound(24, 5.0, 40.0),
        [],
    )
    sightlines(given, points, bearings=36, progress=told.append)
    assert sum(told) == 4 * len(points)


@pytest.fixture(scope="module")
def drum() -> tuple[Stack, LightPoints]:
    stack = assemble(read_lamp(DEMOS / "moor-drum.toml"))
    return stack, lay_out(stack).points


def test_eyes_alone_work_out_no_bands(drum: tuple[Stack, LightPoints]) -> None:
    lines = sightlines(*drum, bearings=72)
    assert repr(lines).startswith("Sightlines(")
    assert not is_kept(lines, "scene")
    assert len(lines.eyes) == len(drum[0].lamp.eyes)
    assert not is_kept(lines, "_along_lines")
    assert lines.eyes is lines.eyes


def test_with_progress_the_same_is_found_and_every_step_counted(drum: tuple[Stack, LightPoints]) -> None:
    done: list[int] = []
    now, later = sightlines(*drum, bearings=72, progress=done.append), sightlines(*drum, bearings=72)
    assert sum(done) == 4 * len(drum[1])
    assert np.array_equal(now.bands.low, later.bands.low)
    assert now.share_bare == later.share_bare
    assert now.cut_offs == later.cut_offs
    assert now.causes == later.causes


def test_corners_are_asked_only_for_the_eyes_and_change_no_kind(drum: tuple[Stack, LightPoints]) -> None:
    lines = sightlines(*drum)
    middles = lines.from_middles
    _ = lines.causes
    assert not is_kept(lines, "eyes")
    for one, whole in zip(middles, lines.eyes, strict=True):
        assert whole.eye == one.eye
        assert np.array_equal(whole.kind, one.kind)
        assert not one.part_bare.any()
    assert any(whole.part_bare.any() for whole in lines.eyes)


def test_two_threads_are_given_the_same_value(drum: tuple[Stack, LightPoints]) -> None:
    lines = sightlines(*drum, bearings=72)
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda _: lines.eyes, range(8)))
    assert all(one is found[0] for one in found)


def test_a_map_of_its_own_is_for_an_eye_or_a_distance(drum: tuple[Stack, LightPoints]) -> None:
    found = sightlines(*drum)
    reader = drum[0].lamp.eyes[0]
    assert found.own_distance(reader.name.upper(), None) == reader.distance
    assert found.own_distance(None, 900) == 900.0
    for eye, distance, told in (
        (reader.name, 900.0, "an eye or a distance, not both"),
        ("sofa", None, "none of that name"),
        (None, 10.0, "inside the lamp"),
    ):
        with pytest.raises(StackviewError, match=told):
            found.own_distance(eye, distance)
    with pytest.raises(StackviewError, match="inside the lamp"):
        found.room_round(10.0)


def test_nothing_can_be_set(drum: tuple[Stack, LightPoints]) -> None:
    with pytest.raises(FrozenInstanceError):
        sightlines(*drum).points = drum[1]  # type: ignore[misc]


@pytest.mark.parametrize("demo", ["moor-drum", "honeycomb"])
def test_what_eyes_see_straight_is_what_they_see_but_for_glazed(demo: str) -> None:
    stack = assemble(read_lamp(DEMOS / f"{demo}.toml"))
    points = lay_out(stack).points
    lines = sightlines(stack, points.middles(), bearings=72)
    quick = look_straight(stack, points, bearings=72)
    for one, known in zip(quick, lines.eyes, strict=True):
        assert one.eye == known.eye
        assert np.array_equal(one.kind == Kind.BARE, known.kind == Kind.BARE)
        traced = known.kind == Kind.GLAZED
        assert np.array_equal(one.kind[~traced], known.kind[~traced])
        assert not (one.kind == Kind.GLAZED).any()
