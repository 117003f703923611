"""A stack against its core: movement through the thickness by hand, and the room that it takes up."""

from dataclasses import replace

import pytest

from stackview.checks.core_movement import against_the_core, braced, shrinkage
from stackview.checks.wood_movement import equilibrium_moisture
from stackview.findings import Level
from stackview.study import Study
from tests.checks.written import subject

STACK = """
name = "x"
materials.oak = { wood = "red oak", sold = 20 }
materials.rod = { metal = "aluminium" }
layer = [
    { name = "base", material = "oak", outline = { circle = 120 } },
    { name = "a", material = "oak", outline = { circle = 120 }, opening = { circle = 60 } },
    { name = "b", material = "oak", outline = { circle = 120 }, opening = { circle = 60 } },
    { name = "c", material = "oak", outline = { circle = 120 }, opening = { circle = 60 } },
    { name = "d", material = "oak", outline = { circle = 120 }, opening = { circle = 60 } },
    { name = "cap", material = "oak", outline = { circle = 120 } },
]
core = { material = "rod", outline = { circle = 30 }, stands_on = "base", height = 80 }
"""


def change(of: Study) -> float:
    """Loss of moisture from the workshop to the driest room [%]."""
    rooms = of.lamp.rooms
    content = [equilibrium_moisture(one.celsius, one.humidity) for one in (rooms.workshop, *rooms.lives_in)]
    return content[0] - min(content)


def test_four_boards_shrink_by_their_radial_movement() -> None:
    lamp = subject(STACK)
    found = braced(lamp)
    assert found is not None
    assert (found.low, found.high, found.room, found.against) == (20.0, 100.0, 0.0, "cap")
    rooms = lamp.lamp.rooms
    most = max(shrinkage(lamp, 20.0, 100.0, rooms.workshop, one) for one in rooms.lives_in)
    # Wood Handbook Table 13-5: northern red oak, radial 0.00158 per %
    assert most == pytest.approx(0.00158 * change(lamp) * 80.0)
    (caution,) = against_the_core(lamp)
    (shorter,) = caution.ways
    assert (shorter.key, shorter.now, shorter.guess) == ("height", 80.0, pytest.approx(80.0 - most + 0.1))
    assert (caution.level, caution.value, caution.limit) == (
        Level.CAUTION,
        pytest.approx(most),
        pytest.approx(0.1),
    )


def test_room_for_the_movement_is_enough_and_at_the_limit_too() -> None:
    by = 0.00158 * change(subject(STACK))
    # room r above a core of 80 − r, and 0.1 that is not felt: by·(80 − r) = r + 0.1
    room = (80.0 * by - 0.1) / (1.0 + by)
    for more, told in ((0.02, False), (1e-4, False), (-1e-3, True), (-0.1, True)):
        lamp = subject(STACK.replace("height = 80", f"height = {80.0 - room - more!r}"))
        assert bool(list(against_the_core(lamp))) is told, more


def test_a_core_with_a_free_end_and_one_of_the_same_wood_across_say_nothing() -> None:
    assert list(against_the_core(subject(STACK.replace("height = 80", "height = 40")))) == []
    cap = '{ name = "cap", material = "oak", outline = { circle = 120 }'
    open_ = STACK.replace(cap, f"{cap}, opening = {{ circle = 60 }}")
    assert open_ != STACK
    assert braced(subject(open_)) is None
    assert list(against_the_core(subject(STACK.replace("core = ", "# ")))) == []


def test_plates_shrink_with_the_boards() -> None:
    plated = STACK.replace(
        "materials.rod", 'materials.opal = { acrylic = "opal", sold = 20 }\nmaterials.rod'
    ).replace('"b", material = "oak"', '"b", material = "opal"')
    rooms = subject(STACK).lamp.rooms
    for one in rooms.lives_in:
        warmer, damper = one.celsius - rooms.workshop.celsius, one.humidity - rooms.workshop.humidity
        content = [equilibrium_moisture(each.celsius, each.humidity) for each in (rooms.workshop, one)]
        # three boards by 0.00158 per %; one plate by 7·10⁻⁵/K and 0.35 % from dry to saturated, less the rod's 2.3·10⁻⁵/K
        boards = 60.0 * 0.00158 * (content[1] - content[0])
        plate = 20.0 * ((7.0e-5 - 2.3e-5) * warmer + 0.0035 * damper)
        found = shrinkage(subject(plated), 20.0, 100.0, rooms.workshop, one)
        assert found == pytest.approx(-boards - plate)


def test_plywood_is_left_out() -> None:
    ply = STACK.replace('oak = { wood = "red oak"', 'oak = { plywood = "birch"')
    lamp = subject(ply)
    rooms = lamp.lamp.rooms
    assert shrinkage(lamp, 20.0, 100.0, rooms.workshop, rooms.lives_in[0]) == pytest.approx(0.0)


def test_quarter_sawn_boards_move_more_through_their_thickness() -> None:
    lamp = subject(STACK).lamp
    quarter = tuple(
        replace(one, material=replace(one.material, movement=replace(one.material.movement, quarter=True)))
        for one in lamp.layers
    )
    rooms = lamp.rooms
    found = [
        max(shrinkage(Study(of), 20.0, 100.0, rooms.workshop, one) for one in rooms.lives_in)
        for of in (lamp, replace(lamp, layers=quarter))
    ]
    assert found[1] / found[0] == pytest.approx(0.00369 / 0.00158)
