import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from stackview.curves.arcs import Path, polygon
from stackview.curves.crossing import crosses_itself
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Curve, Rectangle, Regular
from stackview.solids.wavefront import Closed, Swept, swept


def shoelace(points: np.ndarray) -> float:
    x, y = points.T
    return 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def volume_over(strip: Swept, slope: float = 1.0) -> float:
    """∫ of the height over the swept strip, from its triangles."""
    p, z = strip.points, strip.way * slope
    a, b, c = (strip.triangles[:, k] for k in range(3))
    flat = 0.5 * ((p[b, 0] - p[a, 0]) * (p[c, 1] - p[a, 1]) - (p[b, 1] - p[a, 1]) * (p[c, 0] - p[a, 0]))
    return float((flat * (z[a] + z[b] + z[c]) / 3.0).sum())


def test_square_without_events() -> None:
    square = np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)], dtype=float)
    strip = swept(square, 4.0)
    assert strip.points[strip.last] == pytest.approx(0.6 * square)
    assert len(strip.triangles) == 8
    # Volume under the bevel: frustum of 400 and 144 over 4 less the core.
    assert volume_over(strip) == pytest.approx(4.0 / 3.0 * (400 + 144 + 240) - 4.0 * 144.0)


def test_square_closes_at_half_its_width() -> None:
    square = np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)], dtype=float)
    for width in (10.0, 10.001, 25.0):
        with pytest.raises(Closed) as closed:
            swept(square, width)
        assert closed.value.limit == pytest.approx(10.0, abs=1e-12)
    assert len(swept(square, 9.999).last) == 4


def test_rectangle_closes_to_a_ridge() -> None:
    with pytest.raises(Closed) as closed:
        swept(np.array([(0, 0), (60, 0), (60, 20), (0, 20)], dtype=float), 15.0)
    assert closed.value.limit == pytest.approx(10.0)


def test_cut_corner_drops_out() -> None:
    # A 20 mm square with one corner cut by 2 mm legs: the short side's length 2√2 shrinks at 2·tan(22.5°).
    cut = np.array([(0, 0), (20, 0), (20, 18), (18, 20), (0, 20)], dtype=float)
    gone_at = math.sqrt(2.0) / math.tan(math.pi / 8.0)
    assert len(swept(cut, 0.999 * gone_at).last) == 5
    strip = swept(cut, 6.0)
    assert gone_at < 6.0
    assert strip.points[strip.last] == pytest.approx(
        np.array([(6, 6), (14, 6), (14, 14), (6, 14)], dtype=float)
    )


def test_facetted_corner_smaller_than_the_bevel() -> None:
    facets = polygon(path_of(Outline(Rectangle(100.0, 60.0, 5.0))), 0.05)
    strip = swept(facets, 12.0)
    # All of each corner's facets have dropped out, so the flat sides meet in sharp corners.
    assert len(strip.last) == 4
    assert shoelace(strip.points[strip.last]) == pytest.approx(76.0 * 36.0, rel=1e-12)
    assert flat_area(strip) == pytest.approx(shoelace(facets) - 76.0 * 36.0, rel=1e-12)


def flat_area(strip: Swept) -> float:
    p = strip.points
    a, b, c = (strip.triangles[:, k] for k in range(3))
    return float(
        0.5 * ((p[b, 0] - p[a, 0]) * (p[c, 1] - p[a, 1]) - (p[b, 1] - p[a, 1]) * (p[c, 0] - p[a, 0])).sum()
    )


def test_ell_closes_across_an_arm(ell: Curve) -> None:
    points = np.array(ell.vertices)[:, :2]
    with pytest.raises(Closed) as closed:
        swept(points, 30.0)
    assert closed.value.limit == pytest.approx(20.0)
    strip = swept(points, 19.0)
    assert shoelace(strip.points[strip.last]) == pytest.approx(62.0 * 2.0 + 60.0 * 2.0)


def test_corner_that_sticks_in_runs_into_the_far_side() -> None:
    # The tip of a notch at (20, 12) and the far side at y = 0. The tip's sides rise 28 over 10.
    notch = np.array([(0, 0), (40, 0), (40, 40), (30, 40), (20, 12), (10, 40), (0, 40)], dtype=float)
    # A side moving by w along its normal lowers the tip by w·√(10² + 28²)/10; the far side rises by w.
    limit = 12.0 / (1.0 + math.hypot(10.0, 28.0) / 10.0)
    with pytest.raises(Closed) as closed:
        swept(notch, 4.0)
    assert closed.value.limit == pytest.approx(limit, rel=1e-12)
    assert len(swept(notch, 0.999 * limit).last) == 7


