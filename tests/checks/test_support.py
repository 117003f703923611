"""Support: lamps small enough to be worked out by hand, at clearly fine, clearly bad and exactly at the limit.

Sheets are 10 mm thick and of one material; spacers are 6 mm rods on a ring of 120 outside and 92
inside; a block is 40 × 40. What is expected is statics and plane geometry, said beside each lamp.
"""

from math import atan, degrees, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.ledges import ledges
from stackview.checks.standing import standing
from stackview.checks.subject import run_checks
from stackview.checks.support import CHECK, supported
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.checks.written import SOUND, subject

HEAD = 'name = "x"\ncutter = 3\n[materials]\nw = { plywood = "birch", sold = 10, density = 700 }\n'


def layer(name: str, outline: str, *more: str) -> str:
    """One layer as a file writes it; a bare number is the diameter of a round one."""
    outline = f"{{ circle = {outline} }}" if outline.replace(".", "").isdigit() else f"{{ {outline} }}"
    return "\n".join(("[[layer]]", f'name = "{name}"', 'material = "w"', f"outline = {outline}", *more, ""))


def block(name: str, x: float, size: str = "[40, 40]") -> str:
    return layer(name, f"rectangle = {size}, at = [{x}, 0]")


def lamp(*parts: str) -> Study:
    return subject(HEAD + "".join(parts))


def core(across: float = 30.0, more: str = "") -> str:
    return f'[core]\nmaterial = "w"\noutline = {{ circle = {across} }}\nheight = 50\n{more}\n'


def spacers(circle: float, count: int = 3, more: str = "") -> str:
    return layer("spacers", "6", f"around = {{ count = {count}, circle = {circle} }}", more)


BASE, RING = layer("base", "120"), layer("ring", "120", "wall = 14")
UPPER = layer("upper", "120", "wall = 14")


def base_with(across: float, more: str = "") -> str:
    return layer("base", "120", f"opening = {{ circle = {across} }}", more)


def pitted(across: float) -> str:
    """The ring with a recess of that size under each of three spacers on a circle of 106."""
    pits = f"outline = {{ circle = {across} }}, around = {{ count = 3, circle = 106 }}"
    return layer("ring", "120", "wall = 14", f"recess = {{ depth = 2, {pits} }}")


