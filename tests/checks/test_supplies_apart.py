import pytest

from stackview.change.mends import Mending
from stackview.checks.supply import CHECK
from stackview.description.lamp_file import LampFile
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.checks.written import SOUND, alarms, changed, exchanged

RING = '[[light]]\nname = "top"\nring = { diameter = 60, count = 10, height = 3 }\nwatts = 0.4\n'


def with_a_second(feed: str, *, more: str = "", port: str = "usb 2.0") -> Study:
    """The sound lamp, its strip on a port, and a ring of 10 points of 0.4 W beside it.

    A tube 40 across, 33 high, takes (33 − 5 − 8)/12 turns of 132.5 mm, 13 segments of 16.67 mm: 0.173 A at 4 W/m.
    """
    text = exchanged(SOUND, ('port = "usb charger"', f'port = "{port}"')) + f"{RING}{feed}\n{more}"
    return Study(LampFile.from_text(text), bearings=24)


def told(study: Study) -> list[Finding]:
    return [one for one in alarms(CHECK, study) if one.cause == "several supplies"]


def test_one_supply_says_nothing() -> None:
    for feed in ("", 'port = "usb charger"'):
        assert told(with_a_second(feed, port="usb charger")) == []


def test_two_voltages_in_one_cable_are_a_fault() -> None:
    (found,) = told(with_a_second("volts = 12"))
    assert found.level == Level.FAULT
    assert '12 V (light "top"), and the lamp has one cable: joined in it, 12 V destroy' in found.what
    # an adapter is one voltage too
    assert told(with_a_second("volts = 12", more="[supply]\nadapter = 3"))


def test_two_ports_in_one_cable_are_a_caution_and_one_that_gives_enough_mends_it() -> None:
    study = with_a_second('port = "usb 3"')
    (found,) = told(study)
    assert (found.level, found.where) == (Level.CAUTION, 'lights "helix", "top"')
    mended = Mending(study).of(found)
    assert mended is not None
    # 0.17 + 0.8 A: 0.9 A are not enough, the next gives 1.5 A
    changes = {"light.helix.port": "usb charger", "light.top.port": "usb charger"}
    assert [mend.changes for mend in mended.mends] == [changes]
    assert alarms(CHECK, study.changed(changes)) == []
    assert told(with_a_second('port = "usb 3"', more="[supply]\nadapter = 2")) == []


@pytest.mark.parametrize("ends", ["", "\nfed_at_both_ends = true"])
def test_what_hangs_on_one_port_is_added_up_however_its_strip_is_wired(ends: str) -> None:
    # 0.17 and 0.8 A, each within 0.9 A
    study = changed(('port = "usb charger"', f'port = "usb 3"{ends}'), more=f'{RING}port = "usb 3"\n')
    (fault,) = alarms(CHECK, study)
    assert fault.level == Level.FAULT
    assert fault.what == 'they draw 0.97 A, and the port "usb 3" gives 0.9 A'
    assert fault.advice.startswith("Feed them from a port that gives more")


def test_only_lights_whose_power_is_not_given_are_told_so() -> None:
    study = changed(more=RING.replace("watts = 0.4\n", ""))
    (note,) = [one for one in CHECK.run(study) if "neither watts" in one.what]
    assert note.where == 'light "top"'
    assert note.what == (
        "neither watts nor milliamps are given for its 10 light points, so its supply is held against the other lights "
        "alone"
    )


def test_what_is_known_to_be_drawn_is_enough_for_a_fault() -> None:
    # 0.52 A of the strip at 12 W/m, and a ring of which nothing is known, on a port of 0.5 A and wires for 0.5 A
    strip = ("watts_per_metre = 4", "watts_per_metre = 12")
    ports = ('port = "usb charger"', 'port = "usb 2.0"')
    ring = f'{RING}port = "usb 2.0"\n'.replace("watts = 0.4\n", "")
    faults = alarms(CHECK, changed(strip, ports, more=ring))
    assert [fault.what for fault in faults] == [
        'they draw at least 0.52 A, and the port "usb 2.0" gives 0.5 A'
    ]
    assert faults[0].ways == ()
    (adapter,) = alarms(CHECK, changed(strip, ports, more=f"{ring}[supply]\nadapter = 0.5\n"))
    assert adapter.what == "all lights together draw at least 0.52 A, and the adapter is for 0.5 A"
    # a fuse that the wires do not stand is told whatever is drawn
    (fuse,) = alarms(CHECK, changed(strip, ports, more=f"{ring}[supply]\nadapter = 3\nfuse = 10\n"))
    assert fuse.what.startswith("a fuse of 10 A does not protect wires of 0.34 mm²")
    assert [way.key for way in fuse.ways] == ["wire"]
