import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.curves.arcs import area, length
from stackview.description.lamp import Chamfer, Opening, Recess
from stackview.description.outline import Around, Outline, path_of
from stackview.description.shapes import Circle, Curve, Rectangle, Regular
from stackview.errors import SolidError
from stackview.solids.build import rod, solid_of
from stackview.solids.measure import centre_of_mass, volume
from stackview.solids.solid import Face, Solid

E = 0.05
HEXAGON = Regular(6, 100.0 * math.cos(math.pi / 6))


def hole(shape: object, **fields: object) -> Opening:
    return Opening(Outline(shape), **fields)


def face_area(solid: Solid, face: Face) -> float:
    a, b, c = (solid.vertices[solid.triangles[solid.faces == face][:, k]] for k in range(3))
    return 0.5 * float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())


def test_bevelled_plate(layer, watertight) -> None:
    # Plate a×b×t with one 45° top chamfer c: abt − c²(a + b) + 4c³/3; 150×100×12, c 2 (check values).
    solid = solid_of(layer(Rectangle(150.0, 100.0), 12.0, chamfers=(Chamfer("top outer", 2.0),)), E)
    watertight(solid)
    assert volume(solid) == pytest.approx(179010.0 + 2.0 / 3.0, rel=1e-12)
    assert centre_of_mass(solid) == pytest.approx((0.0, 0.0, 5.97053434), abs=1e-8)


def test_square_frustum(layer, watertight) -> None:
    # CRC Standard Mathematical Tables: h/3(A1 + A2 + √(A1·A2)); 100 → 80 over 10.
    solid = solid_of(layer(Rectangle(100.0, 100.0), 10.0, chamfers=(Chamfer("top outer", 10.0),)), E)
    watertight(solid)
    assert volume(solid) == pytest.approx(244000.0 / 3.0, rel=1e-12)
    assert centre_of_mass(solid)[2] == pytest.approx(4.631147541, rel=1e-9)


def test_hexagon_plate(layer, watertight) -> None:
    solid = solid_of(layer(HEXAGON, 10.0, chamfers=(Chamfer("top outer", 3.0),)), E)
    watertight(solid)
    assert volume(solid) == pytest.approx(63633.082198, rel=1e-9)


@pytest.mark.parametrize("chord_error", [0.2, 0.05, 0.005])
def test_bevelled_disc(layer, chord_error: float) -> None:
    # Cylinder and cone frustum, Pappus agrees: R 60, t 12, c 2. The facets lie within the true disc,
    # and contain the disc that is smaller by the chord error.
    solid = solid_of(layer(Circle(120.0), 12.0, chamfers=(Chamfer("top outer", 2.0),)), chord_error)
    exact = 134971.197979
    smaller = math.pi * (
        (60 - chord_error) ** 2 * 10
        + 2
        / 3
        * ((60 - chord_error) ** 2 + (58 - chord_error) ** 2 + (60 - chord_error) * (58 - chord_error))
    )
    assert smaller * (1.0 - 1e-9) < volume(solid) < exact


def test_ell_with_a_chamfer(layer, ell: Curve, watertight) -> None:
    # Prism less the bevel: ∫(A − A(d))dd with A(d) = A − Pd + (5 − 1)d², P 400 (five corners out, one in).
    solid = solid_of(layer(ell, 10.0, chamfers=(Chamfer("top outer", 5.0),)), E)
    watertight(solid)
    lost = 400.0 * 5.0**2 / 2.0 - 4.0 * 5.0**3 / 3.0
    assert volume(solid) == pytest.approx(64000.0 - lost, rel=1e-12)


def test_flat_chamfer_angle(layer) -> None:
    # Width along the face, angle to the face: the height is width·tan(angle).
    solid = solid_of(
        layer(Rectangle(100.0, 100.0), 10.0, chamfers=(Chamfer("underside outer", 6.0, 30.0),)), E
    )
    high = 6.0 * math.tan(math.radians(30.0))
    exact = 10000.0 * (10.0 - high) + high / 3.0 * (10000.0 + 88.0**2 + 8800.0)
    assert volume(solid) == pytest.approx(exact, rel=1e-12)
    low = solid.vertices[solid.vertices[:, 2] == 0.0]
    assert np.abs(low[:, :2]).max() == pytest.approx(44.0)


