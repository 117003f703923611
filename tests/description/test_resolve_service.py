from collections.abc import Callable

import pytest

from stackview.description.lamp import Lamp
from stackview.description.light_source import Helix
from stackview.description.service import Film
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
PENDANT = "[pendant]\nunderside = 1500\n"


def test_what_is_taken_where_nothing_is_written(base: str, read: Read) -> None:
    lamp = read(base)
    assert (lamp.gluing.wood.name, lamp.gluing.acrylic.name) == ("wood glue", "neutral silicone")
    assert lamp.gluing.loose is None
    assert [climate.name for climate in lamp.rooms.lives_in] == ["dry winter room", "humid summer room"]
    assert (lamp.supply.adapter, lamp.supply.fuse) == (None, None)
    assert lamp.cable is not None
    assert not lamp.cable.written
    assert (lamp.cable.length, lamp.cable.strain_relief) == (1500, None)


def test_a_pendant_has_a_cord_and_no_cable(base: str, read: Read, fault: One) -> None:
    assert read(base + PENDANT).cable is None
    assert read(base + PENDANT + "[cord]\nstrain_relief = true\n").cord.strain_relief is True  # type: ignore[union-attr]
    found = fault(base + PENDANT + "[cable]\nlength = 100\n")
    assert (found.where, "fed through its cord" in found.what) == ("cable", True)


def test_glues_climates_and_ports_of_ones_own(base: str, read: Read) -> None:
    text = '[glues.hide]\nfilm = 0.2\ngrips = ["wood"]\n[glue]\nwood = "Hide"\nloose = ["base"]\n'
    text += "[climates.workshop]\ntemperature = 15\nhumidity = 70\n[climates.attic]\ntemperature = 30\nhumidity = 20\n"
    text += '[ports.bench]\namps = 4\nvolts = 12\n[[light]]\ndiode = {}\nport = "bench"\n'
    lamp = read('climate = ["attic"]\n' + base + text)
    assert (lamp.gluing.wood.film, lamp.gluing.wood.source) == (0.2, "as written by the maker")
    assert lamp.gluing.loose == ("base",)
    assert (lamp.rooms.workshop.celsius, lamp.rooms.workshop.humidity) == (15, 0.7)
    assert [climate.name for climate in lamp.rooms.lives_in] == ["attic"]
    assert (lamp.lights[0].feed.volts, lamp.lights[0].feed.amps) == (12, 4)


def test_cable_and_supply(base: str, read: Read) -> None:
    text = '[cable]\nlength = "2 m"\nwire = "AWG 22"\ndiameter = 5\nplug = 12\nstrain_relief = false\n'
    lamp = read(base + text + "[supply]\nadapter = 2\nfuse = 3\n")
    assert lamp.cable is not None
    assert (lamp.cable.length, lamp.cable.diameter, lamp.cable.plug) == (2000, 5, 12)
    assert (lamp.cable.strain_relief, lamp.cable.written) == (False, True)
    assert lamp.cable.wire_mm2 == pytest.approx(0.3255, abs=1e-4)
    assert (lamp.supply.adapter, lamp.supply.fuse) == (2, 3)


def test_a_strips_own_data(base: str, read: Read) -> None:
    text = '[core]\nmaterial = "ply"\noutline = { circle = 30 }\nheight = 100\n[[light]]\nhelix = { pitch = 20 }\n'
    text += "bend_radius = 25\nhottest = 50\nohms_per_metre = 0.2\nfed_at_both_ends = true\n"
    (light,) = read(base + text).lights
    assert isinstance(light.layout, Helix)
    strip = light.layout.strip
    assert (strip.bend_radius, strip.hottest, strip.ohms_per_metre) == (25, 50, 0.2)
    assert light.feed.both_ends


