"""Sections against plane geometry, and against shapely's crossing of an outline with a line."""

import manifold3d as m3
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from stackview.description.lamp import Lamp
from stackview.description.material import Finish, Material
from stackview.solids.solid import Solid
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stack.seating import Standing
from stackview.stack.section import CutFace, cut_loops, loop_area, section

ASH = Material("ash", "wood", "ash", "opaque", 680.0, (0.5, 0.4, 0.3))


def rectangle(left: float, front: float, right: float, back: float) -> NDArray[np.float64]:
    return np.array([[left, front], [right, front], [right, back], [left, back]])


def prism(outline: NDArray[np.float64], low: float, high: float) -> m3.Manifold:
    cross = m3.CrossSection([outline], m3.FillRule.EvenOdd)
    return m3.Manifold.extrude(cross, high - low).translate([0, 0, low])


def mesh_of(manifold: m3.Manifold) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    mesh = manifold.to_mesh64()
    return np.array(mesh.vert_properties[:, :3]), np.array(mesh.tri_verts, dtype=np.int64)


def placed(name: str, manifold: m3.Manifold) -> Placed:
    vertices, triangles = mesh_of(manifold)
    solid = Solid(vertices, triangles, np.zeros(len(triangles), np.int8))
    low, high = vertices[:, 2].min(), vertices[:, 2].max()
    return Placed(name, "layer", ASH, Finish(), solid, float(low), float(high), 0.0, 90.0)


def stack(*parts: Placed) -> Stack:
    return Stack(Lamp("test", "mm", ()), parts, Standing(), max(part.top for part in parts), 0.0)


def hexagon(across_flats: float) -> NDArray[np.float64]:
    """A flat side square to the front."""
    at = np.radians(30.0 + 60.0 * np.arange(6))
    radius = across_flats / np.sqrt(3.0)
    return radius * np.stack([np.sin(at), -np.cos(at)], axis=1)[::-1]


def only(face: tuple[CutFace, ...]) -> CutFace:
    assert len(face) == 1
    return face[0]


def test_block_cut_from_the_front_is_its_depth_by_its_height() -> None:
    found = only(section(stack(placed("block", prism(rectangle(-30, -20, 30, 40), 5, 17))), 0.0))
    assert found.area == pytest.approx(60 * 12, rel=1e-14)
    # Bearing 0 is the front (−y): 20 mm lie towards it, 40 mm on the far side.
    assert_allclose(found.box, (-40, 5, 20, 17), atol=1e-12)
    assert [len(loop) for loop in found.loops] == [4]
    assert loop_area(found.loops[0]) > 0


@pytest.mark.parametrize(("bearing", "left", "right"), [(90, -30, 50), (270, -50, 30)])
def test_across_is_positive_towards_the_bearing(bearing: float, left: float, right: float) -> None:
    found = only(section(stack(placed("block", prism(rectangle(-30, -20, 50, 40), 0, 10))), bearing))
    assert_allclose(found.box[::2], (left, right), atol=1e-12)


def test_square_cut_corner_to_corner_is_wider_by_root_two() -> None:
    found = only(section(stack(placed("square", prism(rectangle(-50, -50, 50, 50), 0, 8))), 45.0))
    assert found.area == pytest.approx(100 * np.sqrt(2.0) * 8, rel=1e-12)


@pytest.mark.parametrize(
    ("bearing", "stretch"), [(0.0, 1.0), (60.0, 1.0), (30.0, 2 / np.sqrt(3.0)), (90.0, 2 / np.sqrt(3.0))]
)
def test_ring_shows_its_wall_twice(bearing: float, stretch: float) -> None:
    """A hexagon ring: wall by thickness square to its sides, 2/√3 wider across its corners.

    To nine figures: the maker of this test's mesh rounds outlines to about 1e-8 mm.
    """
    ring = prism(hexagon(140), 0, 18) - prism(hexagon(110), -1, 19)
    found = only(section(stack(placed("ring", ring)), bearing))
    assert len(found.loops) == 2
    for loop in found.loops:
        assert loop_area(loop) == pytest.approx(15 * stretch * 18, rel=1e-9)


def test_recess_takes_its_width_by_its_depth() -> None:
    pocketed = prism(rectangle(-60, -40, 60, 40), 0, 20) - prism(rectangle(-50, -30, 50, 30), 15.5, 21)
    found = only(section(stack(placed("base", pocketed)), 90.0))
    assert found.area == pytest.approx(120 * 20 - 100 * 4.5, rel=1e-12)
    assert [len(loop) for loop in found.loops] == [8]


