"""Knife edges and cuts through the wall: clearly fine, clearly bad, and at the limit."""

from dataclasses import replace
from math import radians, tan

import pytest

from stackview.checks.edges import edges_left, faces_left, rims_of
from stackview.checks.voids import voids_of
from stackview.description.lamp import Chamfer, Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.findings import Finding
from tests.checks.subjects import subject_of
from tests.stack.layers import ASH, circle, pocket, ring


def found(layer: Layer) -> list[Finding]:
    subject = subject_of(layer)
    return edges_left(subject, layer, voids_of(layer), subject.limits["wall_wood"])


def bevelled(top: float, under: float, angle: float = 45.0, thick: float = 8.8) -> Layer:
    plain = ring("ring", 120.0, 92.0, thick)
    return replace(
        plain, chamfers=(Chamfer("top outer", top, angle), Chamfer("underside outer", under, angle))
    )


@pytest.mark.parametrize(
    ("top", "under", "alarm"), [(2.0, 2.0, False), (4.25, 4.25, False), (4.25, 4.26, True), (4.4, 4.4, True)]
)
def test_two_bevels_leave_a_rim(top: float, under: float, alarm: bool) -> None:
    (rim,) = rims_of(bevelled(top, under))
    assert rim == ("outer edge", pytest.approx(8.8 - top - under))
    assert bool(found(bevelled(top, under))) is alarm


def test_a_steep_bevel_takes_more_height() -> None:
    ((_, left),) = rims_of(bevelled(2.0, 0.0, 60.0))
    assert left == pytest.approx(8.8 - 2.0 * tan(radians(60.0)))


@pytest.mark.parametrize(
    ("outer", "inner", "alarm"), [(5.0, 5.0, False), (7.0, 6.7, False), (7.0, 6.72, True), (10.0, 5.0, True)]
)
def test_two_bevels_leave_a_face(outer: float, inner: float, alarm: bool) -> None:
    # a wall 14 wide
    layer = replace(
        ring("ring", 120.0, 92.0, 30.0), chamfers=(Chamfer("top outer", outer), Chamfer("top opening", inner))
    )
    ((face, left, _, _),) = faces_left(layer)
    assert (face, left) == ("top", pytest.approx(14.0 - outer - inner))
    assert any("knife" in one.what or "the whole" in one.what for one in found(layer)) is alarm


def test_without_chamfers_nothing_is_said() -> None:
    assert found(ring("ring")) == []


@pytest.mark.parametrize(("at", "out"), [(20.0, None), (40.0, None), (41.0, 1.0), (50.0, 10.0)])
def test_a_recess_through_the_wall(at: float, out: float | None) -> None:
    # Ø20 in a disc of Ø100
    recess = replace(pocket(circle(20.0), 3.0, 0.0), outline=Outline(Circle(20.0), at=(at, 0.0)))
    layer = Layer("a", ASH, 10.0, circle(100.0), recesses=(recess,))
    some = found(layer)
    assert [one.value for one in some] == ([] if out is None else [pytest.approx(out)])
    assert all("runs out through the outer edge" in one.what for one in some)
