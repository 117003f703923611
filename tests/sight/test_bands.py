"""Open bands against hand-derived cut-offs and against an independent ray caster."""

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from trimesh.ray.ray_pyembree import RayMeshIntersector

from stackview.description.material import Finish
from stackview.sight.bands import OWN_BACK, POLE, Bands, Kind, all_bands, even_bearings
from stackview.sight.scene import scene_of
from stackview.stack.placed import Placed
from tests.lamps import box, disc, light_points, ring, tiers, wound

UP = [[0.0, 0.0, 1.0]]
FRONT = [[0.0, -1.0, 0.0]]


def bands_of(placed: tuple[Placed, ...], points, bearings=None) -> Bands:  # type: ignore[no-untyped-def]
    around = even_bearings(72) if bearings is None else np.array(bearings, dtype=float)
    return all_bands(scene_of(placed), points, around)


def rows(bands: Bands, bearing: int = 0) -> list[tuple[float, float, str]]:
    own = np.flatnonzero(bands.bearing == bearing)
    return [(float(bands.low[i]), float(bands.high[i]), Kind(int(bands.kind[i])).word) for i in own]


def angle(rise: float, run: float) -> float:
    return float(np.degrees(np.arctan2(rise, run)))


def test_nothing_in_the_way_shows_the_whole_front() -> None:
    bands = bands_of((), light_points([[0, 0, 50]], FRONT), [0, 60, 120, 180])
    assert bands.bearing.tolist() == [0, 1]
    assert bands.low == pytest.approx([-90, -90])
    assert bands.high == pytest.approx([90, 90])
    assert set(bands.low_edge.tolist() + bands.high_edge.tolist()) <= {POLE, OWN_BACK}


def test_a_point_facing_up_ends_at_its_own_level() -> None:
    bands = bands_of((), light_points([[0, 0, 50]], UP))
    assert len(bands) == 72
    assert bands.low == pytest.approx(np.zeros(72), abs=1e-9)
    assert bands.low_edge.tolist() == [OWN_BACK] * 72


@pytest.mark.parametrize("bearing", [0.0, 20.0, 335.0])
def test_straight_rim(bearing: float) -> None:
    # Shows above atan(h / d): plane geometry, d measured along the bearing.
    wall = box("wall", [-2000, -130, 0], [2000, -100, 80])
    floor = box("floor", [-3000, -3000, -10], [3000, 3000, 0])
    found = rows(bands_of((wall, floor), light_points([[0, 0, 50]], FRONT), [bearing]))
    # Above the rim's far top edge; the near one is lower as seen from below the rim.
    assert found == [(pytest.approx(angle(30, 100 / np.cos(np.radians(bearing)))), pytest.approx(90), "bare")]


def test_point_level_with_a_rim_shows_from_the_horizontal() -> None:
    wall = box("wall", [-2000, -130, -1e7], [2000, -100, 50])
    found = rows(bands_of((wall,), light_points([[0, 0, 50]], FRONT), [0.0]))
    assert found[-1] == (pytest.approx(0.0, abs=1e-6), pytest.approx(90), "bare")
    assert all(high < -89.99 for _, high, _ in found[:-1])


def test_point_above_a_rim_sees_down_to_its_far_edge() -> None:
    wall = box("wall", [-2000, -130, -1e7], [2000, -100, 40])
    found = rows(bands_of((wall,), light_points([[0, 0, 50]], FRONT), [0.0]))
    assert found[-1] == (pytest.approx(angle(-10, 130)), pytest.approx(90), "bare")


def test_two_concentric_rims_bound_the_band_by_their_tangents() -> None:
    # Plane geometry; gap 12, overhang 40 is atan(12/40) = 16.699°, the check values' example.
    lower, upper = ring("lower", 40, 90, 0, 10, 72), ring("upper", 40, 80, 40, 50, 72)
    found = rows(bands_of((lower, upper), light_points([[0, -50, 22]], FRONT), [0.0]))
    assert found[-1] == (pytest.approx(-16.699244, abs=1e-6), pytest.approx(angle(18, 30)), "bare")
    assert len(found) == 1


def test_facets_are_met_exactly_between_their_corners() -> None:
    # Along a bearing off a corner a facet of a ring is r·cos(π/n)/cos(φ) away; trimesh puts corners at 0°.
    facets, radius, gap = 24, 80.0, 15.0
    top = disc("lid", radius, 50 + gap, 80, facets=facets)
    bearing = 11.0
    corner_every = 360 / facets
    off_middle = (bearing - 90.0) % corner_every - corner_every / 2
    away = radius * np.cos(np.pi / facets) / np.cos(np.radians(off_middle))
    found = rows(bands_of((top,), light_points([[0, 0, 50]], [[0.2, -1, 0]]), [bearing]))
    assert found == [(pytest.approx(-90), pytest.approx(angle(gap, away)), "bare")]