FAULT, CAUTION, NOTE = Level.FAULT, Level.CAUTION, Level.NOTE
# lamp → (level, where, value) of every finding on support
BY_HAND: dict[str, tuple[Study, list[tuple[Level, str, float]]]] = {
    # a core of 30 on an opening in its base
    "core on a closed base": (lamp(BASE, core()), []),
    "core on an opening of 20": (lamp(base_with(20), core()), []),
    "core on an opening that leaves 1 all round": (lamp(base_with(28), core()), []),
    "core on an opening that leaves 0.95": (lamp(base_with(28.1), core()), [(CAUTION, "core", 0.95)]),
    "core on an opening that leaves 0.05": (lamp(base_with(29.9), core()), [(CAUTION, "core", 0.05)]),
    "core over an opening as wide as itself": (lamp(base_with(30), core()), [(FAULT, "core", 0.0)]),
    "the same, facets turned": (lamp(base_with(30, "turn = 7"), core()), [(FAULT, "core", 0.0)]),
    "core over an opening of 40": (lamp(base_with(40), core()), [(FAULT, "core", 0.0)]),
    "tube over an opening as wide as its bore": (lamp(base_with(26), core(30, "wall = 2")), []),
    "tube over an opening that leaves 0.5 of its wall": (
        lamp(base_with(29), core(30, "wall = 2")), [(CAUTION, "core", 0.5)]),
    "core in a recess that it fits": (
        lamp(layer("base", "120", "recess = { depth = 4, outline = { circle = 30.4 } }"), core()), []),
    "core let into a hole as a dowel": (lamp(base_with(30), core(30, "sunk = 5")), [(CAUTION, "core", 0.0)]),
    "core let loosely into a hole": (lamp(base_with(31), core(30, "sunk = 5")), [(FAULT, "core", 0.0)]),
    # spacers about the point d from the axis: their centre is (d² − 46² + 9)/2d inside the hull of what carries them
    "spacers on the middle of the ring": (lamp(RING, spacers(106), UPPER), []),
    "spacers flush with the opening": (lamp(RING, spacers(98), UPPER), []),
    "spacers 1 inside": (lamp(RING, spacers(2.0 * (1.0 + sqrt(2108.0))), UPPER), []),
    "spacers half over": (lamp(RING, spacers(92), UPPER), [(CAUTION, "spacers", 9.0 / 92.0)]),
    "spacers on the verge": (lamp(RING, spacers(2.0 * sqrt(2107.0)), UPPER), [(CAUTION, "spacers", 0.0)]),
    "spacers more than half over": (
        lamp(RING, spacers(91.6), UPPER), [(FAULT, "spacers", (45.8**2 - 2107.0) / 91.6)]),
    # middles 61 from the axis, the ring's edge at 60: what carries is a lens that the edge bounds
    "spacers more than half beside the ring": (
        lamp(RING, spacers(122), UPPER), [(FAULT, "spacers", -1.0)]),
    "spacers through the ring": (lamp(BASE, RING, spacers(80), UPPER), [(CAUTION, "spacers", 10.0)]),
    "taller spacers through the ring that carry the cap": (
        lamp(BASE, RING, spacers(80, more="thickness = 25"), layer("cap", "120")), []),
    "spacers in recesses of their own": (lamp(pitted(6.4), spacers(106), UPPER), []),
    "spacers on recesses that leave 0.1 all round": (
        lamp(pitted(5.8), spacers(106), UPPER),
        [(CAUTION, "spacers", 0.1)],
    ),
    "one spacer": (lamp(RING, spacers(106, 1), UPPER), [(FAULT, "upper", 3.0 - 53.0)]),
    "two spacers": (lamp(RING, spacers(106, 2), UPPER), []),
    # blocks of 40: the margin of one that lies d aside is 20 − d
    "block 19 aside": (lamp(block("a", 0), block("b", 19)), []),
    "block 19.5 aside": (lamp(block("a", 0), block("b", 19.5)), [(CAUTION, "b", 0.5)]),
    "block 20 aside": (lamp(block("a", 0), block("b", 20)), [(CAUTION, "b", 0.0)]),
    "block 20.1 aside": (lamp(block("a", 0), block("b", 20.1)), [(FAULT, "b", -0.1)]),
    "block 39.5 aside": (lamp(block("a", 0), block("b", 39.5)), [(FAULT, "b", -19.5)]),
    # steps of 10: under the first of N steps 20 − 10 − 5(N − 1) with its load
    "two steps": (lamp(*(block(f"b{k}", 10 * k) for k in range(3))), []),
    "three steps": (lamp(*(block(f"b{k}", 10 * k) for k in range(4))), [(CAUTION, "b1", 0.0)]),
    "four steps": (lamp(*(block(f"b{k}", 10 * k) for k in range(5))), [(FAULT, "b1", -5.0)]),
    "three steps of 9.8": (lamp(*(block(f"b{k}", 9.8 * k) for k in range(4))), [(CAUTION, "b1", 0.4)]),
    "steps of 9.5 are 1 inside": (lamp(*(block(f"b{k}", 9.5 * k) for k in range(4))), []),
    # a beam on a block at its end, and on the core in its middle
    "beam on one block": (
        lamp(BASE, block("a", -40, "[20, 20]"), block("beam", 0, "[100, 20]")), [(FAULT, "beam", -30.0)]),
    "beam on a block and a core": (
        lamp(BASE, block("a", -40, "[20, 20]"), block("beam", 0, "[100, 20]"), core(20).replace("50", "10")), []),
    # a plate that lies on a narrow ledge without a recess is told by its ledge
    "plate with a ledge of 0.05": (lamp(RING, layer("plate", "92.1")), []),
    "plate as wide as the opening, base below": (
        lamp(BASE, RING, layer("plate", "92", "thickness = 5"), layer("cap", "120")), [(NOTE, "plate", 10.0)]),
    "plate in the opening, flush, that helps to carry the cap": (
        lamp(BASE, RING, layer("plate", "92"), layer("cap", "120")), []),
    "lid that falls in": (lamp(BASE, RING, layer("lid", "90")), [(NOTE, "lid", 10.0)]),
    # a ring of wall 0.5 on a plate
    "ring with a wall of 0.9": (lamp(BASE, layer("thin", "100", "wall = 0.9")), [(CAUTION, "thin", 0.9)]),
    "ring with a wall of 1": (lamp(BASE, layer("thin", "100", "wall = 1")), []),
    # chamfers count: 5 of a face 6 wide leave 1, 5.5 leave 0.5
    "ring whose chamfers leave 1": (
        lamp(BASE, layer("thin", "100", "wall = 6", 'chamfer = { edge = "underside outer", width = 5 }')), []),
    "ring whose chamfers leave 0.5": (
        lamp(BASE, layer("thin", "100", "wall = 6", 'chamfer = { edge = "underside outer", width = 5.5 }')),
        [(CAUTION, "thin", 0.5)]),
}  # fmt: skip


