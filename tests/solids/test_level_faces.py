"""Level faces against closed forms, and against the solids that are cut from the same layers."""

from dataclasses import replace
from math import pi, radians, tan
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.lamp import Around, Chamfer, FaceSide, Groove, Layer, Opening
from stackview.description.outline import Outline
from stackview.description.reading import read_lamp
from stackview.description.shapes import Rectangle
from stackview.errors import SolidError
from stackview.solids.build import solid_of
from stackview.solids.level_faces import level_faces
from stackview.stack.joints import level_areas
from tests.stack.layers import ASH, circle, pocket, ring, square

DEMOS = Path(__file__).parents[2] / "demos"


def areas(layer: Layer, side: FaceSide = "top") -> dict[float, float]:
    (faces,) = level_faces(layer, side)
    return {round(face.height, 9): face.area.area for face in faces}


def round_(across: float) -> float:
    return pi / 4.0 * across**2


def test_a_ring_with_a_recess() -> None:
    # recess 104 + 2 × 0.2 wide, 2 deep, in a ring of 120 outside and 92 inside
    got = areas(ring("ring", recess=pocket(circle(104.0), 2.0)))
    assert got == {
        10.0: pytest.approx(round_(120.0) - round_(104.4), rel=1e-4),
        8.0: pytest.approx(round_(104.4) - round_(92.0), rel=1e-4),
    }


def test_chamfers_take_their_width_of_the_face_and_less_of_a_floor() -> None:
    layer = replace(
        Layer("plate", ASH, 10.0, square(100.0)),
        openings=(Opening(square(40.0), main=True),),
        recesses=(pocket(square(96.0), 1.0, clearance=0.0),),
        chamfers=(Chamfer("top outer", 1.5, 45.0), Chamfer("top opening", 3.0, 30.0)),
    )
    # the outer bevel leaves 97 of the face; 1 mm down it has come back to 0.5 from the edge, outside the recess
    assert areas(layer) == {
        10.0: pytest.approx(97.0**2 - 96.0**2),
        9.0: pytest.approx(96.0**2 - 46.0**2),
    }
    assert areas(layer, "underside") == {0.0: pytest.approx(100.0**2 - 40.0**2)}
    steep = replace(layer, chamfers=(Chamfer("top outer", 3.0, 45.0),))
    assert areas(steep) == {9.0: pytest.approx(96.0**2 - 40.0**2)}, "nothing is left of the face"


def test_a_bevel_has_come_back_by_depth_over_tangent_at_a_deeper_floor() -> None:
    layer = replace(
        Layer("plate", ASH, 10.0, square(100.0)),
        recesses=(pocket(replace(square(50.0), at=(30.0, 0.0)), 1.0, clearance=0.0),),
        chamfers=(Chamfer("top outer", 4.0, 30.0),),
    )
    # the recess runs out at x = 50; the bevel there is 4 − 1/tan 30° back
    assert areas(layer)[9.0] == pytest.approx((45.0 - (4.0 - 1.0 / tan(radians(30.0)))) * 50.0)


def test_a_groove_takes_a_band() -> None:
    layer = replace(ring("ring"), grooves=(Groove("top", "outline", 2.0, 1.0, 0.5),))
    band = round_(116.0) - round_(114.0)
    assert areas(layer) == {10.0: pytest.approx(round_(120.0) - round_(92.0) - band, rel=1e-4)}
    assert areas(layer, "underside") == {0.0: pytest.approx(round_(120.0) - round_(92.0), rel=1e-4)}


def test_pieces_stand_where_their_bearings_say_and_turn_with_the_layer() -> None:
    tube = Layer(
        "spacers",
        ASH,
        5.0,
        circle(8.0),
        around=Around(3, 100.0, 0.0),
        openings=(Opening(circle(4.0)),),
        turn=30.0,
    )
    pieces = level_faces(tube, "underside")
    at = [faces[0].area.centroid for faces in pieces]
    # bearing 0 is the front, −y; 30° further, counter-clockwise: (sin 30°, −cos 30°)
    assert (at[0].x, at[0].y) == pytest.approx((25.0, -43.30127), abs=1e-4)
    assert [faces[0].area.area for faces in pieces] == [
        pytest.approx(round_(8.0) - round_(4.0), rel=1e-3)
    ] * 3


