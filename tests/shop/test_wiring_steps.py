import pytest

from stackview.checks.assembly_order import assembly_order
from stackview.shop.access import sealed_when, things_to_reach
from stackview.shop.wiring_steps import InWiring, wire_run, wiring_steps
from stackview.study import Study
from tests.shop.hand_lamps import GLUED, made, pendant


def wired(study: Study) -> dict[str, InWiring]:
    order, things = assembly_order(study), things_to_reach(study)
    return {
        one.step.key: one for one in wiring_steps(study, order, things, sealed_when(study, order, things))
    }


def test_strip_cable_joint_and_tests_in_their_order() -> None:
    found = wired(made(GLUED))
    # base, core, ring 1, plate 1: joints are shut in by plate 1, the strip by the cap
    assert {key: one.move for key, one in found.items()} == {
        "solder helix": 0,
        "cable in": 1,
        "join wires": 2,
        "light test 1": 2,
        "light test 2": 3,
        "light test 3": 8,
    }


def test_a_pendant_is_wired_beside_the_lamp_before_its_lid_goes_on() -> None:
    found = wired(pendant())
    last = len(assembly_order(pendant()).moves) - 1
    assert found["cable in"].move == found["join wires"].move == found["light test 1"].move == last
    assert "beside the lamp" in found["join wires"].step.title
    assert "cord" in found["cable in"].step.title


def test_a_lamp_without_light_has_nothing_to_wire() -> None:
    dark = made()
    text = 'helix = { pitch = 12 }\nwidth = 8\nwatts_per_metre = 4\nport = "usb charger"\n'
    assert wired(dark)
    assert wired(made((f"[[light]]\n{text}", ""))) == {}


def test_without_a_bore_the_order_says_that_it_does_not_know() -> None:
    found = wired(made(GLUED, ("bore = { diameter = 5 }\n", "")))
    assert "cable in" not in found
    assert any("does not know where the cable comes in" in line for line in found["join wires"].step.do)


def test_wires_of_a_tube_go_over_its_upper_end_or_out_by_its_hole() -> None:
    study = made(GLUED)
    run = wire_run(study, "helix", things_to_reach(study))
    assert run is not None
    core = study.stack.part("core")
    assert run.by == "up inside the core and over its upper end"
    assert run.length > core.top - core.underside
    holed = made(GLUED, ("wall = 2\n", "wall = 2\nhole = { diameter = 5, height = 4 }\n"))
    short = wire_run(holed, "helix", things_to_reach(holed))
    assert short is not None
    assert short.length < run.length
    assert "hole" in short.by


@pytest.mark.parametrize(("join", "tool"), [("solder", "soldering iron"), ("connector", "connectors")])
def test_what_joins_the_wires_is_the_makers_choice(join: str, tool: str) -> None:
    found = wired(made(GLUED, more=f'[wiring]\njoin = "{join}"\njoined_in = "base"\n'))
    assert tool in found["join wires"].step.tools
    assert any("to lie in base" in line for line in found["join wires"].step.do)


def test_tails_of_two_supplies_are_never_joined() -> None:
    ring = '\n[[light]]\nname = "top"\nring = { diameter = 60, count = 10, height = 3 }\nwatts = 0.3\nvolts = 12\n[glue]'
    found = wired(made(("\n[glue]", ring)))
    join = found["join wires"].step
    assert join.title.startswith('Join the tails of light "helix" and "top" to a cable of their own supply')
    assert join.do[0] == (
        'Never join wires of two supplies: light "helix" to 5 V, port "usb charger"; light "top" to 12 V.'
    )
    draws = [line for line in found["light test 1"].step.do if "should draw" in line]
    # 10 × 0.3 W at 12 V
    assert draws[1] == 'From 12 V it should draw about 0.25 A (light "top").'


def test_one_segment_is_one() -> None:
    found = wired(made(("helix = { pitch = 12 }", "helix = { pitch = 12, length = 100 }\ncut_every = 100")))
    assert "cut 1 × 100 mm (1 segment), " in found["solder helix"].step.title