@pytest.mark.parametrize("name", BY_HAND)
def test_by_hand(name: str) -> None:
    study, expected = BY_HAND[name]
    got = [(one.level, one.where, one.value) for one in supported(study)]
    assert got == [(level, where, pytest.approx(value, abs=0.005)) for level, where, value in expected]


FEET = "[feet]\ncount = {count}\ndiameter = 10\nheight = 3\ncircle = {circle}\nfirst = {first}\n"


def feet(circle: float, count: int = 4, first: float = 0.0) -> str:
    return FEET.format(count=count, circle=circle, first=first)


LONG = layer("base", "rectangle = [100, 40]")
# lamp → (level, value) of the finding on feet
ON_FEET: dict[str, tuple[Study, list[tuple[Level, float]]]] = {
    "under a round base": (lamp(BASE, feet(100)), []),
    "two of four beside a long base": (lamp(LONG, feet(90)), [(FAULT, 2.0)]),
    "within a long base": (lamp(LONG, feet(30)), []),
    "with their middles on the edge": (lamp(LONG, feet(40, 2)), []),
    "half a millimetre beyond": (lamp(LONG, feet(41, 2)), [(CAUTION, 1.0)]),
    # only 0.6 of each foot lies under the base, whose edge is 20 off
    "touching by 0.6": (lamp(LONG, feet(48.8, 2)), [(CAUTION, 0.6)]),
    "under an opening of 40": (lamp(base_with(40), feet(20)), [(FAULT, 4.0)]),
    "in a recess": (
        lamp(layer("base", "120", 'recess = { face = "underside", depth = 2, outline = { circle = 90 } }'), feet(60)),
        [(FAULT, 4.0)]),
}  # fmt: skip


@pytest.mark.parametrize("name", ON_FEET)
def test_feet(name: str) -> None:
    study, expected = ON_FEET[name]
    got = [(one.level, one.value) for one in supported(study) if one.where == "feet"]
    assert got == [(level, pytest.approx(value, abs=0.005)) for level, value in expected]


def test_a_lamp_tips_over_the_feet_that_carry_it_alone() -> None:
    # Four feet of 10 at 45 from the axis of a base 100 × 40: those in front and behind stand beside it, so that
    # it tips over a band as wide as the two others, 5 to each side. One sheet of 10 on feet of 3; rubber is heavier.
    on_two, on_four = lamp(LONG, feet(90)), lamp(LONG, feet(30))
    (narrow,), (wide,) = standing(on_two), standing(on_four)
    height = float(narrow.what.split("centre of mass ")[1].split(" mm")[0])
    assert narrow.value == pytest.approx(degrees(atan(5.0 / height)), abs=0.1)
    # four at 15: the hull's near side is the line between two discs of 5, 15/√2 + 5 off
    height = float(wide.what.split("centre of mass ")[1].split(" mm")[0])
    assert wide.value == pytest.approx(degrees(atan((15.0 / sqrt(2.0) + 5.0) / height)), abs=0.1)


def test_a_lamp_none_of_whose_feet_carries_stands_on_its_base() -> None:
    (found,) = standing(lamp(base_with(40), feet(20)))
    height = float(found.what.split("centre of mass ")[1].split(" mm")[0])
    assert found.value == pytest.approx(degrees(atan(60.0 / height)), abs=0.1)


