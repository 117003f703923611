from collections.abc import Callable

import pytest

from stackview.description import defaults
from stackview.description.faults import Faults
from stackview.description.lamp import Lamp
from stackview.description.resolve_materials import resolve_material
from stackview.description.written_lamp import WrittenMaterial
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]


def test_measured_wins_over_sold_and_both_are_kept(base: str, read: Read) -> None:
    lamp = read(base.replace("sold = 9", 'sold = "3/8 in"\nmeasured = 8.8'))
    material = lamp.layers[0].material
    assert material.thickness == lamp.layers[0].thickness == 8.8
    assert (str(material.sold), str(material.measured)) == ("3/8 in", "8.8 mm")


# nominal density by thickness, trade data sheet of birch plywood
@pytest.mark.parametrize(
    ("sold", "density"), [(6.5, 670), (9, 710), (12, 695), (18, 685), (17.4, 685), (3, 670)]
)
def test_plywood_by_the_thickness_it_is_sold_as(base: str, read: Read, sold: float, density: float) -> None:
    assert read(base.replace("sold = 9", f"sold = {sold}")).layers[0].material.density == density


def test_acrylic_bodies(base: str, read: Read) -> None:
    for body in ("clear", "opal"):
        plate = f'[[layer]]\nname = "plate"\nmaterial = "{body}"\noutline = {{ circle = 100 }}\n'
        assert read(base + plate).layers[1].material.body == body
    assert read(base).layers[0].material.body == "opaque"


def test_a_sort_of_the_makers_own(base: str, read: Read, fault: One) -> None:
    own = base.replace('plywood = "birch"', 'wood = "teak"')
    assert "or give density and colour of your own" in fault(own).what
    material = read(own.replace("sold = 9", 'sold = 9\ndensity = 650\ncolour = "#ff0000"')).layers[0].material
    assert (material.sort, material.density, material.colour) == ("teak", 650, (1, 0, 0))
    assert "as written by the maker" in material.source


@pytest.mark.parametrize(
    ("line", "field", "says"),
    [
        ('plywood = "brich"', " · plywood", 'no plywood "brich" in the table; did you mean "birch"?'),
        ('wood = "walnutt"', " · wood", 'did you mean "walnut"?'),
        ('acrylic = "red"', " · acrylic", 'no acrylic "red" in the table; known: "clear", "opal"'),
        (
            'acrylic = "sanded"',
            " · acrylic",
            'no acrylic "sanded" in the table; known: "clear", "opal"; sanded is a finish: '
            'write acrylic = "clear" and finish = "sanded"',
        ),
        (
            "",
            "",
            "is missing: give exactly one of wood, plywood, board, acrylic, metal, plastic",
        ),
        ('wood = "ash"\nmetal = "brass"', "", "wood and metal are given: give exactly one"),
        (
            'wood = "ash"\nfinish = "sanded"',
            " · finish",
            "only acrylic is clear or sanded here, and this is wood",
        ),
        (
            'acrylic = "clear"\nfinish = "matt"',
            " · finish",
            '"matt" is none of the words allowed here; known: "clear", "sanded"',
        ),
        ('wood = "ash"\ncolour = "brown"', " · colour", '"brown" is not a colour: write "#" and six figures'),
        ('wood = "ash"\ndensity = -1', " · density", "-1 is outside its limits, 1 to 25000 kg/m³"),
        ('wood = "ash"\nmeasured = 0', " · measured", "0 is too small"),
    ],
)
def test_faults(base: str, fault: One, line: str, field: str, says: str) -> None:
    found = fault(base.replace('plywood = "birch"', line))
    assert found.where == f'material "ply"{field}'
    assert says in found.what


def test_a_material_that_is_not_there(base: str, fault: One) -> None:
    found = fault(base.replace('material = "ply"', 'material = "plx"'))
    assert found.where == 'layer "base" · material'
    assert 'no material "plx" under [materials]; did you mean "ply"?' in found.what


def test_cast_and_extruded_sheet(base: str, read: Read, fault: One) -> None:
    plate = '[[layer]]\nname = "plate"\nmaterial = "opal"\noutline = { circle = 100 }\n'
    assert not read(base + plate).layers[1].material.extruded
    extruded = base.replace('acrylic = "opal"', 'acrylic = "opal"\nsheet = "extruded"') + plate
    assert read(extruded).layers[1].material.extruded
    assert "did you mean" in fault(extruded.replace('"extruded"', '"extrude"')).what
    wooden = base.replace('plywood = "birch"', 'plywood = "birch"\nsheet = "cast"')
    assert "goes with acrylic" in fault(wooden).what


def material(faults=None, **written):
    made = WrittenMaterial.model_validate(written, context={"unit": "mm"})
    return resolve_material("stock", made, 'material "stock"', faults if faults is not None else Faults())


def test_what_is_not_written_is_an_assumption():
    optics = material(acrylic="clear").optics
    assert optics.given == ()
    assert (optics.roughness, optics.transmission, optics.haze) == tuple(
        default.number for default in (defaults.ROUGHNESS, defaults.TRANSMISSION, defaults.HAZE)
    )
    assert optics.reflectance is None


def test_what_is_written_wins_and_is_named():
    optics = material(acrylic="opal", transmission=0.35, haze=0.9).optics
    assert (optics.transmission, optics.haze, optics.given) == (0.35, 0.9, ("transmission", "haze"))


@pytest.mark.parametrize(
    ("coat", "more", "expected"),
    [
        ("paint", {}, 0.8),
        ("mirror", {}, 0.88),
        ("paint", {"reflects": 0.6}, 0.6),
        ("paint", {"colour": "#808080"}, None),
    ],
)
def test_a_coat_brings_its_reflectance_unless_given(coat, more, expected):
    optics = material(metal="aluminium", coat=coat, **more).optics
    assert (optics.coat, optics.reflectance) == (coat, expected)


@pytest.mark.parametrize(
    ("kind", "sort", "key", "value"),
    [
        ("wood", "walnut", "roughness", 0.3),
        ("acrylic", "opal", "roughness", 0.3),
        ("acrylic", "clear", "transmission", 0.5),
        ("acrylic", "clear", "reflects", 0.5),
        ("acrylic", "opal", "coat", "paint"),
    ],
)
def test_keys_that_say_nothing_about_a_material_are_faults(kind, sort, key, value):
    faults = Faults()
    material(faults, **{kind: sort, key: value})
    assert [fault.where for fault in faults.all()] == [f'material "stock" · {key}']
