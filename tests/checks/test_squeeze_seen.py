from collections.abc import Iterator
from dataclasses import replace
from math import atan2, degrees, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.checks import squeeze_seen
from stackview.checks.squeeze_seen import AllParts, Onlookers, shows
from stackview.description.lamp import Eye, Lamp, Layer, Opening, Surface
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Rectangle, Regular
from stackview.sight.scene import scene_of
from stackview.stack.assembly import assemble
from stackview.stack.joints import joints
from tests.stack.layers import ASH, circle, plate, pocket, ring


def seen(*layers: Layer, upper: str, room: Onlookers = Onlookers()):  # type: ignore[no-untyped-def]
    stack = assemble(Lamp("test", "mm", layers))
    (joint,) = [one for one in joints(stack) if one.upper.name == upper]
    return shows(AllParts(scene_of(stack.placed), stack.placed), joint, room)


def test_inside_a_closed_drum_nothing_is_seen() -> None:
    base, cap = Layer("base", ASH, 10.0, circle(120.0)), Layer("cap", ASH, 10.0, circle(120.0))
    assert seen(base, ring("ring"), cap, upper="ring") is None


def test_in_an_open_bowl_the_far_edge_is_seen_from_above_only() -> None:
    base = Layer("base", ASH, 10.0, circle(120.0))
    found = seen(base, ring("ring"), upper="ring")
    assert found is not None
    assert not found.glazed
    # over the near wall, 10 high, from the far edge 92 away: atan(9.8/91.8) at the flattest
    assert 5.0 < found.low < 8.0
    assert found.high > 85.0


def test_an_eye_is_named_where_its_own_line_passes_the_rim() -> None:
    # from the far edge, 10.2 up, over the near rim at 20, 91.8 away, 68.5 up where the eye is, 545.8 away
    base = Layer("base", ASH, 10.0, circle(120.0))
    eyes = tuple(Eye(f"{up}", 500.0, 740.0 + up) for up in (64.0, 72.0))
    found = seen(base, ring("ring"), upper="ring", room=Onlookers(eyes, 740.0))
    assert found is not None
    assert found.eyes == ("72.0",)


def test_a_table_hides_what_is_seen_from_below_it() -> None:
    # Under the lid's ring, from the far edge, 29.8 up: below its near lower edge, 9.8 down after 91.8, and over the
    # base's, 19.8 down after 105.8; a round table with its edge 200 from the axis hides what falls 29.8 in 245.8.
    pieces = Around(3, 106.0, 0.0)
    lamp = (
        Layer("base", ASH, 10.0, circle(120.0)),
        Layer("spacers", ASH, 10.0, circle(8.0), around=pieces),
        ring("ring"),
        Layer("cap", ASH, 10.0, circle(120.0)),
    )
    eyes = tuple(
        Eye(name, 1000.0, 740.0 + 29.8 - slope * 1045.8)
        for name, slope in (("flat", 0.115), ("steep", 0.162))
    )
    free = seen(*lamp, upper="cap", room=Onlookers(eyes, 740.0))
    small = seen(*lamp, upper="cap", room=Onlookers(eyes, 740.0, Surface(740.0, (400.0,))))
    assert free is not None
    assert small is not None
    assert free.eyes == ("flat", "steep")
    assert free.low < -degrees(atan2(19.8, 105.8))
    assert small.eyes == ("flat",)
    assert free.high == small.high == pytest.approx(-degrees(atan2(9.8, 91.8)), abs=0.1)
    # seen a little aside the table's edge is nearer by some millimetres
    assert -7.4 < small.low < -degrees(atan2(29.8, 245.8)) + 0.01
    assert seen(*lamp, upper="cap", room=Onlookers(eyes, 740.0, Surface(740.0, (2000.0, 2000.0)))) is None


@pytest.mark.filterwarnings("error")
def test_an_edge_straight_below_the_glue_hides_what_one_beside_it_does() -> None:
    # Glue is looked at 0.2 from the upper ring's inner sides, 45.8 from the axis: there the lower opening has its own.
    at, beside = (
        seen(square("lower", wide), square("middle", 91.0), square("upper", 92.0), upper="upper")
        for wide in (91.6, 91.6004)
    )
    assert at is not None
    assert beside is not None
    assert (at.low, at.high) == pytest.approx((beside.low, beside.high), abs=0.01)


AROUND = Onlookers(
    tuple(Eye(f"{up}", 600.0, 740.0 + up) for up in (-100.0, 40.0, 250.0, 900.0)),
    740.0,
    Surface(740.0, (300.0, 500.0), (20.0, -40.0)),
)


def square(name: str, wide: float) -> Layer:
    """A square ring 120 across."""
    opening = Opening(Outline(Rectangle(wide, wide)), main=True)
    return Layer(name, ASH, 10.0, Outline(Rectangle(120.0, 120.0)), openings=(opening,))


def chimney(tall: int, *top: Layer) -> tuple[Layer, ...]:
    """Alike rings, each 10 high and 92 wide inside, on a base."""
    rings = (ring(f"ring {number}") for number in range(tall))
    return Layer("base", ASH, 10.0, circle(120.0)), *rings, *top


