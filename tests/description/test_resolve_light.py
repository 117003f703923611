from collections.abc import Callable

import pytest

from stackview.description.lamp import Lamp
from stackview.description.light_source import Diode, Helix, Panel, Ring, Runs
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
Many = Callable[[str], tuple[Fault, ...]]
CORE = '[core]\nmaterial = "ply"\noutline = { circle = 30 }\nheight = 100\n'


def test_a_helix_with_its_defaults(base: str, read: Read) -> None:
    (light,) = read(base + CORE + "[[light]]\nhelix = { pitch = 20 }\n").lights
    assert isinstance(light.layout, Helix)
    strip = light.layout.strip
    assert (light.name, light.layout.hand, light.layout.turns) == ("helix", "right", None)
    assert (strip.spacing, strip.cut_every, strip.continuous) == (
        pytest.approx(1000 / 60),
        strip.spacing,
        False,
    )
    assert (light.emitter.beam, light.emitter.kelvin, light.emitter.lumens, light.emitter.watts) == (
        120,
        2700,
        None,
        None,
    )
    assert (light.feed.volts, light.feed.port) == (5, None)


def test_what_is_given_per_metre_is_shared_out(base: str, read: Read) -> None:
    text = "[[light]]\nruns = { count = 4 }\nspacing = 10\nwatts_per_metre = 8\nlumens_per_metre = 500\n"
    light = read(base + CORE + text).lights[0]
    assert isinstance(light.layout, Runs)
    assert light.emitter.watts == pytest.approx(0.08)
    assert light.emitter.lumens == pytest.approx(5)


def test_a_continuous_strip_counts_as_points_every_5_mm(base: str, read: Read) -> None:
    light = read(
        base + CORE + "[[light]]\nhelix = { pitch = 20 }\ncontinuous = true\ncut_every = 50\n"
    ).lights[0]
    assert isinstance(light.layout, Helix)
    assert (light.layout.strip.spacing, light.layout.strip.cut_every) == (5, 50)
    assert light.emitter.face == (5, 3)


def test_ring_panel_and_diode_sit_on_the_lowest_layer(base: str, read: Read) -> None:
    text = "[[light]]\nring = { diameter = 50, count = 12 }\n[[light]]\npanel = { columns = 2, rows = 3 }\n"
    text += "[[light]]\ndiode = { height = 3, tilt = 10, bearing = 90 }\nmilliamps = 350\nwatts = 1\n"
    ring, panel, diode = read(base + text).lights
    assert ring.layout == Ring(50, 12, "base", 0, "out", 0)
    assert panel.layout == Panel(2, 3, 10, "base", "up", (0, 0))
    assert diode.layout == Diode("base", "up", (0, 0), 3, 10, 90)
    assert (diode.emitter.watts, diode.emitter.amps) == (1, 0.35)


def test_lights_of_one_kind_are_numbered(base: str, read: Read) -> None:
    lamp = read(base + '[[light]]\ndiode = {}\n[[light]]\nname = "mine"\ndiode = {}\n[[light]]\ndiode = {}\n')
    assert [light.name for light in lamp.lights] == ["diode 1", "mine", "diode 3"]


