import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from stackview.curves.arcs import Path, area, length, pieces_of, polygon
from stackview.curves.crossing import crosses_itself
from stackview.curves.fit import inside, reach_outside
from stackview.curves.offset import mitre, offset, rounded
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Curve, Rectangle, Regular
from stackview.errors import SolidError

KEYHOLE = Path(  # a 20 mm wide slot that ends in a disc of radius 20 mm
    np.array(
        [
            (-10, -50, 0),
            (10, -50, 0),
            (10, math.sqrt(300), math.tan(math.radians(300) / 4)),
            (-10, math.sqrt(300), 0),
        ]
    )
)


def test_ell_inset(ell: Curve) -> None:
    path = offset(path_of(Outline(ell)), -5.0)
    assert path.vertices == pytest.approx(
        np.array([(5, 5, 0), (95, 5, 0), (95, 35, 0), (35, 35, 0), (35, 95, 0), (5, 95, 0)], dtype=float)
    )


@pytest.mark.parametrize("by", [-12.0, -8.0, -5.0, -4.0, 3.0, 20.0])
def test_rounded_rectangle_offset_like_its_own_growth(by: float) -> None:
    exact = path_of(Outline(Rectangle(100.0, 60.0, 5.0), grow=by))
    moved = offset(path_of(Outline(Rectangle(100.0, 60.0, 5.0))), by)
    assert area(moved) == pytest.approx(area(exact), rel=1e-12)
    assert length(moved) == pytest.approx(length(exact), rel=1e-12)


@pytest.mark.parametrize("by", [-30.0, -1.0, 10.0])
def test_circle_offset(by: float) -> None:
    assert area(offset(path_of(Outline(Circle(80.0))), by)) == pytest.approx(
        math.pi * (40.0 + by) ** 2, rel=1e-12
    )


def test_keyhole_corners_stay_on_both_offsets() -> None:
    moved = pieces_of(offset(KEYHOLE, -4.0))
    arc = np.flatnonzero(moved.arc)
    assert np.allclose(moved.radius[arc], 16.0)
    joint = moved.start[arc[0]]
    # The joint lies on the slot's side moved to x = 6 and on the circle of radius 16 about (0, √1200).
    assert joint == pytest.approx((6.0, math.sqrt(1200.0) - math.sqrt(16.0**2 - 36.0)), abs=1e-9)


def test_an_arc_that_curves_inwards_grows_with_an_inset() -> None:
    rows = [(0, 0, 0), (60, 0, 0), (60, 60, 0), (40, 60, -1.0), (20, 60, 0), (0, 60, 0)]
    path = offset(Path(np.array(rows, dtype=float)), -5.0)
    arcs = pieces_of(path)
    assert np.allclose(arcs.radius[arcs.arc], 15.0)
    # 50 × 50 less what the circle of radius 15 about (30, 60) cuts below y = 55.
    half = math.acos(5.0 / 15.0)
    assert area(path) == pytest.approx(2500.0 - 225.0 * (half - math.sin(half) * math.cos(half)), rel=1e-12)


def test_offset_there_and_back(ell: Curve) -> None:
    path = path_of(Outline(ell))
    assert offset(offset(path, -7.0), 7.0).vertices == pytest.approx(path.vertices, abs=1e-12)


@pytest.mark.parametrize(("by", "limit"), [(-25.0, 20.0), (-40.0, 20.0)])
def test_inset_too_far_says_the_largest(ell: Curve, by: float, limit: float) -> None:
    path = path_of(Outline(ell))
    with pytest.raises(SolidError, match=rf"The largest that fits is {limit:.4f} mm"):
        offset(path, by, field="groove")
    assert area(offset(path, -0.999 * limit)) > 0.0
    with pytest.raises(SolidError):
        offset(path, -1.001 * limit)


def test_growth_that_closes_a_mouth_is_refused() -> None:
    # A slot 10 mm wide, open at the top: growing by 5 mm closes it.
    rows = [(0, 0), (40, 0), (40, 40), (25, 40), (25, 10), (15, 10), (15, 40), (0, 40)]
    path = Path(np.array([(x, y, 0) for x, y in rows], dtype=float))
    with pytest.raises(SolidError, match=r"growth of 6 mm.*largest that fits is 5\.0000 mm"):
        offset(path, 6.0)


def test_cutter_in_sharp_corners_matches_the_closed_form(ell: Curve) -> None:
    # Five corners of 90° lose r²(1 − π/4) each; the one that sticks in stays sharp.
    pocket = rounded(path_of(Outline(ell)), 6.0)
    assert area(pocket) == pytest.approx(6400.0 - 5.0 * 36.0 * (1.0 - math.pi / 4.0), rel=1e-13)
    assert (40.0, 40.0) in {(round(x, 9), round(y, 9)) for x, y, _ in pocket.vertices.tolist()}


def test_cutter_larger_than_a_corner_arc_replaces_it() -> None:
    small = rounded(path_of(Outline(Rectangle(80.0, 50.0, 2.0))), 6.0)
    large = path_of(Outline(Rectangle(80.0, 50.0, 6.0)))
    assert area(small) == pytest.approx(area(large), rel=1e-12)


def test_cutter_smaller_than_every_corner_changes_nothing() -> None:
    path = path_of(Outline(Rectangle(80.0, 50.0, 8.0)))
    assert area(rounded(path, 3.0)) == pytest.approx(area(path), rel=1e-13)


