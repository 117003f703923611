"""Plays of posts and core by subtraction, and what keeps each joint from sliding."""

from dataclasses import replace
from math import sqrt

import pytest

from stackview.checks.clash import clash
from stackview.checks.line_up import holdings, line_up, passings
from stackview.description.lamp import Core, Layer, Opening, Post
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Regular
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.checks.subjects import ASH, CLEAR, alarms, subject_of
from tests.checks.written import subject as written_subject
from tests.stack.layers import circle, plate, pocket, ring, square


def holed(name: str, outline: Outline, hole: float, count: int = 3, **changes: object) -> Layer:
    layer = Layer(name, ASH, 10.0, outline, openings=(Opening(circle(hole), Around(count, 80.0)),))
    return replace(layer, **changes)  # type: ignore[arg-type]


def pins(across: float, count: int = 3) -> Post:
    return Post("pins", ASH, circle(across), "lower", "upper", Around(count, 80.0))


def pinned(hole: float, across: float, count: int = 3, outline: Outline | None = None) -> Study:
    outline = outline or circle(120.0)
    layers = (holed("lower", outline, hole, count), holed("upper", outline, hole, count))
    return subject_of(*layers, posts=(pins(across, count),))


def test_play_of_pins() -> None:
    subject = pinned(4.0, 3.6)
    passed = passings(subject)
    assert len(passed) == 6  # three pins, two layers
    assert all(one.play == pytest.approx(0.2) for one in passed)
    (joint,) = holdings(subject, passed)
    assert (joint.upper, joint.lower, joint.held_by) == ("upper", "lower", "pins")
    assert joint.slide == pytest.approx(0.4)
    assert not joint.turns


def test_a_hexagonal_core_in_a_round_opening() -> None:
    # Across corners 20/cos 30° = 23.094 mm, in an opening of 24 mm: (24 − 23.094)/2.
    core = Core(ASH, Outline(Regular(6, 20.0)), 40.0, "base", None)
    base = Layer("base", ASH, 10.0, circle(100.0))
    passed = passings(subject_of(base, ring("ring", 100.0, 24.0), core=core))
    assert [one.layer for one in passed] == ["ring"]
    assert passed[0].play == pytest.approx(12.0 - 20.0 / 3.0**0.5, abs=1e-9)


def test_snug_dowels_in_wood_are_meant_so() -> None:
    assert not alarms(line_up(pinned(4.0, 4.0)))


def test_tight_post_in_acrylic_is_a_caution() -> None:
    subject = subject_of(
        holed("lower", circle(120.0), 4.0),
        holed("upper", circle(120.0), 4.04, material=CLEAR),
        posts=(pins(4.0),),
    )
    (found,) = alarms(line_up(subject))
    assert found.where == "pins"
    assert found.value == pytest.approx(0.02)
    assert "in upper" in found.what
    assert [(way.part, way.key, way.guess) for way in found.ways] == [
        ("upper", "size of opening 0", pytest.approx(0.03))  # 0.05 − 0.02
    ]


def test_tight_core_is_a_caution_in_an_opening_but_not_in_its_socket() -> None:
    base = Layer("base", ASH, 10.0, circle(100.0), recesses=(pocket(circle(30.0), 5.0, 0.0),))
    core = Core(ASH, circle(30.0), 25.0, "base", None)
    assert not alarms(line_up(subject_of(base, ring("ring", 100.0, 32.0), core=core)))
    (found,) = alarms(line_up(subject_of(base, ring("ring", 100.0, 30.0), core=core)))
    assert found.where == "core"
    assert found.value == pytest.approx(0.0, abs=1e-9)


def test_recess_holds_and_a_plain_joint_does_not() -> None:
    host = ring("ring", recess=pocket(circle(104.0), 1.5, 0.2, to="plate"))
    subject = subject_of(host, plate("plate", circle(104.0)), ring("upper"))
    first, second = holdings(subject, passings(subject))
    assert (first.held_by, first.slide) == ("the recess in ring", pytest.approx(0.2))
    assert second.slide is None
    (note,) = line_up(subject)
    assert note.level == Level.NOTE
    assert note.what.startswith("1 of 2 have nothing that stops sliding during glue-up: upper on plate")


def test_play_beyond_the_limit_holds_nothing() -> None:
    (joint,) = holdings(pinned(6.4, 4.0), passings(pinned(6.4, 4.0)))  # 1.2 + 1.2 mm
    assert joint.slide is None


