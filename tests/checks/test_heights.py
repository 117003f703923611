"""Total height by hand, and plates flush, proud and sunk by thickness less depth."""

from dataclasses import replace
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.checks.heights import CHECK, chain_of, heights
from stackview.checks.subject import run_checks
from stackview.description.lamp import Layer
from stackview.description.units import MILLIMETRES
from stackview.findings import Level
from stackview.study import Study
from tests.checks.subjects import ASH, CLEAR, alarms, sheet, subject_of
from tests.stack.layers import circle, plate, pocket, ring


def stack_of(depth: float, sold: float, measured: float | None):  # type: ignore[no-untyped-def]
    """A ring, a plate in its recess, and a ring on top."""
    lying = replace(
        plate("plate", circle(104.0), measured if measured is not None else sold),
        material=sheet(CLEAR, sold, measured),
    )
    host = ring("ring", recess=pocket(circle(104.0), depth, to="plate"))
    return subject_of(host, lying, ring("upper"))


def test_height_is_thicknesses_less_recesses() -> None:
    subject = stack_of(1.5, 4.0, 3.8)
    chain = chain_of(subject)
    assert chain.measured == pytest.approx(10.0 + 3.8 - 1.5 + 10.0)
    assert chain.sold == pytest.approx(10.0 + 4.0 - 1.5 + 10.0)
    assert chain.measured == pytest.approx(subject.stack.height)


def test_films_of_glue_add_up() -> None:
    # Both joints of the plate have the film of the lamp's glue for acrylic; wood on wood that for wood.
    subject = stack_of(1.5, 4.0, 3.8)
    films = 2.0 * subject.lamp.gluing.acrylic.film
    assert f"glue in 2 joints adds up to {MILLIMETRES.show(films)}" in heights(subject)[0].what
    wooden = subject_of(ring("ring"), ring("upper"))
    assert (
        f"glue in 1 joint adds up to {MILLIMETRES.show(wooden.lamp.gluing.wood.film)}"
        in heights(wooden)[0].what
    )


def test_a_plate_that_is_sunk_carries_nothing() -> None:
    subject = stack_of(5.0, 4.0, 3.8)
    assert chain_of(subject).measured == pytest.approx(20.0) == pytest.approx(subject.stack.height)
    assert [layer.name for layer in chain_of(subject).layers] == ["ring", "upper"]


def test_worst_case_and_root_sum_of_squares_of_the_total() -> None:
    # Two planed rings ±0.5, a cast plate of 4 mm ±0.8 (ISO 7823-1), one recess ±0.1.
    total = heights(stack_of(1.5, 4.0, None))[0]
    assert "±1.9 mm at worst" in total.what
    assert f"±{sqrt(0.5**2 + 0.5**2 + 0.8**2 + 0.1**2):.2f} mm as the root sum" in total.what
    assert "glue in 2 joints adds up to" in total.what
    assert total.level == Level.FACT


@pytest.mark.parametrize(
    ("depth", "measured", "word", "level"),
    [
        (4.0, 4.0, "flush", Level.FACT),
        (4.0, 3.8, "0.2 mm sunk", Level.CAUTION),  # as deep as it is sold thick: meant flush
        (4.0, 4.3, "0.3 mm proud", Level.CAUTION),
        (4.0, 3.95, "0.05 mm sunk", Level.FACT),  # within what a fingernail feels
        (1.5, 3.8, "2.3 mm proud", Level.FACT),  # never meant flush
        (6.0, 3.8, "2.2 mm sunk", Level.FACT),
    ],
)
def test_flush_proud_sunk(depth: float, measured: float, word: str, level: Level) -> None:
    found = heights(stack_of(depth, 4.0, measured))[1]
    assert word in found.what
    assert found.level == level
    assert found.value == pytest.approx(measured - depth)
    if level == Level.CAUTION:
        assert [(way.part, way.key, way.guess) for way in found.ways] == [
            ("ring", "depth of recess 0", measured)
        ]


def test_the_advice_mends() -> None:
    assert alarms(heights(stack_of(4.0, 4.0, 3.8)))
    assert not alarms(heights(stack_of(3.8, 4.0, 3.8)))