def test_chamfer_wider_than_a_rounded_corner(layer, watertight) -> None:
    plate = layer(
        Rectangle(100.0, 60.0, 5.0),
        12.0,
        chamfers=(Chamfer("top outer", 8.0), Chamfer("underside outer", 3.0)),
    )
    solid = solid_of(plate, 0.001)
    watertight(solid)

    # Area d inside the edge: a rounded rectangle for d under 5, then a sharp one. Volume by Simpson's rule,
    # exact for the quadratics on either side of d = 5.
    def at(d: float) -> float:
        q = max(5.0 - d, 0.0)
        return (100.0 - 2 * d) * (60.0 - 2 * d) - (4.0 - math.pi) * q * q

    def simpson(a: float, b: float) -> float:
        return (b - a) / 6.0 * (at(a) + 4.0 * at(0.5 * (a + b)) + at(b))

    exact = simpson(0, 3) + at(0) * 1.0 + simpson(0, 5) + simpson(5, 8)
    perimeter = length(path_of(Outline(Rectangle(100.0, 60.0, 5.0))))
    assert exact - 0.001 * perimeter * 12.0 < volume(solid) < exact
    assert volume(solid) == pytest.approx(exact, rel=1e-5)


def test_opening_chamfer_widens_the_hole(layer, watertight) -> None:
    frame = layer(
        Rectangle(100.0, 100.0),
        10.0,
        openings=(hole(Rectangle(40.0, 40.0), main=True),),
        chamfers=(Chamfer("top opening", 3.0),),
    )
    solid = solid_of(frame, E)
    watertight(solid)
    plug = 1600.0 * 7.0 + 3.0 / 3.0 * (1600.0 + 46.0**2 + 40.0 * 46.0)
    assert volume(solid) == pytest.approx(100000.0 - plug, rel=1e-12)
    assert face_area(solid, Face.TOP) == pytest.approx(10000.0 - 46.0**2)
    assert face_area(solid, Face.UNDERSIDE) == pytest.approx(8400.0)


def test_openings_around(layer, watertight) -> None:
    plate = layer(
        Rectangle(100.0, 100.0),
        10.0,
        openings=(hole(Rectangle(6.0, 4.0), around=Around(6, 60.0)), hole(Rectangle(20.0, 20.0))),
    )
    solid = solid_of(plate, E)
    watertight(solid)
    assert volume(solid) == pytest.approx(10.0 * (10000.0 - 6 * 24.0 - 400.0), rel=1e-12)


def test_openings_that_run_together(layer, watertight) -> None:
    keyhole = layer(
        Rectangle(100.0, 100.0),
        10.0,
        openings=(
            hole(Rectangle(20.0, 20.0), main=True),
            Opening(Outline(Rectangle(6.0, 30.0), at=(0.0, 10.0))),
        ),
    )
    solid = solid_of(keyhole, E)
    watertight(solid)
    assert volume(solid) == pytest.approx(10.0 * (10000.0 - 400.0 - 6.0 * 15.0), rel=1e-12)
    assert face_area(solid, Face.OPENING) == pytest.approx(10.0 * (80.0 + 30.0))


def test_openings_that_run_together_with_a_chamfer(layer, watertight) -> None:
    plate = layer(
        Rectangle(100.0, 100.0),
        10.0,
        openings=(
            hole(Rectangle(20.0, 20.0), main=True),
            Opening(Outline(Rectangle(6.0, 30.0), at=(0.0, 10.0))),
        ),
        chamfers=(Chamfer("top opening", 2.0), Chamfer("underside opening", 1.0)),
    )
    solid = solid_of(plate, E)
    watertight(solid)
    wide = 2.0 / 3.0 * (400 + 576 + 480) + 1.0 / 3.0 * (400 + 484 + 440) + 7.0 * 400.0
    slot = 6.0 * 15.0 * 10.0 - 6.0 * (2.0 * 2.0 / 2.0 + 0.5)
    assert volume(solid) == pytest.approx(100000.0 - wide - slot, rel=1e-12)