@pytest.mark.parametrize(
    ("outline", "count", "turns"),
    [
        (square(120.0), 1, True),
        (square(120.0), 2, False),
        (circle(120.0), 1, False),
    ],
)
def test_one_round_pin_lets_a_square_turn(outline: Outline, count: int, turns: bool) -> None:
    subject = pinned(4.0, 3.6, count, outline)
    (joint,) = holdings(subject, passings(subject))
    assert joint.turns == turns
    assert any("can still turn" in finding.what for finding in line_up(subject)) == turns


def test_spacers_that_pins_pass_are_held() -> None:
    spacers = Layer(
        "spacers", ASH, 5.0, circle(10.0), around=Around(3, 80.0), openings=(Opening(circle(4.0), main=True),)
    )
    layers = (holed("lower", circle(120.0), 4.0), spacers, holed("upper", circle(120.0), 4.0))
    subject = subject_of(*layers, posts=(pins(3.6),))
    assert [joint.held_by for joint in holdings(subject, passings(subject))] == ["pins", "pins"]


def test_turned_layers_line_up_with_turned_holes() -> None:
    layers = (
        holed("lower", circle(120.0), 4.0),
        holed(
            "upper", square(120.0), 4.0, turn=30.0, openings=(Opening(circle(4.0), Around(3, 80.0, -30.0)),)
        ),
    )
    subject = subject_of(*layers, posts=(pins(3.6),))
    assert {round(one.play, 6) for one in passings(subject)} == {0.2}


def test_one_layer_has_no_joint() -> None:
    assert line_up(subject_of(Layer("base", ASH, 10.0, Outline(Circle(100.0))))) == ()


def rod_in(across: float, hole: float, shape: str = "circle = {}") -> Study:
    """A brass rod through two layers whose holes are of one size, from a file."""
    holes = f"opening = {{ {shape.format(hole)} }}\n"
    text = 'name = "x"\ncutter = 3\nmaterials.w = { wood = "ash", sold = 20 }\nmaterials.b = { metal = "brass" }\n'
    text += "".join(
        f'[[layer]]\nname = "{name}"\nmaterial = "w"\noutline = {{ circle = 60 }}\n{holes}'
        for name in ("low", "high")
    )
    text += f'[[post]]\nname = "rod"\nmaterial = "b"\noutline = {{ {shape.format(across)} }}\nfrom = "low"\nto = "high"\n'
    return written_subject(text)


def told(study: Study) -> list[Finding]:
    """What is told of a rod that takes more room than it has, by any check."""
    return [one for one in (*line_up(study), *clash(study)) if one.level == Level.FAULT]


@pytest.mark.parametrize(
    ("across", "hole", "by"),
    [
        (4.0, 4.2, None),
        (4.0, 4.0, None),  # snug, as a dowel is meant
        (4.0, 3.9999, 0.00005),
        (4.0, 3.99, 0.005),
        (4.0, 3.9, 0.05),
        (4.0, 3.8, 0.1),
    ],
)
def test_a_rod_in_a_hole_is_told_from_zero_up(across: float, hole: float, by: float | None) -> None:
    got = told(rod_in(across, hole))
    if by is None:
        assert got == []
    else:
        (one,) = got
        assert (one.check, one.where) == ("line-up", "rod")
        assert one.value == pytest.approx(by, abs=1e-9)
        assert "its hole in low and high" in one.what


@pytest.mark.parametrize("hole", [3.7, 3.5, 3.0])
def test_a_rod_far_too_large_is_told_by_its_clash_alone(hole: float) -> None:
    assert {one.check for one in told(rod_in(4.0, hole))} == {"overlap"}


def test_square_rods_interfere_most_in_their_corners() -> None:
    # sides 10 and 9.9, all corners of radius 2: their arcs' centres lie 0.05 apart both ways
    (one,) = told(rod_in(10.0, 9.9, "rectangle = [{0}, {0}], corner_radius = 2"))
    assert one.value == pytest.approx(0.05 * sqrt(2.0), abs=1e-9)


@pytest.mark.parametrize("hole", [3.99, 3.9, 3.8])
def test_the_wider_hole_that_is_advised_clears_it(hole: float) -> None:
    (one,) = told(rod_in(4.0, hole))
    assert {(way.part, way.key) for way in one.ways} == {
        ("low", "size of opening 0"),
        ("high", "size of opening 0"),
    }
    study = rod_in(4.0, hole + 2.0 * float(one.ways[0].guess))
    assert told(study) == []
    assert [one for one in line_up(study) if one.level >= Level.CAUTION] == []


def test_a_hair_is_never_said_to_be_nothing() -> None:
    (one,) = told(rod_in(4.0, 3.9999))
    assert "it is under 0.0001 mm per side too large" in one.what