def test_how_wood_is_sawn(base: str, read: Read) -> None:
    text = base.replace('plywood = "birch"\nsold = 9', 'wood = "walnut"\nsawn = "quarter"\nsold = 9')
    assert read(text).layers[0].material.movement.across == 0.00190


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        (
            '[glue]\nwood = "wood glu"\n',
            "glue · wood",
            'no glue "wood glu" in the table; did you mean "wood glue"?',
        ),
        ('[glue]\nloose = ["bass"]\n', "glue · loose", 'did you mean "base"?'),
        ('[cable]\nwire = "thin"\n', "cable · wire", '"thin" is no wire size'),
        ("[cable]\nlengt = 3000\n", "cable", 'did you mean "length"?'),
        ("[climates.attic]\ntemperature = 30\nhumidity = 130\n", 'climate "attic" · humidity', "0 to 100%"),
        ('[glues.x]\nfilm = 0.1\ngrips = ["stone"]\n', 'glue "x" · grips', "none of the words"),
        ("[supply]\nfuse = 0\n", "supply · fuse", "outside its limits"),
        ("[[light]]\ndiode = {}\nbend_radius = 20\n", "light 1 · bend_radius", "goes with a strip"),
        (
            "[[light]]\ndiode = {}\nfed_at_both_ends = true\n",
            "light 1 · fed_at_both_ends",
            "goes with a strip",
        ),
    ],
)
def test_faults(base: str, fault: One, text: str, where: str, says: str) -> None:
    found = fault(base + text)
    assert found.where == where
    assert says in found.what


def test_a_climate_that_is_not_known(base: str, fault: One) -> None:
    found = fault('climate = ["dry winter roon"]\n' + base)
    assert 'did you mean "dry winter room"?' in found.what


def test_only_solid_wood_is_sawn(base: str, fault: One) -> None:
    found = fault(base.replace('plywood = "birch"', 'plywood = "birch"\nsawn = "quarter"'))
    assert (found.where, "goes with solid wood" in found.what) == ('material "ply" · sawn', True)


def test_acrylic_joints_hold_the_glue_that_is_taken_for_them(base: str, read: Read) -> None:
    dry, silicone = Film(), Film(1.41)
    for text, wanted in (
        ("", silicone),
        ('[glue]\nwood = "epoxy"\n', silicone),
        ('[glue]\nacrylic = "epoxy"\n', Film(1.55)),
        ("[glue]\nloose = []\n", silicone),
        ('[glue]\nloose = ["base"]\nacrylic = "neutral silicone"\n', dry),
    ):
        assert read(base + text).gluing.film_of("base") == wanted
    own = '[glues.clear-set]\nfilm = 0.1\ngrips = ["acrylic"]\nindex = 1.5\n[glue]\nacrylic = "clear-set"\n'
    assert read(base + own).gluing.film_of("base") == Film(1.5)
    murky = own.replace("index = 1.5", "clear = false")
    assert read(base + murky).gluing.film_of("base") == Film(1.49, clear=False)


def test_an_index_lies_between_air_and_diamond(base: str, fault: One) -> None:
    found = fault(base + '[glues.own]\nfilm = 0.1\ngrips = ["acrylic"]\nindex = 14.9\n')
    assert "index" in found.where
    assert "2" in found.what


def test_prices_stand_with_what_they_are_for(base: str, read: Read, fault: One) -> None:
    text = (
        '[feet]\nprice = "0.25 per piece"\n[glues.hide]\nfilm = 0.2\ngrips = ["wood"]\nprice = "20 per l"\n'
    )
    text += '[glue]\nwood = "hide"\n[cable]\nprice = "3 per m"\n[supply]\nprice = "9 per piece"\n'
    text += '[[light]]\ndiode = {}\nprice = "4 per piece"\n[materials.oak]\nwood = "walnut"\nprice = "95 per m2"\n'
    lamp = read('currency = "EUR"\n' + base + text)
    assert lamp.currency == "EUR"
    assert lamp.feet is not None
    assert lamp.cable is not None
    priced = (lamp.feet, lamp.gluing.wood, lamp.cable, lamp.supply, lamp.lights[0])
    assert [str(one.price) for one in priced] == [
        "0.25 per piece",
        "20.00 per l",
        "3.00 per m",
        "9.00 per piece",
        "4.00 per piece",
    ]
    assert read(base).currency == ""
    found = fault(base + '[[light]]\ndiode = {}\nprice = "4 per m"\n')
    assert (found.where, "per piece" in found.what) == ("light 1 · price", True)
    found = fault(base + "[feet]\nprice = 4\n")
    assert (found.where, "is no price" in found.what) == ("feet · price", True)
