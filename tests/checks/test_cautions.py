from stackview.checks.cautions import cautions, present
from stackview.description.cautions_table import cautions_table
from stackview.findings import Level
from tests.checks.written import changed, subject


def said(*words: str, of) -> bool:  # type: ignore[no-untyped-def]
    return any(all(word in one.what for word in words) for one in cautions(of))


def test_they_are_notes_with_a_source() -> None:
    found = cautions(subject())
    assert found
    assert all(one.level == Level.NOTE and one.source and one.where for one in found)


def test_dust_fire_eyes_and_current_of_an_ordinary_lamp() -> None:
    lamp = subject()
    assert said("mg/m³", of=lamp)
    assert said("flame-polish", of=lamp)
    assert said("eye and ear protection", of=lamp)
    assert said("do not stare", of=lamp)
    assert said("licensed electrician", "local codes", of=lamp)


def test_only_what_concerns_this_lamp() -> None:
    bare = 'name = "x"\nmaterials.p = { acrylic = "clear", sold = 5 }\n'
    bare += 'layer = [{ name = "a", material = "p", outline = { circle = 100 } }]\n'
    assert present(subject(bare)) == {"acrylic", "layer"}
    assert not said("dust is harmful", of=subject(bare))
    assert not said("solder", of=subject(bare))


def test_plywood_is_oiled_as_wood_is() -> None:
    assert said("dry the rags flat", of=subject())
    assert said("dry the rags flat", of=changed(('ply = { plywood = "birch"', 'ply = { wood = "ash"')))


def test_fumes_go_by_the_glue() -> None:
    assert not said("superglue", of=subject())
    assert said("superglue vapour", of=changed(('loose = ["cap"]', 'loose = ["cap"]\nacrylic = "superglue"')))


def test_every_caution_says_something_and_on_whose_word() -> None:
    for caution in cautions_table():
        assert caution.when
        assert len(caution.says) > 20
        assert caution.source