def test_square_seen_across_its_corner() -> None:
    # A lid of half-width w: the cut-off is atan(h/w) across a side, atan(h/(w√2)) across a corner.
    lid = box("lid", [-40, -40, 60], [40, 40, 70])
    bands = bands_of((lid,), light_points([[0, 0, 50]], [[0.3, -1, 0]]), [0.0, 45.0])
    assert rows(bands, 0)[0][1] == pytest.approx(angle(10, 40))
    assert rows(bands, 1)[0][1] == pytest.approx(angle(10, 40 * np.sqrt(2)), abs=1e-7)


def test_clear_is_glazed_and_opal_is_veiled() -> None:
    for body, word in (("clear", "glazed"), ("opal", "veiled")):
        pane = box("pane", [-500, -110, 40], [500, -100, 70], body)  # type: ignore[arg-type]
        found = rows(bands_of((pane,), light_points([[0, 0, 50]], FRONT), [0.0]))
        low, high = angle(-10, 100), angle(20, 100)
        assert [row[2] for row in found] == ["bare", word, "bare"]
        assert found[1][:2] == (pytest.approx(low), pytest.approx(high))


def test_only_lines_through_the_sanded_face_are_veiled() -> None:
    # The line leaves by the sanded top between the near and far top edges, by clear edges below that.
    pane = box("pane", [-500, -140, 40], [500, -100, 70], "clear", Finish(top="sanded"))
    found = rows(bands_of((pane,), light_points([[0, 0, 50]], FRONT), [0.0]))
    assert [row[2] for row in found] == ["bare", "glazed", "veiled", "bare"]
    assert found[1][:2] == (pytest.approx(angle(-10, 100)), pytest.approx(angle(20, 140)))
    assert found[2][:2] == (pytest.approx(angle(20, 140)), pytest.approx(angle(20, 100)))


def test_sanded_edge_veils_every_line_through_it() -> None:
    pane = box("pane", [-500, -140, 40], [500, -100, 70], "clear", Finish(edge="sanded"))
    found = rows(bands_of((pane,), light_points([[0, 0, 50]], FRONT), [0.0]))
    assert [row[2] for row in found] == ["bare", "veiled", "bare"]


def test_opaque_behind_acrylic_hides() -> None:
    pane = box("pane", [-500, -110, 40], [500, -100, 70], "clear")
    wall = box("wall", [-5000, -300, -1000], [5000, -290, 1000])
    found = rows(bands_of((pane, wall), light_points([[0, 0, 50]], FRONT), [0.0]))
    assert [row[2] for row in found] == ["bare", "bare"]
    assert found[0][1] == pytest.approx(angle(-1050, 290))


def test_parts_that_touch_leave_no_crack() -> None:
    lower = box("lower", [-500, -120, 0], [500, -100, 55])
    upper = box("upper", [-500, -120, 55], [500, -100, 90])
    found = rows(bands_of((lower, upper), light_points([[0, 0, 50]], FRONT), [0.0]))
    assert len(found) == 2
    assert found[0][1] == pytest.approx(angle(-50, 100))
    assert found[1][0] == pytest.approx(angle(40, 100))


def test_a_point_inside_something_opaque_is_hidden() -> None:
    assert len(bands_of((disc("block", 60, 0, 100),), light_points([[0, 0, 50]], UP))) == 0