def test_cutter_between_line_and_arc() -> None:
    # Half disc of radius 20: each corner's fillet centre is r above the line and 20 − r from the centre.
    half = Path(np.array([(-20.0, 0.0, 0.0), (20.0, 0.0, 1.0)]))
    pocket = pieces_of(rounded(half, 4.0))
    small = np.isclose(pocket.radius, 4.0)
    assert small.sum() == 2
    x = math.sqrt(16.0**2 - 4.0**2)
    assert sorted(pocket.centre[small][:, 0]) == pytest.approx([-x, x])
    assert pocket.centre[small][:, 1] == pytest.approx([4.0, 4.0])


def test_cutter_between_two_arcs() -> None:
    # A lens of two circles of radius 25 with centres 30 apart: fillet centres 25 − r from both.
    lens = Path(
        np.array([(0.0, -20.0, math.tan(math.acos(0.6) / 2.0)), (0.0, 20.0, math.tan(math.acos(0.6) / 2.0))])
    )
    pocket = pieces_of(rounded(lens, 3.0))
    small = np.isclose(pocket.radius, 3.0)
    y = math.sqrt(22.0**2 - 15.0**2)
    assert sorted(pocket.centre[small][:, 1]) == pytest.approx([-y, y])


def test_cutter_wider_than_a_neck_is_refused() -> None:
    with pytest.raises(SolidError, match=r"largest that does has radius 10\.0000 mm"):
        rounded(KEYHOLE, 12.0, "recess")
    assert rounded(KEYHOLE, 9.99) is not None


def test_cutter_against_shapely(ell: Curve) -> None:
    # Shapely's buffer in and out by round joins is the same opening, facetted.
    for path, radius in ((path_of(Outline(ell)), 5.0), (KEYHOLE, 7.0)):
        flat = Polygon(polygon(path, 1e-4))
        opened = flat.buffer(-radius, quad_segs=400).buffer(radius, quad_segs=400)
        assert area(rounded(path, radius)) == pytest.approx(opened.area, rel=2e-5)


def test_mitre() -> None:
    assert mitre(path_of(Outline(Rectangle(10.0, 20.0)))) == pytest.approx(math.sqrt(2.0))
    assert mitre(path_of(Outline(Regular(3, 20.0)))) == pytest.approx(2.0)
    assert mitre(path_of(Outline(Rectangle(10.0, 20.0, 2.0)))) == pytest.approx(1.0)


@settings(max_examples=60, deadline=None)
@given(st.integers(3, 12), st.floats(20.0, 200.0), st.floats(0.0, 0.45), st.floats(-0.45, 0.8))
def test_regular_offset_matches_the_shape_grown(sides: int, across: float, corner: float, by: float) -> None:
    shape = Regular(sides, across, corner * across if corner > 0.01 else 0.0)
    moved = offset(path_of(Outline(shape)), by * across)
    assert area(moved) == pytest.approx(area(path_of(Outline(shape, grow=by * across))), rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(20.0, 60.0), min_size=5, max_size=12), st.floats(0.2, 3.0))
def test_star_offset(radii: list[float], by: float) -> None:
    angle = 2.0 * math.pi * np.arange(len(radii)) / len(radii)
    xy = np.array(radii)[:, None] * np.column_stack((np.cos(angle), np.sin(angle)))
    path = Path(np.column_stack((xy, np.zeros(len(radii)))))
    try:
        moved = offset(path, -by)
    except SolidError:
        assume(False)
    # GEOS drops dents shallower than a hundredth of the distance before it buffers.
    expected = Polygon(xy).buffer(-by, join_style="mitre", mitre_limit=1e6)
    assert area(moved) == pytest.approx(expected.area, abs=0.01 * by * length(path))
    if len(moved) == len(path):
        # A − P·d + d²·Σtan(turn/2) while every side is left (plane geometry).
        ahead = np.roll(xy, -1, axis=0) - xy
        back = np.roll(ahead, 1, axis=0)
        turn = np.arctan2(back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1))
        exact = area(path) - by * length(path) + by**2 * float(np.tan(0.5 * turn).sum())
        assert area(moved) == pytest.approx(exact, rel=1e-9)


def blob(seed: int) -> Path | None:
    """A random curve of lines and arcs that bulge in and out, or None where it crosses itself."""
    rng = np.random.default_rng(seed)
    n = int(rng.integers(3, 12))
    angle = 2.0 * math.pi * np.arange(n) / n
    xy = rng.uniform(20.0, 60.0, n)[:, None] * np.column_stack((np.cos(angle), np.sin(angle)))
    path = Path(np.column_stack((xy, np.where(rng.random(n) < 0.5, rng.uniform(-0.6, 0.6, n), 0.0))))
    return path if crosses_itself(path) is None and area(path) > 200.0 else None


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.1, 8.0), st.sampled_from([-1.0, 1.0]))
def test_every_point_of_a_rounded_offset_lies_at_its_distance(seed: int, by: float, way: float) -> None:
    path = blob(seed)
    assume(path is not None)
    try:
        moved = offset(path, way * by, "round")
    except SolidError:
        assume(False)
    reach = reach_outside(polygon(moved, 1e-2), pieces_of(path))
    assert np.abs(reach - way * by).max() < 1e-5


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.1, 8.0))
def test_a_cutter_reaches_all_of_what_it_leaves(seed: int, radius: float) -> None:
    path = blob(seed)
    assume(path is not None)
    try:
        pocket = rounded(path, radius)
    except SolidError:
        assume(False)
    assert inside(pocket, path, 1e-5).fits
    # The way of the cutter's centre is the same in the pocket as in the outline.
    nearly = radius * (1.0 - 1e-6)
    assert area(offset(pocket, -nearly, "round")) == pytest.approx(
        area(offset(path, -nearly, "round")), rel=1e-6, abs=1e-3
    )