def test_hole_widens_without_end() -> None:
    hole = polygon(path_of(Outline(Rectangle(20.0, 10.0, 3.0))), 0.05)[::-1]
    strip = swept(hole, 50.0)
    grown = polygon(path_of(Outline(Rectangle(20.0, 10.0, 3.0), grow=50.0)), 0.05)
    assert -shoelace(strip.points[strip.last]) == pytest.approx(shoelace(grown), rel=0.02)


def closing_width(points: np.ndarray, width: float) -> float | None:
    try:
        swept(points, width)
    except Closed as closed:
        return closed.limit
    return None


@settings(max_examples=80, deadline=None)
@given(st.lists(st.floats(15.0, 60.0), min_size=4, max_size=14), st.floats(0.05, 1.2))
def test_front_is_the_mitred_offset_or_closes(radii: list[float], share: float) -> None:
    angle = 2.0 * math.pi * np.arange(len(radii)) / len(radii)
    points = np.array(radii)[:, None] * np.column_stack((np.cos(angle), np.sin(angle)))
    width = 10.0 * share
    expected = Polygon(points).buffer(-width, join_style="mitre", mitre_limit=1e9)
    limit = closing_width(points, width)
    if limit is not None:
        assert 0.0 < limit <= width
        nearly = swept(points, 0.999 * limit)
        assert shoelace(nearly.points[nearly.last]) > 0.0
        return
    strip = swept(points, width)
    left = shoelace(strip.points[strip.last])
    assert expected.geom_type == "Polygon"
    # GEOS drops dents shallower than a hundredth of the distance before it buffers.
    assert left == pytest.approx(expected.area, abs=0.01 * width * Polygon(points).length)
    assert flat_area(strip) == pytest.approx(shoelace(points) - left, rel=1e-9)
    if len(strip.last) == len(points):
        assert left == pytest.approx(steiner(points, width), rel=1e-9)


def steiner(points: np.ndarray, width: float) -> float:
    """A − P·d + d²·Σtan(turn/2): area inside by d while every side is left (plane geometry)."""
    ahead = np.roll(points, -1, axis=0) - points
    back = np.roll(ahead, 1, axis=0)
    turn = np.arctan2(back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1))
    perimeter = float(np.hypot(*ahead.T).sum())
    return shoelace(points) - perimeter * width + width**2 * float(np.tan(0.5 * turn).sum())


@pytest.mark.parametrize("sides", [3, 5, 8, 40])
def test_regular_closes_at_its_inscribed_radius(sides: int) -> None:
    points = polygon(path_of(Outline(Regular(sides, 60.0))), 0.05)
    with pytest.raises(Closed) as closed:
        swept(points, 40.0)
    assert closed.value.limit == pytest.approx(30.0, rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.1, 10.0), st.booleans())
def test_faces_are_flat_cover_the_strip_and_never_fold(seed: int, width: float, hole: bool) -> None:
    rng = np.random.default_rng(seed)
    n = int(rng.integers(3, 9))
    angle = 2.0 * math.pi * np.arange(n) / n
    xy = rng.uniform(20.0, 60.0, n)[:, None] * np.column_stack((np.cos(angle), np.sin(angle)))
    path = Path(np.column_stack((xy, np.where(rng.random(n) < 0.5, rng.uniform(-0.5, 0.5, n), 0.0))))
    assume(crosses_itself(path) is None)
    points = polygon(path, 0.05)
    assume(Polygon(points).is_valid)
    points = points[::-1] if hole else points
    limit = closing_width(points, width)
    strip = swept(points, width if limit is None else 0.999 * limit)
    ahead = np.roll(points, -1, axis=0) - points
    ahead /= np.hypot(*ahead.T)[:, None]
    inward = np.column_stack((-ahead[:, 1], ahead[:, 0]))
    for k in range(3):
        corner = strip.triangles[:, k]
        gone = ((strip.points[corner] - points[strip.edge]) * inward[strip.edge]).sum(axis=1)
        assert np.abs(gone - strip.way[corner]).max() < 1e-7
    a, b, c = (strip.points[strip.triangles[:, k]] for k in range(3))
    u, v = b - a, c - a
    assert (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]).min() > -1e-7
    left = shoelace(points) - shoelace(strip.points[strip.last])
    assert flat_area(strip) == pytest.approx(left, rel=1e-9, abs=1e-6)