@pytest.mark.parametrize(("bearing", "stretch"), [(0.0, 1.0), (90.0, 1.0), (45.0, np.sqrt(2.0))])
def test_chamfered_plate_is_a_rectangle_with_a_trapezium_on_it(bearing: float, stretch: float) -> None:
    """A 100 mm square 12 thick whose top edge is bevelled 3 wide at 45°."""
    bevelled = m3.Manifold.hull_points(
        np.array(
            [[x, y, z] for x, y in rectangle(-50, -50, 50, 50) for z in (0.0, 9.0)]
            + [[x, y, 12.0] for x, y in rectangle(-47, -47, 47, 47)]
        )
    )
    found = only(section(stack(placed("plate", bevelled)), bearing))
    assert found.area == pytest.approx((100 * 9 + (100 + 94) / 2 * 3) * stretch, rel=1e-12)
    assert [len(loop) for loop in found.loops] == [6]


def test_closed_hollow_runs_the_other_way_round() -> None:
    hollow = prism(rectangle(-30, -30, 30, 30), 0, 30) - prism(rectangle(-10, -10, 10, 10), 10, 20)
    found = only(section(stack(placed("box", hollow)), 12.0))
    outer, inner = sorted(found.loops, key=loop_area, reverse=True)
    stretch = 1 / np.cos(np.radians(12.0))
    assert loop_area(outer) == pytest.approx(60 * 30 * stretch, rel=1e-12)
    assert loop_area(inner) == pytest.approx(-20 * 10 * stretch, rel=1e-12)
    assert found.area == pytest.approx((1800 - 200) * stretch, rel=1e-12)


def test_cone_cut_through_its_axis_is_a_triangle() -> None:
    """A cone of 180 sides whose corners stand in the cutting plane: base 80 by height 50 over 2."""
    cone = m3.Manifold.cylinder(50.0, 40.0, 0.0, 180)
    found = only(section(stack(placed("cone", cone)), 90.0))
    assert found.area == pytest.approx(80 * 50 / 2, rel=1e-12)
    assert [len(loop) for loop in found.loops] == [3]


def test_parts_that_the_plane_misses_are_left_out() -> None:
    near = placed("near", prism(rectangle(-5, -5, 5, 5), 0, 10))
    beside = placed("beside", prism(rectangle(20, -5, 30, 5), 0, 10))
    assert [face.part.name for face in section(stack(near, beside), 0.0)] == ["near"]
    assert [face.part.name for face in section(stack(near, beside), 90.0)] == ["near", "beside"]


def test_two_parts_that_meet_in_the_plane_are_cut_once() -> None:
    one = placed("one", prism(rectangle(0, -20, 30, 20), 0, 10))
    other = placed("other", prism(rectangle(-30, -20, 0, 20), 0, 10))
    assert sum(face.area for face in section(stack(one, other), 0.0)) == pytest.approx(400, rel=1e-12)


def test_order_is_the_stacks_and_arrays_are_read_only() -> None:
    parts = [placed(str(k), prism(rectangle(-9, -9, 9, 9), 10 * k, 10 * k + 10)) for k in range(4)]
    found = section(stack(*parts), 33.0)
    assert [face.part.name for face in found] == ["0", "1", "2", "3"]
    with pytest.raises(ValueError, match="read-only"):
        found[0].loops[0][0, 0] = 1.0


@settings(max_examples=60, deadline=None)
@given(
    radii=st.lists(st.floats(5.0, 80.0), min_size=3, max_size=24),
    bearing=st.floats(0.0, 360.0, exclude_max=True),
    thickness=st.floats(1.0, 40.0),
)
def test_any_prism_is_the_outlines_chords_by_its_thickness(
    radii: list[float], bearing: float, thickness: float
) -> None:
    """The chords come from shapely's intersection of the outline with the cutting line."""
    at = 2 * np.pi * np.arange(len(radii)) / len(radii)
    outline = np.array(radii)[:, None] * np.stack([np.cos(at), np.sin(at)], axis=1)
    vertices, triangles = mesh_of(prism(outline, 0.0, thickness))
    loops = cut_loops(vertices, triangles, bearing)
    way = 500.0 * np.array([np.sin(np.radians(bearing)), -np.cos(np.radians(bearing))])
    chord = Polygon(outline).intersection(LineString([-way, way])).length
    assert sum(loop_area(loop) for loop in loops) == pytest.approx(chord * thickness, rel=1e-6, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(turn=st.floats(-180.0, 180.0), bearing=st.floats(0.0, 360.0))
def test_turning_the_part_is_turning_the_cut(turn: float, bearing: float) -> None:
    ring = prism(hexagon(140), 0, 18) - prism(hexagon(110), 4, 19)
    still = cut_loops(*mesh_of(ring), bearing)
    turned = cut_loops(*mesh_of(ring.rotate([0, 0, turn])), bearing + turn)
    assert sum(map(loop_area, turned)) == pytest.approx(sum(map(loop_area, still)), rel=1e-9)