def test_seats_alike_are_one_finding() -> None:
    layers: list[Layer] = []
    for number in range(5):
        recess = pocket(circle(104.0), 1.5, to=f"plate {number}")
        layers += [ring(f"ring {number}", recess=recess), plate(f"plate {number}", circle(104.0), 4.0)]
    found = run_checks(subject_of(*layers), (CHECK,))
    assert len(found) == 2
    assert found[1].where == "plate 0 in ring 0, plate 1 in ring 1 and 3 more, to plate 4 in ring 4"
    assert found[1].parts == tuple(layer.name for layer in layers)


def test_one_layer_has_a_height_and_no_glue() -> None:
    (found,) = heights(subject_of(Layer("base", sheet(ASH, 18.0, 17.4), 17.4, circle(100.0))))
    assert found.value == pytest.approx(17.4)
    assert "glue" not in found.what


@settings(max_examples=15, deadline=None)
@given(scale=st.floats(0.5, 4.0))
def test_scaling_a_lamp_scales_its_height(scale: float) -> None:
    def lamp(by: float) -> float:
        host = ring("ring", 120.0 * by, 92.0 * by, 10.0 * by, pocket(circle(104.0 * by), 1.5 * by, 0.2 * by))
        return chain_of(subject_of(host, plate("plate", circle(104.0 * by), 4.0 * by))).measured

    assert lamp(scale) == pytest.approx(scale * lamp(1.0))


def between(below: float, above: float, thick: float = 4.0) -> Study:
    """A plate that lies in a recess of the ring below and of the ring above."""
    lying = replace(plate("plate", circle(104.0), thick), material=sheet(CLEAR, thick, thick))
    host = ring("ring", recess=pocket(circle(104.0), below, to="plate"))
    over = ring("upper", recess=pocket(circle(104.0), above, to="plate", face="underside"))
    return subject_of(host, lying, over)


@pytest.mark.parametrize(
    ("below", "above", "room", "level", "words"),
    [
        (2.0, 2.0, 0.0, Level.NOTE, "held without play"),
        (2.0, 2.1, 0.1, Level.NOTE, "rattles by 0.1 mm"),
        (2.0, 1.9, -0.1, Level.NOTE, "squeezed, and holds the two 0.1 mm apart"),
        (2.0, 2.11, 0.11, Level.CAUTION, "rattles by 0.11 mm"),
        (2.5, 2.0, 0.5, Level.CAUTION, "rattles by 0.5 mm"),
        (1.5, 2.0, -0.5, Level.CAUTION, "holds the two 0.5 mm apart"),
    ],
)
def test_a_plate_between_two_recesses(
    below: float, above: float, room: float, level: Level, words: str
) -> None:
    study = between(below, above)
    (found,) = [one for one in heights(study) if "between" in one.where]
    assert found.where == "plate between ring and upper"
    assert found.value == pytest.approx(room, abs=1e-9)
    assert found.level == level
    assert words in found.what
    # caliper 0.05 and twice the depth of a cut, 0.1: 0.25 at worst, √(0.05² + 2 × 0.1²) = 0.15
    assert "±0.25 mm at worst, ±0.15 mm" in found.what
    if room + 0.25 > 0.0:
        assert f"up to {MILLIMETRES.show(room + 0.25)} of room" in found.what
    if room - 0.25 < 0.0:
        assert f"holds them {MILLIMETRES.show(0.25 - room)} apart" in found.what
    upper, lower = study.stack.part("upper"), study.stack.part("ring")
    assert upper.underside - lower.top == pytest.approx(max(-room, 0.0))


@pytest.mark.parametrize(("below", "above"), [(2.5, 2.0), (1.5, 2.0), (3.3, 1.9)])
def test_the_depth_that_is_advised_ends_the_rattle(below: float, above: float) -> None:
    (found,) = [one for one in alarms(heights(between(below, above))) if "between" in one.where]
    depths = {way.part: float(way.guess) for way in found.ways}
    for lower, upper in ((below, depths.get("upper")), (depths.get("ring"), above)):
        if lower is not None and upper is not None:
            study = between(lower, upper)
            assert [one for one in alarms(heights(study)) if "between" in one.where] == []
    assert depths


def test_a_plate_in_one_recess_alone_is_not_between_two() -> None:
    assert not [one for one in heights(stack_of(1.5, 4.0, 3.8)) if "between" in one.where]
