"""Light followed through clear bodies, against plane geometry and closed forms of lenses."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.description.material import Finish
from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.paths import LOST, MOST_FACES, RAYS_TOGETHER, LightPaths, faces_met, followed
from stackview.sight.refraction import INDEX
from stackview.sight.scene import scene_of
from stackview.stack.placed import Placed
from tests.lamps import box, disc


def way(bearing: float, elevation: float) -> np.ndarray:
    turn, rise = np.radians(bearing), np.radians(elevation)
    return np.array([np.sin(turn) * np.cos(rise), -np.cos(turn) * np.cos(rise), np.sin(rise)])


def sent(parts: tuple[Placed, ...], places, ways) -> LightPaths:  # type: ignore[no-untyped-def]
    bodies = clear_bodies(scene_of(parts))
    assert bodies is not None
    return followed(bodies, np.array(places, float).reshape(-1, 3), np.array(ways, float).reshape(-1, 3))


PANE = box("pane", [100.0, -500.0, -500.0], [106.0, 500.0, 500.0], "clear")
PLATE = box("plate", [10.0, -200.0, 0.0], [110.0, 200.0, 5.0], "clear")


@settings(max_examples=60, deadline=None)
@given(st.floats(-60.0, 60.0), st.floats(35.0, 145.0))
def test_a_slab_keeps_the_direction_and_shifts_the_ray(elevation: float, bearing: float) -> None:
    # Sideways shift of a plane-parallel plate: t·sin(θ − θ')/cos θ' (Hecht, Optics, §4).
    d = way(bearing, elevation)
    found = sent((PANE,), [0.0, 0.0, 0.0], d)
    assert found.faces[0] != 0
    assert found.directions[0] == pytest.approx(d, abs=1e-9)
    angle = np.arccos(d[0])
    inside = np.arcsin(np.sin(angle) / INDEX)
    shift = found.places[0] - d * (found.places[0] @ d)
    assert np.linalg.norm(shift) == pytest.approx(6.0 * np.sin(angle - inside) / np.cos(inside), abs=1e-6)


def test_straight_on_a_slab_changes_nothing() -> None:
    found = sent((PANE,), [0.0, 1.0, 2.0], [1.0, 0.0, 0.0])
    assert found.places[0] == pytest.approx([106.0, 1.0, 2.0])
    assert found.directions[0] == pytest.approx([1.0, 0.0, 0.0])


@settings(max_examples=60, deadline=None)
@given(st.floats(-75.0, 75.0), st.floats(88.0, 92.0))
def test_by_the_edge_in_by_the_far_edge_out_never_by_a_dry_face(elevation: float, bearing: float) -> None:
    # n > √2: light in a plate that came in by its upright edge meets top and underside beyond the
    # critical angle, so that it is piped to the far edge and leaves at plus or minus its elevation.
    start = np.array([9.9, 0.0, 2.5])
    found = sent((PLATE,), start, way(bearing, elevation))
    rise = np.degrees(np.arcsin(found.directions[0, 2]))
    bounces = int(
        np.floor((2.5 + 100.0 * np.tan(np.arcsin(np.sin(np.radians(abs(elevation))) / INDEX))) / 5.0)
    )
    if bounces + 2 > MOST_FACES:
        return
    assert found.faces[0] != 0
    assert found.places[0, 0] == pytest.approx(110.0)
    assert abs(rise) == pytest.approx(abs(elevation), abs=1e-6)


def test_bounces_decide_whether_it_leaves_upwards_or_down() -> None:
    # In by the middle of the edge at elevation e; inside the tangent is tan e' (sin e' = sin e/1.49),
    # and every 5 mm of climb turns the sign.
    for elevation in (5.0, 12.0, 25.0, 40.0, 60.0):
        inside = np.tan(np.arcsin(np.sin(np.radians(elevation)) / INDEX))
        bounces = int(np.floor((2.5 + 0.1 * np.tan(np.radians(elevation)) + 100.0 * inside) / 5.0))
        found = sent((PLATE,), [9.9, 0.0, 2.5], way(90.0, elevation))
        rise = np.degrees(np.arcsin(found.directions[0, 2]))
        assert rise == pytest.approx(elevation if bounces % 2 == 0 else -elevation, abs=1e-6)


def test_level_with_the_middle_of_a_plate_it_goes_straight_on() -> None:
    found = sent((PLATE,), [0.0, 0.0, 2.5], [1.0, 0.0, 0.0])
    assert found.directions[0] == pytest.approx([1.0, 0.0, 0.0])
    assert found.places[0] == pytest.approx([110.0, 0.0, 2.5])


def test_by_the_top_in_never_out_by_an_upright_edge() -> None:
    # The other way round of the same: what came in by the top leaves by top or underside.
    places = np.column_stack([np.linspace(10.5, 108.5, 200), np.zeros(200), np.full(200, 6.0)])
    found = sent((PLATE,), places, np.tile(way(90.0, -40.0), (200, 1)))
    out = found.faces != 0
    assert out.all()
    assert np.all(np.isin(np.round(found.places[:, 2], 6), (0.0, 5.0)))


def test_a_block_ends_the_path_before_and_behind_the_plate() -> None:
    straight = ([0.0, 0.0, 2.5], [1.0, 0.0, 0.0])
    for low, high in (([5, -9, -9], [6, 9, 9]), ([150, -9, -9], [151, 9, 9])):
        assert sent((PLATE, box("block", low, high)), *straight).faces[0] == 0
    assert sent((PLATE, box("block", [150, -9, 9], [151, 9, 29])), *straight).faces[0] != 0


def test_a_sanded_face_or_an_opal_body_ends_it() -> None:
    straight = ([0.0, 0.0, 2.5], [1.0, 0.0, 0.0])
    sanded = box("plate", [10, -200, 0], [110, 200, 5], "clear", Finish(edge="sanded"))
    assert clear_bodies(scene_of((sanded,))) is not None
    assert sent((sanded,), *straight).faces[0] == 0
    # Only the faces that it meets: sanded top and underside are not met along the middle.
    level = box("plate", [10, -200, 0], [110, 200, 5], "clear", Finish(top="sanded", underside="sanded"))
    assert sent((level,), *straight).faces[0] != 0
    assert sent((level,), [9.9, 0.0, 2.5], way(90.0, 30.0)).faces[0] == 0
    assert sent((PLATE, box("opal", [150, -9, -9], [151, 9, 9], "opal")), *straight).faces[0] == 0


def test_what_meets_no_clear_body_does_not_count() -> None:
    assert sent((PLATE,), [0.0, 0.0, 2.5], [-1.0, 0.0, 0.0]).faces[0] == 0


def test_wood_that_touches_a_plate_is_taken_as_dry() -> None:
    under = box("wood", [10, -200, -10], [110, 200, 0])
    alone = sent((PLATE,), [9.9, 0.0, 2.5], way(90.0, 20.0))
    touching = sent((PLATE, under), [9.9, 0.0, 2.5], way(90.0, 20.0))
    assert touching.directions == pytest.approx(alone.directions)
    # What leaves the plate into the wood ends there.
    assert sent((PLATE, under), [50.0, 0.0, 20.0], way(90.0, -60.0)).faces[0] == 0


def test_plates_that_touch_pass_light_through_their_film_of_air() -> None:
    second = box("second", [10, -200, -5], [110, 200, 0], "clear")
    one = box("one", [10, -200, -5], [110, 200, 5], "clear")
    d, start = way(90.0, -50.0), [20.0, 0.0, 30.0]
    apart, together = sent((PLATE, second), start, d), sent((one,), start, d)
    assert apart.directions == pytest.approx(together.directions)
    assert apart.places == pytest.approx(together.places, abs=1e-5)
    # By the edge in, the film reflects totally: it stays in its own plate.
    found = sent((PLATE, second), [9.9, 0.0, 2.5], way(90.0, 30.0))
    assert 0.0 < found.places[0, 2] < 5.0


def test_a_round_edge_focuses_as_a_cylinder_does() -> None:
    # Paraxial focus of a solid cylinder (as of a ball lens): n·R/(2(n − 1)) from its middle.
    radius = 50.0
    lens = disc("lens", radius, 0.0, 10.0, "clear", facets=96)
    focus = INDEX * radius / (2.0 * (INDEX - 1.0))
    offsets = np.array([-2.0, -1.0, -0.5, 0.5, 1.0, 2.0])
    places = np.column_stack([np.full(6, -200.0), offsets, np.full(6, 5.0)])
    found = sent((lens,), places, np.tile([1.0, 0.0, 0.0], (6, 1)))
    assert (found.faces != 0).all()
    meets = found.places[:, 0] - found.directions[:, 0] * found.places[:, 1] / found.directions[:, 1]
    assert meets == pytest.approx(np.full(6, focus), rel=0.01)
    assert len(np.unique(found.faces)) == 1, "one curve is one surface, however many facets"


def test_a_prism_of_few_sides_stays_a_prism() -> None:
    # Twelve flats of 26 mm are no curve: a ray square to one goes straight on.
    prism = disc("prism", 50.0, 0.0, 10.0, "clear", facets=12)
    turn = np.radians(15.0)
    d = np.array([np.cos(turn), np.sin(turn), 0.0])
    aside = np.array([-np.sin(turn), np.cos(turn), 0.0])
    found = sent((prism,), -200.0 * d + 6.0 * aside + [0.0, 0.0, 5.0], d)
    assert found.directions[0] == pytest.approx(d, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.floats(-60.0, 60.0), st.floats(50.0, 130.0), st.floats(0.3, 4.7))
def test_the_way_back_is_the_way_there(elevation: float, bearing: float, height: float) -> None:
    # Reciprocity: light turned round where it left meets the same faces and passes the start.
    parts = (PLATE, box("pane", [130, -300, -100], [134, 300, 100], "clear"))
    start, d = np.array([4.0, 3.0, height]), way(bearing, elevation)
    there = sent(parts, start, d)
    if there.faces[0] == 0:
        return
    back = sent(parts, there.places + 5.0 * there.directions, -there.directions)
    assert back.faces[0] != 0
    assert back.directions[0] == pytest.approx(-d, abs=1e-6)
    offset = start - back.places[0]
    assert np.linalg.norm(np.cross(offset, d)) == pytest.approx(0.0, abs=1e-3)


def test_light_trapped_in_a_plate_is_given_up() -> None:
    # Square to no edge: beyond the critical angle at all six faces of a cube it never leaves.
    cube = box("cube", [-10, -10, -10], [10, 10, 10], "clear")
    d = np.array([[1.0, 1.03, 0.97]]) / np.sqrt(1.0 + 1.03**2 + 0.97**2)
    assert sent((cube,), [[0.1, 0.2, 0.3]], d).faces[0] == 0


def test_no_light_no_paths() -> None:
    assert len(sent((PLATE,), np.zeros((0, 3)), np.zeros((0, 3))).faces) == 0


def edge_on(elevation: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rays into the near edge of the plate: where from, and whither (r, 3)."""
    starts = np.broadcast_to([9.9, 0.0, 2.5], (len(elevation), 3))
    return starts, np.array([way(90.0, one) for one in elevation])


