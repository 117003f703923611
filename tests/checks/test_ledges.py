"""Ledge under a plate: the plate's edge less the opening's, less chamfers."""

from dataclasses import replace

import pytest

from stackview.checks.ledges import ledges, ledges_of
from stackview.description.lamp import Chamfer, Layer
from tests.checks.subjects import subject_of
from tests.stack.layers import circle, plate, pocket, ring


def lamp(plate_across: float, *chamfers: Chamfer, on_plate: float = 0.0) -> tuple[Layer, Layer]:
    host = ring("ring", recess=pocket(circle(plate_across), 2.0, to="plate"))
    lying = plate("plate", circle(plate_across))
    bevel = (Chamfer("underside outer", on_plate),) if on_plate else ()
    return replace(host, chamfers=chamfers), replace(lying, chamfers=bevel)


@pytest.mark.parametrize(
    ("across", "chamfers", "on_plate", "width", "left"),
    [
        (104.0, (), 0.0, 6.0, 6.0),
        (98.0, (), 0.0, 3.0, 3.0),
        (104.0, (Chamfer("top opening", 1.0),), 0.0, 6.0, 5.0),
        (104.0, (Chamfer("underside opening", 1.0),), 0.0, 6.0, 6.0),
        (104.0, (Chamfer("top opening", 1.0),), 0.5, 6.0, 4.5),
    ],
)
def test_width(
    across: float, chamfers: tuple[Chamfer, ...], on_plate: float, width: float, left: float
) -> None:
    host, lying = lamp(across, *chamfers, on_plate=on_plate)
    subject = subject_of(host, lying)
    (ledge,) = ledges_of(lying, host, subject.stack.seats[0])
    assert ledge.width == pytest.approx(width)
    assert ledge.width - ledge.bevels == pytest.approx(left)
    assert ledges(subject) == []


def test_narrow_ledge() -> None:
    ((found, names),) = ledges(subject_of(*lamp(97.0)))
    assert names == ("ring",)
    assert (found.value, found.limit) == (pytest.approx(2.5), 3.0)
    assert [(way.part, way.key, way.guess) for way in found.ways] == [
        ("ring", "size of opening 0", pytest.approx(-0.5)),
        ("plate", "size of outline", pytest.approx(0.5)),
    ]


def test_chamfer_that_eats_the_ledge() -> None:
    ((found, _),) = ledges(subject_of(*lamp(100.0, Chamfer("top opening", 1.5))))
    assert found.value == pytest.approx(2.5)
    assert "of which chamfers take 1.5 mm" in found.what


def test_plate_from_below() -> None:
    recess = pocket(circle(97.0), 2.0, to="plate", face="underside")
    host = ring("ring", recess=recess)
    ((found, _),) = ledges(subject_of(plate("plate", circle(97.0)), host))
    assert found.value == pytest.approx(2.5)


def test_turned_plates_and_hosts() -> None:
    host, lying = lamp(104.0)
    host, lying = replace(host, turn=17.0), replace(lying, turn=40.0)
    subject = subject_of(host, lying)
    assert ledges_of(lying, host, subject.stack.seats[0])[0].width == pytest.approx(6.0)


@pytest.mark.parametrize(
    ("across", "says"),
    [(94.0, "only 1 mm wide"), (92.0, "no ledge is left")],
)
def test_no_ledge_is_not_said_as_nought(across: float, says: str) -> None:
    host = ring("ring", recess=pocket(circle(across), 2.0, to="plate", face="underside"))
    found = [finding for finding, _ in ledges(subject_of(plate("plate", circle(across)), host))]
    assert [says in finding.what and "0 mm" not in finding.what for finding in found] == [True]