def test_recess_and_labels(layer, watertight) -> None:
    plate = layer(
        Rectangle(100.0, 100.0),
        18.0,
        openings=(hole(Rectangle(40.0, 40.0), main=True),),
        recesses=(
            Recess("top", 5.0, Outline(Rectangle(60.0, 60.0)), 0.0),
            Recess("underside", 4.0, Outline(Rectangle(80.0, 80.0)), 0.0),
        ),
    )
    solid = solid_of(plate, E)
    watertight(solid)
    assert volume(solid) == pytest.approx(18.0 * 8400.0 - 5.0 * 2000.0 - 4.0 * 4800.0, rel=1e-12)
    expected = {
        Face.TOP: 10000.0 - 3600.0,
        Face.UNDERSIDE: 10000.0 - 6400.0,
        Face.OUTER: 400.0 * 18.0,
        Face.OPENING: 160.0 * 9.0,
        Face.RECESS_FLOOR: 2000.0 + 4800.0,
        Face.RECESS_WALL: 240.0 * 5.0 + 320.0 * 4.0,
        Face.GROOVE: 0.0,
        Face.CHAMFER: 0.0,
        Face.BORE: 0.0,
    }
    for face, value in expected.items():
        assert face_area(solid, face) == pytest.approx(value, abs=1e-9)


def test_opening_chamfer_in_a_recess_bevels_the_edge_at_its_floor(layer, watertight) -> None:
    def frame(width: float):  # type: ignore[no-untyped-def]
        return layer(
            Rectangle(100.0, 100.0),
            18.0,
            openings=(hole(Rectangle(40.0, 40.0), main=True),),
            recesses=(Recess("top", 5.0, Outline(Rectangle(60.0, 60.0)), 0.0),),
            chamfers=(Chamfer("top opening", width),),
        )

    solid = solid_of(frame(3.0), E)
    watertight(solid)
    bevel = 3.0 / 3.0 * (1600.0 + 46.0**2 + 40.0 * 46.0) - 3.0 * 1600.0
    assert volume(solid) == pytest.approx(18.0 * 8400.0 - 5.0 * 2000.0 - bevel, rel=1e-12)
    assert face_area(solid, Face.RECESS_FLOOR) == pytest.approx(3600.0 - 46.0**2)
    assert solid.vertices[np.unique(solid.triangles[solid.faces == Face.CHAMFER]), 2].max() == 13.0
    with pytest.raises(SolidError, match=r"reaches under the wall of the recess: there are 10\.0000 mm"):
        solid_of(frame(11.0), E)


def test_normals_of_labelled_faces_point_out(layer) -> None:
    plate = layer(
        Regular(8, 120.0),
        18.0,
        openings=(hole(Circle(40.0), main=True),),
        recesses=(Recess("top", 5.0, Outline(Circle(60.0)), 0.0),),
        chamfers=(Chamfer("top outer", 2.0), Chamfer("underside opening", 2.0)),
    )
    solid = solid_of(plate, E)
    a, b, c = (solid.vertices[solid.triangles[:, k]] for k in range(3))
    normal, middle = np.cross(b - a, c - a), (a + b + c) / 3.0
    outwards = (normal[:, :2] * middle[:, :2]).sum(axis=1)
    assert (normal[solid.faces == Face.TOP, 2] > 0).all()
    assert (normal[solid.faces == Face.RECESS_FLOOR, 2] > 0).all()
    assert (normal[solid.faces == Face.UNDERSIDE, 2] < 0).all()
    assert (outwards[solid.faces == Face.OUTER] > 0).all()
    assert (outwards[solid.faces == Face.OPENING] < 0).all()
    assert (outwards[solid.faces == Face.RECESS_WALL] < 0).all()


def test_copies_around(layer, watertight) -> None:
    blocks = layer(Rectangle(20.0, 10.0), 8.0, around=Around(4, 100.0), openings=(hole(Rectangle(4.0, 4.0)),))
    solid = solid_of(blocks, E)
    watertight(solid)
    assert volume(solid) == pytest.approx(4 * 8.0 * (200.0 - 16.0), rel=1e-13)
    assert solid.vertices.min(axis=0).tolist() == [-55.0, -55.0, 0.0]
    assert solid.vertices.max(axis=0).tolist() == [55.0, 55.0, 8.0]