PIN = (
    '[[post]]\nname = "pins"\nmaterial = "w"\noutline = {{ circle = {across} }}\nfrom = "low"\nto = "high"\n'
    "inset = [{low}, 3]\naround = {{ count = 3, circle = 100 }}\n"
)
HOLES = "outline = { circle = 4 }, around = { count = 3, circle = 100 }"


def pinned(low: float, across: float = 3.6) -> Study:
    """Pins in blind holes 7 deep: the floor of the lower ones is 3 up, where an inset of 3 ends."""
    lower = layer("low", "120", f"recess = {{ depth = 7, {HOLES} }}")
    upper = layer("high", "120", f'recess = {{ face = "underside", depth = 7, {HOLES} }}')
    return lamp(lower, upper, PIN.format(across=across, low=low))


@pytest.mark.parametrize(
    ("low", "across", "drop"),
    [
        (3.0, 3.6, None),
        (3.2, 3.6, None),
        (4.0, 3.6, None),
        (4.5, 3.6, 1.5),
        (6.0, 3.6, 3.0),
        (6.0, 4.0, None),
    ],
)
def test_pins_that_sink(low: float, across: float, drop: float | None) -> None:
    got = supported(pinned(low, across))
    if drop is None:
        assert got == ()
    else:
        (one,) = got
        assert (one.level, one.where, one.value) == (CAUTION, "pins", pytest.approx(drop))
        assert "onto low" in one.what


@pytest.mark.parametrize(
    ("across", "left"), [(92.1, 0.05), (97.0, 2.5), (97.98, 2.99), (98.0, None), (110.0, None)]
)
def test_ledges_without_a_recess(across: float, left: float | None) -> None:
    got = ledges(lamp(RING, layer("plate", str(across))))
    if left is None:
        assert got == []
    else:
        ((found, names),) = got
        assert names == ("ring",)
        assert found.value == pytest.approx(left)


def test_a_bar_across_an_opening_is_no_ledge() -> None:
    assert ledges(lamp(RING, block("bar", 0, "[110, 20]"))) == []


def test_a_ledge_that_its_chamfer_takes_carries_nothing_and_only_its_bevel_catches_the_plate() -> None:
    # a ledge 6 wide, of which the chamfer takes 7: the plate slides down the bevel by 1, not to the base
    bevelled = layer("ring", "120", "wall = 14", 'chamfer = { edge = "top opening", width = 7 }')
    study = lamp(BASE, bevelled, layer("plate", "104"))
    (found,) = supported(study)
    assert (found.level, found.where) == (FAULT, "plate")
    assert "only a bevel or a groove of ring would catch it, lower down" in found.what
    assert ledges(study) == []
    left = layer("ring", "120", "wall = 14", 'chamfer = { edge = "top opening", width = 3 }')
    assert supported(lamp(BASE, left, layer("plate", "104"))) == ()


def alarms(study: Study) -> list[Finding]:
    return [one for one in run_checks(study, ALL_CHECKS) if one.level >= CAUTION]


def test_one_cause_is_one_finding() -> None:
    (found,) = [one for one in alarms(lamp(RING, spacers(91.6), UPPER)) if one.where == "spacers"]
    assert "3 of its 3 pieces tip off ring" in found.what
    (found,) = [one for one in alarms(lamp(base_with(40), core())) if "core" in one.where]
    assert "over an opening of base that leaves nothing under it, and would drop 10 mm" in found.what


def test_what_is_advised_mends_it() -> None:
    bad = base_with(40)
    assert any(one.check == "support" for one in alarms(lamp(bad, core())))
    closed, smaller, wider = lamp(BASE, core()), lamp(base_with(20), core()), lamp(bad, core(50))
    for study in (closed, smaller, wider):
        assert supported(study) == ()


def test_misfits_and_what_nothing_carries_are_told_once() -> None:
    through = lamp(RING, layer("plate", "80"))
    assert supported(through) == ()
    assert [one.check for one in alarms(through) if one.where == "plate"] == ["support"]


