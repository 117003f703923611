from dataclasses import replace
from math import pi

import pytest
import shapely

from stackview.description.lamp import Groove, Lamp, Layer
from stackview.description.service_tables import glues, usual_gluing
from stackview.stack.assembly import assemble
from stackview.stack.joints import glue_of, glued_joints, joints, strips_of
from tests.stack.layers import ASH, circle, plate, pocket, ring, square


def found(*layers: Layer) -> dict[str, tuple[float, float | None]]:
    stack = assemble(Lamp("test", "mm", layers))
    return {
        joint.name: (sum(strip.area for strip in joint.strips), joint.strips[0].narrowest)
        for joint in joints(stack)
    }


def test_a_plate_on_its_ledge_and_the_ring_above() -> None:
    # a 104 plate over a 92 opening: a ledge 6 wide; facets take less than 0.1 %
    ledge = pi / 4.0 * (104.0**2 - 92.0**2)
    got = found(ring("ring", recess=pocket(circle(104.0), 1.5)), plate("plate", circle(104.0)), ring("upper"))
    assert set(got) == {"plate on ring", "upper on plate"}
    for area, narrowest in got.values():
        assert area == pytest.approx(ledge, rel=2e-3)
        assert narrowest == pytest.approx(6.0, abs=0.06)


def test_square_on_square_is_exact() -> None:
    base, block = Layer("base", ASH, 10.0, square(100.0)), Layer("block", ASH, 10.0, square(60.0))
    assert found(base, block) == {"block on base": (pytest.approx(3600.0), None)}


def test_layers_that_do_not_touch_have_no_joint() -> None:
    got = found(Layer("base", ASH, 10.0, square(100.0)), ring("ring", 90.0, 70.0), ring("upper", 90.0, 70.0))
    assert set(got) == {"ring on base", "upper on ring"}


def test_a_groove_parts_the_joint_in_two() -> None:
    recess = pocket(circle(104.0), 2.0)
    host = ring("ring", recess=recess)
    grooved = Layer(
        host.name, ASH, host.thickness, host.outline, openings=host.openings, recesses=(recess,),
        grooves=(Groove("top", "recess", 1.0, 1.5, 0.8),),
    )  # fmt: skip
    (joint,) = joints(assemble(Lamp("test", "mm", (grooved, plate("plate", circle(104.0))))))
    main, lip = sorted(joint.strips, key=lambda strip: -strip.area)
    # recess wall at 52.2, groove from 51.2 to 49.7, opening at 46, plate to 52
    assert main.narrowest == pytest.approx(49.7 - 46.0, abs=0.06)
    assert lip.narrowest == pytest.approx(52.0 - 51.2, abs=0.06)
    assert main.to_groove
    assert lip.to_groove
    assert len(main.open_edges) == 1
    assert lip.open_edges == ()


def test_slivers_are_no_joint() -> None:
    assert strips_of(shapely.box(0.0, 0.0, 0.9, 1.0)) == ()
    assert strips_of(shapely.Polygon()) == ()
    assert strips_of(shapely.LineString([(0, 0), (1, 1)])) == ()


@pytest.mark.parametrize("acrylic", ["neutral silicone", "epoxy", "mounting tape"])
@pytest.mark.parametrize(
    ("loose", "held"),
    [
        (None, {"plate on ring", "lid on plate", "upper on lid"}),
        (("upper",), {"plate on ring", "lid on plate"}),
        (("plate",), {"upper on lid"}),
    ],
)
def test_what_is_told_to_be_glued_is_glued_for_light_too(
    loose: tuple[str, ...] | None, held: set[str], acrylic: str
) -> None:
    gluing = replace(usual_gluing(), acrylic=glues()[acrylic], loose=loose)
    parts = (
        ring("ring", recess=pocket(circle(104.0), 1.5)),
        plate("plate", circle(104.0)),
        plate("lid", circle(104.0)),
        ring("upper"),
    )
    stack = assemble(Lamp("test", "mm", parts, gluing=gluing))
    assert {joint.name for joint in glued_joints(stack)} == held
    for joint in joints(stack):
        light = {joint.lower.film, joint.upper.film}
        assert (light == {glue_of(stack.lamp, joint).set_film}) is (joint.name in held)