def test_agrees_with_embree_on_every_ray() -> None:
    # Embree through trimesh is the independent reference; half of the rays lie 3.5e-7 rad from an edge.
    parts, height = tiers()
    points = wound(24, 20.0, height - 12.0)
    around = even_bearings(180)
    bands = all_bands(scene_of(parts), points, around)
    draw = np.random.default_rng(7)
    count = 40_000
    index, bearing = draw.integers(0, len(points), count), draw.integers(0, len(around), count)
    elevation = np.degrees(np.arcsin(draw.uniform(-1, 1, count)))
    half = count // 2
    pick = draw.integers(0, len(bands), half)
    index[:half], bearing[:half] = bands.point[pick], bands.bearing[pick]
    edge = np.where(draw.random(half) < 0.5, bands.low[pick], bands.high[pick])
    elevation[:half] = np.clip(edge + draw.choice([-2e-5, 2e-5], half), -90, 90)
    kind = np.full(count, -1)
    key = bands.point.astype(np.int64) * len(around) + bands.bearing
    wanted = index * len(around) + bearing
    first, last = np.searchsorted(key, wanted, "left"), np.searchsorted(key, wanted, "right")
    for step in range(int((last - first).max())):
        at = np.minimum(first + step, len(bands) - 1)
        inside = (first + step < last) & (bands.low[at] < elevation) & (elevation < bands.high[at])
        kind[inside] = bands.kind[at][inside]
    turn, rise = np.radians(around[bearing]), np.radians(elevation)
    ray = np.stack([np.sin(turn) * np.cos(rise), -np.cos(turn) * np.cos(rise), np.sin(rise)], axis=1)
    front = np.einsum("ij,ij->i", ray, points.directions[index]) > 0
    start = points.centres[index] + 1e-7 * points.directions[index]

    def clear_of(bodies: set[str]) -> np.ndarray:
        meshes = [
            trimesh.Trimesh(one.solid.vertices, one.solid.triangles, process=False)
            for one in parts
            if one.material.body in bodies
        ]
        return front & ~RayMeshIntersector(trimesh.util.concatenate(meshes)).intersects_any(start, ray)

    assert np.count_nonzero((kind >= 0) != clear_of({"opaque"})) == 0
    assert np.count_nonzero((kind == Kind.BARE) != clear_of({"opaque", "clear", "opal"})) == 0


def _hit(start: np.ndarray, ray: np.ndarray, placed: Placed) -> bool:
    """Möller and Trumbore 1997, Fast, minimum storage ray/triangle intersection: plain and slow."""
    a, b, c = (placed.solid.vertices[placed.solid.triangles[:, k]] for k in range(3))
    p = np.cross(ray, c - a)
    with np.errstate(all="ignore"):
        inverse = 1.0 / np.einsum("ij,ij->i", b - a, p)
        u = np.einsum("ij,ij->i", start - a, p) * inverse
        q = np.cross(start - a, b - a)
        v = q @ ray * inverse
        t = np.einsum("ij,ij->i", c - a, q) * inverse
        return bool(np.any((u >= 0) & (v >= 0) & (u + v <= 1) & (t > 0)))


corner = st.floats(-60, 60).map(lambda value: round(value, 3))
size = st.floats(1, 50).map(lambda value: round(value, 3))
boxes = st.lists(st.tuples(corner, corner, corner, size, size, size), min_size=1, max_size=5)


@settings(max_examples=60, deadline=None)
@given(boxes, st.integers(0, 3590).map(lambda tenth: tenth / 10), st.integers(0, 2**32 - 1))
def test_any_boxes_agree_with_plain_ray_casting(sizes, bearing, seed) -> None:  # type: ignore[no-untyped-def]
    parts = tuple(
        box(f"box {k}", [x, y, z], [x + w, y + d, z + h]) for k, (x, y, z, w, d, h) in enumerate(sizes)
    )
    points = light_points(
        [[0.0123, -0.0345, 0.0567]], [[np.sin(np.radians(bearing)), -np.cos(np.radians(bearing)), 0.1]]
    )
    bands = bands_of(parts, points, [bearing])
    draw = np.random.default_rng(seed)
    for elevation in np.degrees(np.arcsin(draw.uniform(-1, 1, 12))):
        ends = np.concatenate([bands.low, bands.high, [angle(-10, 1)]])
        if np.min(np.abs(ends - elevation)) < 1e-6:
            continue
        turn, rise = np.radians(bearing), np.radians(elevation)
        ray = np.array([np.sin(turn) * np.cos(rise), -np.cos(turn) * np.cos(rise), np.sin(rise)])
        start = points.centres[0] + 1e-7 * points.directions[0]
        front = float(ray @ points.directions[0]) > 0
        shows = bool(np.any((bands.low < elevation) & (elevation < bands.high)))
        assert shows == (front and not any(_hit(start, ray, one) for one in parts))


@settings(max_examples=30, deadline=None)
@given(boxes)
def test_another_part_never_opens_a_view(sizes) -> None:  # type: ignore[no-untyped-def]
    parts = [box(f"box {k}", [x, y, z], [x + w, y + d, z + h]) for k, (x, y, z, w, d, h) in enumerate(sizes)]
    points = light_points([[0.0123, -0.0345, 0.0567]], UP)

    def open_width(placed: list[Placed]) -> np.ndarray:
        bands = bands_of(tuple(placed), points)
        return np.bincount(bands.bearing, weights=bands.high - bands.low, minlength=72)

    assert np.all(open_width(parts) <= open_width(parts[:-1]) + 1e-6)