def test_the_port_sets_the_voltage(base: str, read: Read) -> None:
    light = read(base + '[[light]]\ndiode = {}\nport = "USB 2.0"\n').lights[0]
    assert (light.feed.volts, light.feed.port) == (5, "usb 2.0")


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ("beam = 120\n", "", "its kind is missing: give exactly one of helix, runs, ring, panel, diode"),
        (
            "diode = {}\nring = { diameter = 20, count = 3 }\n",
            "",
            "ring and diode are given: give exactly one",
        ),
        ('diode = { on = "bass" }\n', " · diode · on", 'no layer is called "bass"; did you mean "base"?'),
        ("diode = {}\nleds_per_metre = 60\n", " · leds_per_metre", "goes with a strip, but this is a diode"),
        ("diode = {}\ncontinuous = true\n", " · continuous", "goes with a strip"),
        ('diode = {}\nport = "usb 2"\n', " · port", 'no port "usb 2" in the table; did you mean "usb 2.0"?'),
        (
            'diode = {}\nport = "usb 2.0"\nvolts = 12\n',
            "",
            'volts = 12, but its port "usb 2.0" gives 5 V: change one of them',
        ),
        ("diode = {}\nbeam = 200\n", " · beam", "200 is outside its limits, 1 to 180°"),
        ("diode = {}\nvolts = 230\n", " · volts", "230 is outside its limits, 1 to 60 V"),
        ("helix = { pitch = 20 }\n", " · helix", "needs a core to sit on: add a [core] table"),
        (
            "panel = { columns = 1000, rows = 1000 }\n",
            "*",
            "1000000 light points are more than a lamp may have, 100000",
        ),
    ],
)
def test_faults(base: str, fault: One, text: str, where: str, says: str) -> None:
    found = fault(base + "[[light]]\n" + text)
    assert found.where == ("light" if where == "*" else f"light 1{where}")
    assert says in found.what


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ("helix = { pitch = 5 }\n", " · helix · pitch", "5 mm is less than the strip's width, 10 mm"),
        ("helix = { pitch = 20, turns = 2, length = 90 }\n", " · helix", "turns and length are both given"),
        (
            "helix = { pitch = 20, length = 20 }\ncut_every = 50\n",
            " · helix",
            "has room for 20 mm of strip, shorter than one segment, 50 mm from cut mark to cut mark",
        ),
        (
            "runs = { count = 3, start = 80 }\ncut_every = 25\n",
            " · runs",
            "has room for 20 mm of strip, shorter",
        ),
        ("helix = { pitch = 20 }\nspacing = 10\ncut_every = 5\n", " · cut_every", "5 mm is shorter than"),
        (
            "helix = { pitch = 20 }\nspacing = 10\nleds_per_metre = 100\n",
            "",
            "leds_per_metre and spacing say the same",
        ),
        (
            "helix = { pitch = 20 }\nspacing = 10\ncontinuous = true\n",
            " · spacing",
            "every 5 mm: leave it out",
        ),
        (
            "helix = { pitch = 20 }\nwatts = 1\nwatts_per_metre = 5\n",
            "",
            "watts and watts_per_metre say the same",
        ),
        (
            "helix = { pitch = 20, turns = 0 }\n",
            " · helix · turns",
            "0 is outside its limits, 0.01 to 10000 turns",
        ),
    ],
)
def test_faults_of_strips(base: str, fault: One, text: str, where: str, says: str) -> None:
    found = fault(base + CORE + "[[light]]\n" + text)
    assert found.where == f"light 1{where}"
    assert says in found.what


def test_a_helix_needs_a_round_core(base: str, fault: One) -> None:
    core = CORE.replace("circle = 30", "sides = 6, across_flats = 30")
    found = fault(base + core + "[[light]]\nhelix = { pitch = 20 }\n")
    assert found.where == "light 1 · helix"
    assert "this core is not round: use runs, or a round core" in found.what


def test_light_points_are_bounded_before_any_is_made(base: str, fault: One) -> None:
    core = CORE.replace("height = 100", "height = 5000").replace("circle = 30", "circle = 5000")
    found = fault(base + core + "[[light]]\nhelix = { pitch = 0.02 }\nwidth = 0.01\nspacing = 0.1\n")
    assert found.where == "light"
    assert "more than a lamp may have, 100000: fewer or shorter strips" in found.what


def test_a_core_that_could_not_be_read_is_not_called_missing(base: str, faults: Many) -> None:
    found = faults(base + CORE.replace("circle = 30", 'circle = "x"') + "[[light]]\nhelix = { pitch = 20 }\n")
    assert [f.where for f in found] == ["core · outline · circle"]