@pytest.mark.parametrize("demo", ["moor-drum", "honeycomb", "turning-lantern", "kelp"])
@pytest.mark.parametrize("side", ["top", "underside"])
def test_they_are_the_faces_of_the_solid(demo: str, side: FaceSide) -> None:
    for layer in {layer.as_cut: layer for layer in read_lamp(DEMOS / f"{demo}.toml").layers}.values():
        solid = level_areas(solid_of(layer, 0.002), upwards=side == "top")
        faces = [face for piece in level_faces(replace(layer, turn=0.0), side) for face in piece]
        for height in {round(face.height, 6) for face in faces}:
            mine = sum(face.area.area for face in faces if abs(face.height - height) < 1e-6)
            (theirs,) = [area.area for level, area in solid if abs(level - height) < 1e-5]
            assert mine == pytest.approx(theirs, rel=2e-4), (layer.name, height)


def lip(width: float, recess: float, **more: object) -> Layer:
    """A square of 100 with a recess that leaves a lip around it, and a chamfer along its top edge."""
    pit = pocket(square(100.0 - 2.0 * recess), 2.0, clearance=0.0)
    layer = replace(
        Layer("ring", ASH, 10.0, square(100.0)), recesses=(pit,), chamfers=(Chamfer("top outer", width),)
    )
    return replace(layer, **more)


@pytest.mark.parametrize("width", [1.0, 2.9, 2.99])
def test_a_chamfer_beside_a_recess_leaves_a_lip(width: float) -> None:
    solid = solid_of(lip(width, 3.0), 0.05)
    assert solid.vertices[:, 2].max() == pytest.approx(10.0, abs=1e-9)
    assert areas(lip(width, 3.0))[10.0] == pytest.approx((100.0 - 2.0 * width) ** 2 - 94.0**2)


@pytest.mark.parametrize("width", [3.0, 3.1, 5.0])
def test_a_chamfer_that_takes_the_whole_lip_is_refused_with_the_most_it_can_be(width: float) -> None:
    with pytest.raises(
        SolidError, match=f"top outer chamfer of width {width:g} mm: nothing would be left"
    ) as told:
        solid_of(lip(width, 3.0), 0.05)
    assert told.value.field == "chamfer"
    most = float(str(told.value).split("at most ")[1].split(" mm")[0])
    # what is left is as wide as the facets of both its edges may be off together
    assert most == pytest.approx(3.0 - 2.0 * 0.05, abs=0.015)
    solid_of(lip(most, 3.0), 0.05)


def test_the_largest_chamfer_that_is_told_leaves_wall_and_face() -> None:
    """The wall to an opening bore 11.9 mm, and the recess in the same face 2.9 mm: the smaller is told, and made."""
    ring = replace(lip(18.0, 3.0), thickness=40.0, openings=(Opening(square(76.0), main=True),))
    with pytest.raises(SolidError, match="chamfer of width 18 mm: nothing would be left of the top") as told:
        solid_of(ring, 0.05)
    most = float(str(told.value).split("at most ")[1].split(" mm")[0])
    assert most == pytest.approx(2.9, abs=0.015)
    assert told.value.share_left == pytest.approx(most / 18.0, abs=1e-4)
    solid_of(replace(ring, chamfers=(Chamfer("top outer", most),)), 0.05)


def test_two_recesses_that_take_the_whole_face_are_refused() -> None:
    halves = tuple(
        pocket(replace(Outline(Rectangle(60.0, 120.0)), at=(x, 0.0)), 2.0, clearance=0.0)
        for x in (-25.0, 25.0)
    )
    with pytest.raises(SolidError, match="nothing is left of the top") as told:
        solid_of(Layer("ring", ASH, 10.0, square(100.0), recesses=halves), 0.05)
    assert told.value.field == "recess"


@given(
    wall=st.floats(4.0, 20.0),
    recess=st.floats(0.5, 30.0),
    outer=st.floats(0.2, 8.0),
    inner=st.floats(0.0, 8.0),
    angle=st.floats(20.0, 60.0),
    round_ring=st.booleans(),
)
def test_a_solid_is_as_high_as_its_layer_or_is_refused(
    wall: float, recess: float, outer: float, inner: float, angle: float, round_ring: bool
) -> None:
    shape = circle if round_ring else square
    chamfers = (
        Chamfer("top outer", outer, angle),
        *((Chamfer("top opening", inner, angle),) if inner > 0.1 else ()),
    )
    layer = Layer(
        "ring",
        ASH,
        15.0,
        shape(100.0),
        openings=(Opening(shape(100.0 - 2.0 * wall), main=True),),
        recesses=(pocket(shape(100.0 - 2.0 * recess), 1.5, clearance=0.0),) if recess < wall else (),
        chamfers=chamfers,
    )
    try:
        solid = solid_of(layer, 0.05)
    except SolidError:
        return
    assert (solid.vertices[:, 2].min(), solid.vertices[:, 2].max()) == pytest.approx((0.0, 15.0), abs=1e-9)
    top = [face for piece in level_faces(layer, "top") for face in piece]
    assert max(face.height for face in top) == pytest.approx(15.0)