def test_a_pendant_is_not_held_to_what_would_tip_it() -> None:
    steps = "".join(block(f"b{k}", 10 * k) for k in range(5))
    hung = subject(HEAD.replace("[materials]", "pendant = { underside = 1500 }\n[materials]") + steps)
    assert supported(hung) == ()


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert supported(subject(SOUND)) == ()


def test_the_check_lists_its_limits() -> None:
    assert CHECK.limits == ("carried_width", "carried_inside", "pin_drop")


@given(
    across=st.floats(80.0, 200.0),
    wall=st.floats(8.0, 20.0),
    ledge=st.floats(3.0, 5.0),
    sides=st.sampled_from([0, 4, 5, 6, 8]),
    turn=st.floats(0.0, 90.0),
    count=st.integers(3, 6),
    feet_too=st.booleans(),
)
def test_a_sound_lamp_of_any_shape_raises_no_alarm(
    across: float, wall: float, ledge: float, sides: int, turn: float, count: int, feet_too: bool
) -> None:
    def shape(size: float) -> str:
        return f"sides = {sides}, across_flats = {size}" if sides else f"circle = {size}"

    ring = (f"wall = {wall}", f"turn = {turn}")
    middle = across - wall
    rods = f"around = {{ count = {count}, circle = {middle}, first = {turn} }}"
    plate_across = across - 2.0 * wall + 2.0 * ledge
    study = lamp(
        layer("base", shape(across), f"turn = {turn}"),
        layer("ring", shape(across), *ring, "recess = { depth = 2, clearance = 0.3 }"),
        layer("plate", shape(plate_across) + (", corner_radius = 3" if sides else ""), f"turn = {turn}"),
        layer("upper", shape(across), *ring),
        *([] if sides else [layer("rods", "5", rods), layer("top", shape(across), *ring)]),
        layer("cap", shape(across), f"turn = {turn}"),
        core(20.0).replace("height = 50", "height = 12"),
        feet(0.6 * across, 3) if feet_too else "",
    )
    assert supported(study) == ()


@given(
    d=st.floats(0.0, 60.0),
    side=st.floats(20.0, 60.0),
    bearing=st.sampled_from([(1, 0), (-1, 0), (0, 1), (0, -1)]),
)
def test_a_block_pushed_aside_tips_when_its_middle_leaves_the_one_below(
    d: float, side: float, bearing: tuple[int, int]
) -> None:
    size = f"rectangle = [{side}, {side}]"
    at = f"[{d * bearing[0]}, {d * bearing[1]}]"
    study = lamp(layer("a", size), layer("b", f"{size}, at = {at}"))
    got = [one for one in supported(study) if one.where == "b"]
    margin = 0.5 * side - d
    if side - d < 0.01 or abs(margin) < 0.01 or abs(margin - 1.0) < 0.01:
        return
    if margin > 1.0:
        assert got == []
    else:
        (one,) = got
        assert one.level == (FAULT if margin < 0.0 else CAUTION)
        assert one.value == pytest.approx(margin, abs=0.005)


def test_copies_with_one_flaw_are_one_finding() -> None:
    ring = layer("ring", "120", "wall = 14")
    text = "".join(
        part.replace('name = "ring"', f'name = "ring {k}"') for k, part in enumerate([ring] * 2, 1)
    )
    rods = [spacers(91.6).replace('"spacers"', f'"spacers {k}"') for k in (1, 2)]
    one, two = text.split("[[layer]]")[1:]
    study = lamp("[[layer]]" + one, rods[0], "[[layer]]" + two, rods[1], UPPER)
    (found,) = [one for one in alarms(study) if one.check == "support"]
    assert found.parts == ("spacers 1", "spacers 2")
    assert found.where == "spacers 1 and spacers 2"


def test_spacers_that_stand_on_spacers_that_went_through_are_told_with_them() -> None:
    first, second = (spacers(80).replace('"spacers"', f'"spacers {k}"') for k in (1, 2))
    study = lamp(BASE, RING, first, UPPER, second, layer("top", "120", "wall = 14"))
    assert study.stack.supports.passed == (("spacers 1", "ring"), ("spacers 2", "upper"))
    (found,) = [one for one in alarms(study) if one.check == "support"]
    assert (found.level, found.parts) == (CAUTION, ("spacers 1", "spacers 2"))
