import pytest

from stackview.checks.supply import CHECK, supply
from stackview.description.lamp_file import LampFile
from stackview.findings import Level
from stackview.study import Study
from tests.checks.written import alarms, changed, subject

SIX_RUNS = (
    ("outline = { circle = 40 }\nwall = 2", "outline = { sides = 6, across_flats = 36 }\nwall = 2"),
    ("helix = { pitch = 12 }", "runs = { count = 6, length = 24, start = 5 }\nspacing = 2\nmilliamps = 20"),
    ("watts_per_metre = 4\n", ""),
)


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert alarms(CHECK, subject()) == []


def test_seventy_two_points_of_20_ma_are_too_much_for_a_plain_port() -> None:
    (fault,) = alarms(CHECK, changed(*SIX_RUNS, ('port = "usb charger"', 'port = "usb 2.0"')))
    assert (fault.level, fault.value, fault.limit) == (Level.FAULT, pytest.approx(1.44), 0.5)
    assert "Universal Serial Bus Specification 2.0" in fault.source
    # 0.5/0.02 = 25 points; the next class up is 1.5 A
    assert [(way.key, way.guess) for way in fault.ways] == [
        ("port", "usb charger"),
        ("power", pytest.approx(0.5 / 1.44)),
    ]


@pytest.mark.parametrize("port", ["usb charger", "usb-c 1.5 A", "usb-c 3 A"])
def test_ports_that_are_enough(port: str) -> None:
    assert alarms(CHECK, changed(*SIX_RUNS, ('port = "usb charger"', f'port = "{port}"'))) == []


def test_an_adapter_takes_the_ports_place_and_has_its_own_rating() -> None:
    plain = ('port = "usb charger"', 'port = "usb 2.0"')
    assert alarms(CHECK, changed(*SIX_RUNS, plain, more="[supply]\nadapter = 2\n")) == []
    (fault,) = alarms(CHECK, changed(*SIX_RUNS, plain, more="[supply]\nadapter = 1\n"))
    assert (fault.where, fault.limit) == ("adapter", 1.0)


def test_a_fuse_must_carry_the_lamp_and_protect_the_wire() -> None:
    (small,) = alarms(CHECK, changed(*SIX_RUNS, more="[supply]\nfuse = 1\n"))
    assert (small.level, small.where) == (Level.FAULT, "fuse")
    (large,) = alarms(CHECK, changed(*SIX_RUNS, more="[supply]\nfuse = 10\n"))
    assert large.level == Level.CAUTION
    assert large.limit == pytest.approx(2.0)  # 0.34 mm²


def test_the_largest_cable_of_the_table_stands_a_fuse_of_32_a() -> None:
    thick = ('wire = "0.34 mm2"', 'wire = "4 mm2"')
    assert alarms(CHECK, changed(*SIX_RUNS, thick, more="[supply]\nfuse = 32\n")) == []
    (large,) = alarms(CHECK, changed(*SIX_RUNS, thick, more="[supply]\nfuse = 33\n"))
    assert [way.key for way in large.ways] == ["fuse"]  # no cable of the table would do
    (small,) = alarms(CHECK, changed(*SIX_RUNS, more="[supply]\nfuse = 30\n"))
    # 10 A is the largest of its series that 0.34 mm² stands not; what does is told by the table of cables
    assert "4 mm2" in [way.guess for way in small.ways]


def test_ports_of_ones_own() -> None:
    own = '[ports."bench"]\namps = 4\nvolts = 5\n'
    assert alarms(CHECK, changed(*SIX_RUNS, ('port = "usb charger"', 'port = "bench"'), more=own)) == []


def test_voltage_at_the_far_end_by_hand() -> None:
    # 1 m of 0.34 mm² at 1.44 A: 2·0.017241/0.34·1.44; strip: 0.02·0.001·12·13/2
    (note,) = [one for one in supply(changed(*SIX_RUNS)) if one.unit == "%"]
    lost = 2.0 * 0.017241 / 0.34 * 1.44 + 0.02 * 0.5 * 0.002 * 12 * 13 / 2
    assert note.value == pytest.approx(100.0 * lost / 5.0)
    assert note.level == Level.FACT


def test_thin_long_cable_loses_too_much_and_the_wire_advised_mends_it() -> None:
    thin = ('length = "1 m"\nwire = "0.34 mm2"', 'length = "3 m"\nwire = "AWG 24"')
    (caution,) = alarms(CHECK, changed(*SIX_RUNS, thin))
    assert caution.level == Level.CAUTION
    wire, fed, *both, short = caution.ways
    mended = (thin[0], f'length = "3 m"\nwire = "{wire.guess}"')
    assert alarms(CHECK, changed(*SIX_RUNS, mended)) == []
    assert (fed.key, fed.now, fed.guess) == ("fed_at_both_ends", False, True)
    assert {way.along for way in both} <= {"both ends, thicker wires"}
    assert isinstance(short.guess, float)
    cut = (thin[0], f'length = "{short.guess / 1000.0:.4f} m"\nwire = "AWG 24"')
    assert alarms(CHECK, changed(*SIX_RUNS, cut)) == []
    longer = (thin[0], f'length = "{short.guess / 1000.0 * 1.02:.4f} m"\nwire = "AWG 24"')
    assert len(alarms(CHECK, changed(*SIX_RUNS, longer))) == 1