def test_rod_and_tube(watertight) -> None:
    post = rod(Outline(Rectangle(10.0, 10.0)), Around(4, 80.0, 45.0), 50.0, None, E)
    watertight(post)
    assert volume(post) == pytest.approx(4 * 5000.0)
    tube = rod(Outline(Circle(27.0)), None, 120.0, 2.0, 0.001)
    watertight(tube)
    assert volume(tube) == pytest.approx(math.pi * (13.5**2 - 11.5**2) * 120.0, rel=1e-4)
    assert face_area(tube, Face.OPENING) > 0.0


def test_arrays_are_read_only(layer) -> None:
    solid = solid_of(layer(Rectangle(20.0, 10.0), 8.0), E)
    with pytest.raises(ValueError, match="read-only"):
        solid.vertices[0, 0] = 1.0


@pytest.mark.parametrize(
    ("fields", "field", "message"),
    [
        ({"openings": (hole(Circle(120.0)),)}, "opening", r"reaches 10\.0000 mm outside the outline"),
        (
            {"openings": (hole(Rectangle(99.95, 20.0)),)},
            "opening",
            r"wall of only 0\.0250 mm.*at least 0\.05 mm",
        ),
        (
            {"openings": (hole(Circle(4.0), around=Around(4, 98.0)),)},
            "opening",
            r"reaches 1\.0000 mm outside",
        ),
        ({"chamfers": (Chamfer("top opening", 2.0),)}, "chamfer", "no main opening"),
        ({"chamfers": (Chamfer("top outer", 0.0),)}, "chamfer", "width must be over 0 and"),
        ({"chamfers": (Chamfer("top outer", 1.0, 90.0),)}, "chamfer", "angle between 0° and 90°"),
        ({"around": Around(4, 100.0)}, "around", "run into each other"),
        ({"around": Around(0, 100.0)}, "around", "must be at least 1"),
    ],
)
def test_messages(layer, fields: dict[str, object], field: str, message: str) -> None:
    with pytest.raises(SolidError, match=message) as caught:
        solid_of(layer(Rectangle(100.0, 100.0), 10.0, **fields), E)
    assert caught.value.field == field


def test_layer_without_thickness(layer) -> None:
    with pytest.raises(SolidError, match="thickness: 0 mm: it must be over 0"):
        solid_of(layer(Circle(20.0), 0.0), E)


@pytest.mark.parametrize(
    ("height", "thickness", "message"),
    [(0.0, None, "height: 0 mm"), (10.0, 0.0, "wall: 0 mm"), (10.0, 11.0, r"wall: .*fits is 10\.0000 mm")],
)
def test_rod_messages(height: float, thickness: float | None, message: str) -> None:
    with pytest.raises(SolidError, match=message):
        rod(Outline(Circle(20.0)), None, height, thickness, E)


@pytest.mark.parametrize(
    ("shape", "limit"),
    [(Rectangle(100.0, 60.0), 30.0), (HEXAGON, 25.0 * math.sqrt(3.0)), (Rectangle(80.0, 80.0, 5.0), 40.0)],
)
def test_largest_outer_chamfer(layer, watertight, shape: object, limit: float) -> None:
    def plate(width: float):  # type: ignore[no-untyped-def]
        return layer(shape, 60.0, chamfers=(Chamfer("top outer", width),))

    watertight(solid_of(plate(0.999 * limit), E))
    with pytest.raises(SolidError, match=rf"largest that fits is just under {limit:.3f}"):
        solid_of(plate(1.001 * limit), E)


def test_largest_chamfer_on_a_concave_outline(layer, ell: Curve, watertight) -> None:
    watertight(solid_of(layer(ell, 30.0, chamfers=(Chamfer("top outer", 19.98),)), E))
    with pytest.raises(SolidError, match=r"largest that fits is just under 20\.0000 mm"):
        solid_of(layer(ell, 30.0, chamfers=(Chamfer("top outer", 20.02),)), E)


