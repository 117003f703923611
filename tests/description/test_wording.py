import pytest

from stackview.description.reading import read_text
from stackview.description.wording import label, model_at, words
from stackview.description.written_lamp import WrittenMaterial
from stackview.description.written_layer import WrittenGroup, WrittenLayer, WrittenRecess
from stackview.description.written_outline import WrittenOutline
from stackview.errors import LampError

RAW = {
    "layer": [
        {"name": "ring", "recess": [{"depth": 1}, {"depth": 2}], "bore": {"diameter": 3}},
        {"group": "tier"},
    ],
    "groups": {"tier": [{"name": "plate", "outline": {"circle": 3}}]},
    "materials": {"ply": {"sold": 9}},
}


def test_places_in_the_makers_words() -> None:
    assert words(("layer", 0, "recess", 1, "depth"), RAW) == 'layer "ring" · recess 2 · depth'
    assert words(("layer", 0, "bore", 0, "diameter"), RAW) == 'layer "ring" · bore · diameter'
    assert words(("layer", 1, "repeat"), RAW) == 'layer 2 (group "tier") · repeat'
    assert (
        words(("groups", "tier", 0, "outline", "circle"), RAW)
        == 'group "tier" · layer "plate" · outline · circle'
    )
    assert words(("materials", "ply", "sold"), RAW) == 'material "ply" · sold'
    assert words(("name",), RAW) == "name"
    assert words((), RAW) == ""


def test_entries_without_a_name_go_by_number() -> None:
    assert label("light", 2, {}) == "light 3"
    assert label("layer", 0, "nonsense") == "layer 1"


def test_the_table_at_a_place() -> None:
    assert model_at(("layer", 0, "‹layer›")) is WrittenLayer
    assert model_at(("layer", 0, "‹group›")) is WrittenGroup
    assert model_at(("layer", 0, "‹layer›", "recess", 0)) is WrittenRecess
    assert model_at(("outlines", "body")) is WrittenOutline
    assert model_at(("layer", 0, "‹layer›", "outline", "‹table›")) is WrittenOutline
    # A name may be the word of a key, there or at the top.
    for name in ("sheet", "finish", "layer", "price"):
        assert model_at(("materials", name)) is WrittenMaterial
        assert model_at(("outlines", name)) is WrittenOutline
        assert model_at(("groups", name, 0, "recess")) is WrittenRecess


def test_known_keys_are_listed_once_however_often_a_key_is_misspelt() -> None:
    layers = "".join(
        f'[[layer]]\nname = "l{k}"\nmaterial = "m"\noutline = {{ circle = 9 }}\nrecces = 1\n'
        for k in range(200)
    )
    with pytest.raises(LampError) as caught:
        read_text(f'name = "x"\n{layers}', "lamp.toml", ".")
    unknown = [fault.what for fault in caught.value.faults if 'unknown key "recces"' in fault.what]
    assert len(unknown) == 200
    assert sum("known here:" in what for what in unknown) == 1
    assert unknown[1] == 'unknown key "recces"; did you mean "recess"?'


def test_a_key_that_must_be_there_and_is_misspelt_is_told_once() -> None:
    with pytest.raises(LampError) as caught:
        read_text(
            'name = "x"\nlayer = []\n[pendant]\nhieght = 3\nunderside_ = 4\n[cord]\nlength = 900\n',
            "x.toml",
            ".",
        )
    told = [str(fault) for fault in caught.value.faults]
    assert any('pendant: unknown key "underside_"; did you mean "underside"?' in each for each in told)
    assert not any("is missing: add underside" in each or "lamp that hangs" in each for each in told)
