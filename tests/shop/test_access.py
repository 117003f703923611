"""Till when things are within reach, on lamps by hand."""

from stackview.checks.assembly_order import assembly_order
from stackview.shop.access import CABLE, joint_thing, sealed_when, strip_thing, things_to_reach
from stackview.study import Study
from tests.shop.hand_lamps import GLUED, made, pendant


def sealed(study: Study) -> dict[str, str]:
    """What each thing is shut in by."""
    order = assembly_order(study)
    found = sealed_when(study, order, things_to_reach(study))
    assert all(one.by in order.moves[one.move].names for one in found)
    return {one.thing: one.by for one in found}


def test_a_strip_between_tube_and_plates_is_shut_in_by_what_covers_it() -> None:
    # the strip reaches 22 from the axis, the plates' openings 23: the first plate leaves no room for an iron
    found = sealed(made(GLUED))
    assert found[joint_thing("helix")] == "plate 1"
    assert found[strip_thing("helix")] == "cap"


def test_wider_openings_leave_room_for_an_iron_till_the_cap() -> None:
    found = sealed(made(GLUED, ("opening = { circle = 46 }", "opening = { circle = 88 }")))
    assert found[joint_thing("helix")] == "cap"


def test_on_a_pendants_lid_all_is_shut_in_with_the_lid() -> None:
    found = sealed(pendant())
    assert set(found.values()) == {"cap"}
    assert CABLE in found


def test_what_nothing_covers_stays_open() -> None:
    assert strip_thing("helix") not in sealed(
        made(GLUED, ('[[layer]]\nname = "cap"\nmaterial = "ply"\noutline = { circle = 120 }\n', ""))
    )