def test_largest_chamfer_for_the_thickness(layer, watertight) -> None:
    def plate(width: float):  # type: ignore[no-untyped-def]
        return layer(
            Circle(80.0), 6.0, chamfers=(Chamfer("top outer", width, 60.0), Chamfer("underside outer", 1.0))
        )

    limit = 5.0 / math.tan(math.radians(60.0))
    watertight(solid_of(plate(0.999 * limit), E))
    with pytest.raises(SolidError, match=rf"largest width that fits is {limit:.4f} mm"):
        solid_of(plate(1.001 * limit), E)


def test_largest_bevels_that_leave_a_wall(layer, watertight) -> None:
    # A wall 10 mm wide less the chord error: two equal bevels may take half each.
    def ring(width: float):  # type: ignore[no-untyped-def]
        return layer(
            Rectangle(100.0, 100.0),
            20.0,
            openings=(hole(Rectangle(80.0, 80.0), main=True),),
            chamfers=(Chamfer("top outer", width), Chamfer("top opening", width)),
        )

    limit = 0.5 * (10.0 - E)
    watertight(solid_of(ring(0.999 * limit), E))
    with pytest.raises(SolidError, match=rf"largest that fits: {limit:.4f} mm.*no wall is left"):
        solid_of(ring(1.001 * limit), E)


def test_outer_chamfer_may_not_reach_an_opening(layer) -> None:
    plate = layer(
        Rectangle(100.0, 100.0),
        20.0,
        openings=(hole(Circle(10.0), around=Around(4, 80.0)),),
        chamfers=(Chamfer("underside outer", 6.0),),
    )
    with pytest.raises(SolidError, match=r"underside outer chamfer.*largest that fits: 4\.95"):
        solid_of(plate, E)


shapes = st.one_of(
    st.builds(Circle, st.floats(30.0, 200.0)),
    st.builds(Rectangle, st.floats(30.0, 200.0), st.floats(30.0, 200.0), st.floats(0.0, 14.0)),
    st.builds(Regular, st.integers(3, 12), st.floats(30.0, 200.0), st.floats(0.0, 14.0)),
)


@settings(max_examples=60, deadline=None)
@given(
    shapes,
    st.floats(3.0, 30.0),
    st.floats(0.2, 14.0),
    st.floats(20.0, 70.0),
    st.sampled_from([0.2, 0.05, 0.01]),
)
def test_any_bevelled_shape(
    layer, watertight, shape: object, thickness: float, width: float, angle: float, e: float
) -> None:
    width = min(width, 0.95 * thickness / math.tan(math.radians(angle)))
    plate = layer(shape, thickness, chamfers=(Chamfer("top outer", width, angle),))
    solid = solid_of(plate, e)
    watertight(solid)
    path = path_of(Outline(shape))
    high = width * math.tan(math.radians(angle))
    # Between the prism with the bevel's whole width gone from its upper part, and the whole prism.
    inner = area(path_of(Outline(shape, grow=-width)))
    below, above = area(path) * (thickness - high) + inner * high, area(path) * thickness
    facets = e * length(path) * thickness
    assert below - facets - 1e-6 <= volume(solid) <= above + 1e-6
    low, top = solid.vertices.min(axis=0), solid.vertices.max(axis=0)
    assert (low[2], top[2]) == (0.0, thickness)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(30.0, 60.0), min_size=5, max_size=12), st.floats(0.2, 3.0), st.floats(0.3, 4.0))
def test_scaling_a_concave_plate(layer, watertight, radii: list[float], width: float, scale: float) -> None:
    angle = 2.0 * math.pi * np.arange(len(radii)) / len(radii)
    xy = np.array(radii)[:, None] * np.column_stack((np.cos(angle), np.sin(angle)))

    def plate(s: float) -> Solid:
        curve = Curve(tuple((float(x * s), float(y * s), 0.0) for x, y in xy), "star.dxf")
        return solid_of(layer(curve, 10.0 * s, chamfers=(Chamfer("top outer", width * s),)), E)

    one, other = plate(1.0), plate(scale)
    watertight(one)
    watertight(other)
    assert volume(other) == pytest.approx(volume(one) * scale**3, rel=1e-9)