def test_from_deep_in_an_open_chimney_only_what_passes_its_rim_is_seen() -> None:
    for tall in (3, 12, 40):
        found = seen(*chimney(tall), upper="ring 0")
        assert found is not None
        # from the far edge over the near rim, 10·tall above the base and 92 across: below that all is wall
        assert found.low == pytest.approx(degrees(atan2(10.0 * tall - 0.2, 91.8)), abs=0.6)
        assert found.high == 90.0


def test_a_cap_far_above_hides_a_joint_all_the_same() -> None:
    cap = Layer("cap", ASH, 10.0, circle(120.0))
    assert seen(*chimney(40, cap), upper="ring 0") is None


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many parts were looked at together, each time."""
    found: list[int] = []
    look = squeeze_seen._open_among

    def counted(scene, *rest):  # type: ignore[no-untyped-def]
        found.append(len(scene.names))
        return look(scene, *rest)

    monkeypatch.setattr(squeeze_seen, "_open_among", counted)
    return found


def test_between_plates_a_joint_in_a_tall_lamp_asks_the_layers_near_to_it(asked: list[int]) -> None:
    tiers = (
        one for k in range(30) for one in (ring(f"ring {k}"), Layer(f"shut {k}", ASH, 4.0, circle(120.0)))
    )
    assert seen(Layer("base", ASH, 10.0, circle(120.0)), *tiers, upper="ring 15") is None
    assert asked == [max(asked)]
    assert max(asked) <= 20


def test_in_a_chimney_ten_times_as_tall_a_joint_asks_hardly_more(asked: list[int]) -> None:
    for tall in (40, 400):
        asked.clear()
        found = seen(*chimney(tall), upper=f"ring {tall // 2}")
        assert found is not None
        assert found.low == pytest.approx(degrees(atan2(5.0 * tall - 0.2, 91.8)), abs=0.6)
        assert sum(asked) <= 45


def drawn(by: float, *more: Layer, tall: int = 45) -> tuple[Layer, ...]:
    """Rings on a base, 3 high, each ``by`` wider than the one below."""
    rings = (ring(f"ring {k}", 150.0 + by * k, 120.0 + by * k, 3.0) for k in range(tall))
    return Layer("base", ASH, 10.0, circle(150.0)), *rings, *more


def hexagons(tall: int = 45) -> Iterator[Layer]:
    """Six-sided rings, each turned by a little more than the one below, some with a plate let in."""
    let_in = pocket(circle(128.0), 2.0)
    for k in range(tall):
        through = Opening(Outline(Regular(6, 110.0)), main=True)
        shape = Outline(Regular(6, 160.0), turn=2.0 * k)
        recess = (let_in,) if k % 15 == 14 else ()
        yield Layer(f"ring {k}", ASH, 6.0, shape, openings=(through,), recesses=recess)
        if recess:
            yield replace(plate(f"plate {k}", circle(128.0)), openings=(Opening(circle(60.0 + k)),))


TALL = {
    "straight": drawn(0.0),
    "wider": drawn(0.7),
    "narrower": drawn(-1.1),
    "bulging": tuple(
        ring(f"ring {k}", *(diameter + 40.0 * sin(k / 14.0) for diameter in (150.0, 120.0)), 3.0)
        for k in range(45)
    ),
    "capped": drawn(0.3, Layer("cap", ASH, 10.0, circle(200.0))),
    "slits": tuple(
        one
        for k in range(25)
        for one in (ring(f"ring {k}", 150.0, 110.0, 6.0), ring(f"spacer {k}", 150.0, 138.0, 4.0))
    ),
    "turned, with plates": tuple(hexagons()),
}


@pytest.mark.parametrize("lamp", TALL)
def test_few_parts_and_prisms_say_what_all_parts_say(lamp: str, asked: list[int]) -> None:
    stack, room = assemble(Lamp("test", "mm", TALL[lamp])), AROUND
    among, all_joints = AllParts(scene_of(stack.placed), stack.placed), joints(stack)
    for joint in all_joints[:: max(1, len(all_joints) // 12)]:
        places, inwards = squeeze_seen._beads(joint)
        whole = squeeze_seen._told(squeeze_seen._open_among(among.scene, places, inwards, room), places, room)
        asked.clear()
        assert squeeze_seen._bare(among, places, inwards, room) == whole
    assert len(stack.placed) > squeeze_seen._FEW


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(70.0, 140.0), st.floats(8.0, 30.0), st.sampled_from([2.0, 3.0, 9.0])),
        min_size=32,
        max_size=60,
    )
)
def test_few_parts_and_prisms_say_what_all_parts_say_of_any_tower(
    rings: list[tuple[float, float, float]],
) -> None:
    layers = [
        ring(f"ring {k}", inner + 2.0 * wall, inner, thick) for k, (inner, wall, thick) in enumerate(rings)
    ]
    stack = assemble(Lamp("test", "mm", tuple(layers)))
    among, room = AllParts(scene_of(stack.placed), stack.placed), AROUND
    for joint in joints(stack)[::7]:
        places, inwards = squeeze_seen._beads(joint)
        whole = squeeze_seen._told(squeeze_seen._open_among(among.scene, places, inwards, room), places, room)
        assert squeeze_seen._bare(among, places, inwards, room) == whole