@pytest.mark.parametrize(
    ("written", "thicker"), [("AWG 24", "AWG 20"), ("0.2 mm2", "0.5 mm2"), ("AWG 30", "AWG 20")]
)
def test_a_gauge_is_answered_in_a_gauge_and_square_millimetres_in_these(written: str, thicker: str) -> None:
    """1.44 A there and back through 4 m, with a tenth of 5 V less what the strip loses: ρ·2·L·I/ΔV."""
    left = 0.1 * 5.0 - 0.02 * 0.5 * 0.002 * 12 * 13 / 2
    least = 0.017241 * 2.0 * 4.0 * 1.44 / left
    # ASTM B258: AWG 22 has 0.326 mm², AWG 20 0.518
    assert 0.34 < least < 0.5
    long = ('length = "1 m"\nwire = "0.34 mm2"', f'length = "4 m"\nwire = "{written}"')
    (caution,) = [one for one in alarms(CHECK, changed(*SIX_RUNS, long)) if one.unit == "%"]
    assert caution.ways[0].guess == thicker


def test_a_cable_that_loses_all_of_it_leaves_nothing() -> None:
    long = ('length = "1 m"\nwire = "0.34 mm2"', 'length = "20 m"\nwire = "AWG 28"')
    (caution,) = [one for one in alarms(CHECK, changed(*SIX_RUNS, long)) if one.unit == "%"]
    assert "nothing of 5 V is left" in caution.what
    assert "-" not in caution.what.split("mm²")[1]
    assert caution.parts == ("core",)


def test_nothing_but_notes_comes_of_a_cable_that_is_not_written() -> None:
    silent = ('[cable]\nlength = "1 m"\nwire = "0.34 mm2"\nstrain_relief = true\n', "")
    many = ('port = "usb charger"', "volts = 5")
    hungry = ("milliamps = 20", "milliamps = 80")
    lamp = changed(*SIX_RUNS, hungry, silent, many)
    assert alarms(CHECK, lamp) == []


def test_a_long_strip_is_better_fed_at_both_ends() -> None:
    long = ("watts_per_metre = 4", "watts_per_metre = 40")
    port = ('port = "usb charger"', "volts = 5")
    wire = ('wire = "0.34 mm2"', 'wire = "4 mm2"')
    (one,) = [x for x in supply(changed(long, port, wire)) if x.unit == "%"]
    (both,) = [
        x
        for x in supply(changed((long[0], long[1] + "\nfed_at_both_ends = true"), port, wire))
        if x.unit == "%"
    ]
    assert one.value is not None
    assert both.value is not None
    assert both.value < one.value


def test_wires_too_thin_for_the_current() -> None:
    thin = ('length = "1 m"\nwire = "0.34 mm2"', 'length = "100 mm"\nwire = "AWG 28"')
    (fault,) = [one for one in alarms(CHECK, changed(*SIX_RUNS, thin)) if one.level == Level.FAULT]
    assert fault.where == "cable"


def test_without_watts_it_says_so_and_nothing_else() -> None:
    found = supply(changed(("watts_per_metre = 4\n", "")))
    assert [one.level for one in found] == [Level.NOTE]
    assert "watts" in found[0].advice


def test_a_power_diode_wants_a_driver_or_a_resistor() -> None:
    text = 'name = "x"\nmaterials.w = { plywood = "birch", sold = 18 }\n'
    text += 'layer = [{ name = "a", material = "w", outline = { circle = 100 } }]\n'
    text += "light = [{ diode = { height = 3 }, watts = 1, milliamps = 350 }]\n"
    (note,) = [one for one in supply(subject(text)) if "driver" in one.advice]
    # U_F = 1/0.35 = 2.857 V; R = (5 − 2.857)/0.35 = 6.12 Ω, taking 0.75 W
    assert note.value == pytest.approx(1.0 / 0.35)
    assert "6.1 Ω that takes 0.75 W" in note.advice


@pytest.mark.parametrize(
    ("fed", "where", "along"), [("", "last", 1.0 / 2.0), ("fed_at_both_ends = true", "middle", 1.0 / 8.0)]
)
def test_a_strip_fed_at_both_ends_has_least_in_its_middle(fed: str, where: str, along: float) -> None:
    # 20 W at 12 V along 2 m of 0.5 Ω/m: I·R/2 = 0.83 V at the far end, I·R/8 = 0.21 V in the middle of a feed from both
    lamp = LampFile.from_text(f"""
name = "Volts"
materials.wood = {{ wood = "ash", sold = 10 }}
materials.rod = {{ metal = "aluminium" }}
layer = [{{ name = "base", material = "wood", outline = {{ circle = 150 }} }}]
core = {{ material = "rod", outline = {{ circle = 80 }}, height = 200 }}
cable = {{ length = 1000, wire = "0.5 mm2" }}
[[light]]
helix = {{ pitch = 20, length = 2000 }}
continuous = true
cut_every = 20
watts_per_metre = 10
volts = 12
ohms_per_metre = 0.5
{fed}
""")
    (told,) = [one for one in Study(lamp).facts if "are lost" in one.what]
    in_cable = 2.0 * 0.017241 / 0.5 * 20.0 / 12.0
    lost = in_cable + along * 20.0 / 12.0
    assert told.value == pytest.approx(100.0 * lost / 12.0, rel=5e-3)
    assert told.what.endswith(f"{12.0 - lost:.2f} of 12 V are left at the {where} light point of helix")
