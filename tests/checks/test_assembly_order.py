"""The order of assembly of small lamps whose order is known by hand."""

import pytest
import shapely

from stackview.checks import befores
from stackview.checks.assembly_order import assembly_order
from stackview.checks.order import goes_together
from stackview.checks.slabs import Slab
from stackview.findings import Level
from stackview.study import Study
from tests.checks.test_order import strips
from tests.checks.written import SOUND, changed, subject

UPWARDS = ["base", "core", "ring 1", "plate 1", "ring 2", "plate 2", "ring 3", "plate 3", "cap"]


def names(lamp: Study) -> list[str]:
    return [name for block in assembly_order(lamp).blocks for name in block.names]


def test_a_sound_lamp_goes_up_from_its_base_the_core_before_what_goes_round_it() -> None:
    assert names(subject()) == UPWARDS
    # the cap stays loose: two blocks, the glued one first
    assert [len(block.names) for block in assembly_order(subject()).blocks] == [8, 1]


def test_all_glued_is_one_block() -> None:
    (block,) = assembly_order(changed(('loose = ["cap"]', "loose = []"))).blocks
    assert list(block.names) == UPWARDS
    assert not block.from_top


def test_a_loose_base_keeps_the_core_and_the_rest_is_set_down_over_it() -> None:
    first, rest = assembly_order(changed(('loose = ["cap"]', 'loose = ["base"]'))).blocks
    assert first.names == ("base", "core")
    assert rest.names[0] == "ring 1"


def test_a_pendants_core_goes_in_with_the_lid_that_it_hangs_from() -> None:
    lamp = changed(('stands_on = "base"', 'hangs_from = "cap"'), ('loose = ["cap"]', "loose = []"))
    (block,) = assembly_order(lamp).blocks
    assert block.placings[-1] == ("cap", "core")


def test_a_layer_under_a_wide_strip_goes_on_before_the_core() -> None:
    lamp = strips(42.0, 36)  # plate 3 lies below the strip, which it does not pass
    order = names(lamp)
    assert order.index("plate 3") < order.index("core") < order.index("ring 4")


def test_a_layer_between_two_strips_has_the_upper_one_stuck_on_after_it() -> None:
    lamp = strips(42.0, 5, 36)
    order, found = names(lamp), assembly_order(lamp)
    assert found.in_place == ('the strip of light "5"', 'the strip of light "36"')
    assert order.index("core") < order.index('the strip of light "5"') < order.index("plate 3")
    assert order.index("plate 3") < order.index('the strip of light "36"') < order.index("ring 4")


def test_plates_in_undersides_are_laid_in_from_the_top() -> None:
    tier = SOUND[SOUND.index("[[groups.tier]]") : SOUND.index('[[layer]]\nname = "base"')]
    ring, plate = tier.split("[[groups.tier]]")[1:]
    ring = ring.replace("recess = { depth = 1.5 }", 'recess = { depth = 1.5, face = "underside" }')
    text = SOUND.replace(tier, f"[[groups.tier]]{plate}[[groups.tier]]{ring}").replace(
        'loose = ["cap"]', "loose = []"
    )
    lamp = subject(text)
    (block,) = assembly_order(lamp).blocks
    assert block.from_top
    # the core stands on the base, which comes last: they go in together
    assert block.placings[0] == ("cap",)
    assert block.placings[1:3] == (("ring 3",), ("plate 3",))
    assert block.placings[-1] == ("base", "core")


def test_pins_stand_in_their_layer_before_what_goes_over_them() -> None:
    pin = '[[post]]\nname = "pin"\nmaterial = "tube"\noutline = { circle = 3, at = [52, 0] }\n'
    pin += 'from = "ring 1"\nto = "ring 2"\n'
    order = names(changed(more=pin))
    assert order.index("ring 1") < order.index("pin") < order.index("ring 2")


def test_hooked_parts_are_a_fault_that_names_the_pair(monkeypatch: pytest.MonkeyPatch) -> None:
    def box(low: float, high: float, x0: float, x1: float) -> Slab:
        return Slab(low, high, shapely.box(x0, 0.0, x1, 10.0))

    hooked = {
        "ring 1": (box(0, 1, 0, 10), box(1, 4, 0, 2), box(4, 5, 0, 6)),
        "ring 2": (box(2, 3, 4, 14), box(3, 8, 12, 14), box(8, 9, 4, 14)),
    }
    monkeypatch.setattr(befores, "slabs_of_parts", lambda _: hooked)
    lamp = subject()
    order = assembly_order(lamp)
    assert (order.blocks, len(order.blocked)) == ((), 2)
    (fault,) = goes_together(lamp)
    assert fault.level == Level.FAULT
    assert set(fault.parts) == {"ring 1", "ring 2"}
    assert "ring 1 below ring 2" in fault.what
    assert "ring 2 below ring 1" in fault.what
