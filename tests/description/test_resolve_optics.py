import pytest

from stackview.description import defaults
from stackview.description.faults import Faults
from stackview.description.resolve_materials import resolve_material
from stackview.description.written_lamp import WrittenMaterial


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