def test_faces_are_counted_with_their_order() -> None:
    # In by one edge and out by the other, and totally reflected between: by tan θ' of the way along, over 5 mm.
    elevation = np.linspace(-80.0, 80.0, 41)
    found = sent((PLATE,), *edge_on(elevation))
    rise = np.sin(np.radians(elevation)) / INDEX
    up = 2.5 + 0.1 * np.tan(np.radians(elevation)) + 100.0 * rise / np.sqrt(1.0 - rise**2)
    through = np.abs(0.1 * np.tan(np.radians(elevation))) < 2.5
    assert np.array_equal(faces_met(found.faces)[through], 2 + np.abs(np.floor(up / 5.0))[through])


def test_rays_that_meet_more_faces_than_allowed_are_given_up() -> None:
    bodies = clear_bodies(scene_of((PLATE,)))
    assert bodies is not None
    starts, ways = edge_on(np.linspace(-80.0, 80.0, 41))
    free = followed(bodies, starts, ways)
    count = faces_met(free.faces)
    assert count.max() > 12
    for short in (0, 1):
        most = np.where(count > 0, count - np.uint64(short), count)
        held = followed(bodies, starts, ways, most=most)
        assert np.array_equal(held.faces, np.zeros_like(free.faces) if short else free.faces)
        assert np.array_equal(held.ends[count > 0], np.full_like(free.ends, LOST)[count > 0]) is bool(short)


def test_rays_do_not_depend_on_those_that_go_with_them() -> None:
    bodies = clear_bodies(scene_of((PLATE, PANE)))
    assert bodies is not None
    starts, ways = edge_on(np.linspace(-85.0, 85.0, RAYS_TOGETHER + 700))
    every = followed(bodies, starts, ways)
    for chosen in (slice(0, 60), slice(RAYS_TOGETHER - 30, RAYS_TOGETHER + 30), slice(-60, None)):
        some = followed(bodies, starts[chosen], ways[chosen])
        assert np.array_equal(some.faces, every.faces[chosen])
        assert np.array_equal(some.places, every.places[chosen])
        assert np.array_equal(some.directions, every.directions[chosen])
        assert np.array_equal(some.ends, every.ends[chosen])
