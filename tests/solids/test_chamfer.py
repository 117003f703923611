import math

import numpy as np
import pytest

from stackview.errors import SolidError
from stackview.solids.chamfer import Bevel, block, wall
from stackview.solids.measure import volume
from stackview.solids.solid import Face, Solid

SQUARE = np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)], dtype=float)


def solid(made: object) -> Solid:
    return Solid(made.vertices, made.triangles, (made.numbers % 16).astype(np.int8))


def test_plain_prism(watertight) -> None:
    made = solid(block([wall(SQUARE, (0.0, 5.0), Face.OUTER)]))
    watertight(made)
    assert volume(made) == pytest.approx(2000.0, rel=1e-14)
    assert np.bincount(made.faces).tolist() == [2, 2, 8]


def test_prism_with_a_hole(watertight) -> None:
    walls = [wall(SQUARE, (0.0, 5.0), Face.OUTER), wall(0.5 * SQUARE[::-1], (0.0, 5.0), Face.OPENING)]
    made = solid(block(walls))
    watertight(made)
    assert volume(made) == pytest.approx(1500.0, rel=1e-14)


def test_bevels_above_and_below(watertight) -> None:
    top, below = Bevel(2.0, 2.0, "top outer"), Bevel(3.0, 1.5, "underside outer")
    made = solid(block([wall(SQUARE, (0.0, 5.0), Face.OUTER, below, top)]))
    watertight(made)
    # Frusta: h/3(A1 + A2 + √(A1·A2)) (CRC Standard Mathematical Tables).
    frusta = 2.0 / 3.0 * (400 + 256 + 320) + 1.5 / 3.0 * (400 + 196 + 280)
    assert volume(made) == pytest.approx(frusta + 400.0 * 1.5, rel=1e-13)


def test_bevels_that_meet_leave_an_edge(watertight) -> None:
    top, below = Bevel(2.0, 2.0, "top outer"), Bevel(2.0, 3.0, "underside outer")
    made = solid(block([wall(SQUARE, (0.0, 5.0), Face.OUTER, below, top)]))
    watertight(made)
    assert volume(made) == pytest.approx(5.0 / 3.0 * (400 + 256 + 320), rel=1e-13)
    assert not (made.faces == Face.OUTER).any()


def test_bevel_normals_have_the_bevels_slope() -> None:
    made = solid(
        block(
            [
                wall(
                    SQUARE,
                    (0.0, 5.0),
                    Face.OUTER,
                    None,
                    Bevel(2.0, 2.0 * math.tan(math.radians(30)), "top outer"),
                )
            ]
        )
    )
    a, b, c = (made.vertices[made.triangles[made.faces == Face.CHAMFER][:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    assert np.allclose(normal[:, 2], math.cos(math.radians(30)), atol=1e-12)
    assert ((normal[:, :2] * a[:, :2]).sum(axis=1) > 0.0).all()


def test_a_hole_turned_inside_out_is_a_plug(watertight) -> None:
    hole = wall(SQUARE[::-1], (0.0, 5.0), Face.OPENING, None, Bevel(2.0, 2.0, "top opening"))
    plug = solid(block([hole.flipped()]))
    watertight(plug)
    assert volume(plug) == pytest.approx(3.0 * 400.0 + 2.0 / 3.0 * (400 + 576 + 480), rel=1e-13)


def test_every_flat_face_has_its_own_number() -> None:
    made = block(
        [
            wall(
                SQUARE,
                (0.0, 5.0),
                Face.OUTER,
                Bevel(1.0, 1.0, "underside outer"),
                Bevel(1.0, 1.0, "top outer"),
            ),
            wall(0.5 * SQUARE[::-1], (0.0, 5.0), Face.OPENING, None, Bevel(1.0, 1.0, "top opening")),
        ]
    )
    a, b, c = (made.vertices[made.triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    level = (normal * a).sum(axis=1)
    planes = np.column_stack((normal, level))
    for number in np.unique(made.numbers):
        own = planes[made.numbers == number]
        assert np.allclose(own, own[0], atol=1e-12)
    assert len(np.unique(made.numbers)) == 2 + 3 * 4 + 2 * 4


def test_too_wide_says_the_largest() -> None:
    with pytest.raises(
        SolidError, match=r"top outer chamfer of width 10 mm.*just under 10\.0000 mm"
    ) as caught:
        wall(SQUARE, (0.0, 50.0), Face.OUTER, None, Bevel(10.0, 10.0, "top outer"))
    assert caught.value.field == "chamfer"


def test_too_high_says_the_largest() -> None:
    with pytest.raises(SolidError, match=r"6 mm high: more than the thickness of 5 mm.*fits is 5\.0000 mm"):
        wall(SQUARE, (0.0, 5.0), Face.OUTER, None, Bevel(6.0, 6.0, "top outer"))
    with pytest.raises(
        SolidError, match=r"together with the other edge's.*largest width that fits is 2\.0000 mm"
    ):
        wall(SQUARE, (0.0, 5.0), Face.OUTER, Bevel(3.0, 3.0, "underside outer"), Bevel(3.0, 3.0, "top outer"))
