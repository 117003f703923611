"""Paths as makers write them, and where they lead."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.field_path import PathError, Paths, entry_names, spelt, steps_of
from stackview.description.stack_order import Copy

TABLES: dict[str, Any] = {
    "materials": {"ply": {"sold": 9}, "7": {"sold": 4}},
    "groups": {"tier": [{"name": "ring"}, {"name": "plate"}, {"name": "ring"}]},
    "layer": [
        {"name": "base", "recess": {"depth": 1}, "opening": [{"circle": 1}, {"circle": 2}], "outline": "hexagon"},
        {"group": "tier", "repeat": 2},
        {"name": "no. 2", "opening": [{"circle": 8}]},
        {"name": "3"},
    ],
    "light": [{"helix": {"pitch": 9}}, {"name": "lid", "diode": {}}, {"helix": {"pitch": 8}}],
    "surface": {"size": [60, 8]},
}  # fmt: skip
COPIES = (
    Copy("ring 1", ("groups", "tier", 0), ("layer", 1), repeated=True),
    Copy("plate 1", ("groups", "tier", 1), ("layer", 1), repeated=True),
    Copy("ring 2", ("groups", "tier", 2), ("layer", 1), repeated=True),
)


def find(path: object) -> tuple[Any, ...]:
    return Paths(TABLES, lambda: COPIES).find(path).loc


@pytest.mark.parametrize(
    ("path", "loc"),
    [
        ("cutter", ("cutter",)),
        ("layer.base.wall", ("layer", 0, "wall")),
        ("layer.0.wall", ("layer", 0, "wall")),
        ("layer.tier.repeat", ("layer", 1, "repeat")),
        ("layer.1.step.turn", ("layer", 1, "step", "turn")),
        ('layer."no. 2".turn', ("layer", 2, "turn")),
        ("layer.'no. 2'.opening.circle", ("layer", 2, "opening", 0, "circle")),
        (' layer . "3" . turn ', ("layer", 3, "turn")),
        ("layer.3.turn", ("layer", 3, "turn")),
        ("layer.base.recess.depth", ("layer", 0, "recess", "depth")),
        ("layer.base.recess.0.depth", ("layer", 0, "recess", "depth")),
        ("layer.base.opening.1.circle", ("layer", 0, "opening", 1, "circle")),
        ("layer.base.opening.2", ("layer", 0, "opening", 2)),
        ("layer.4", ("layer", 4)),
        ("groups.tier.plate.wall", ("groups", "tier", 1, "wall")),
        ("groups.tier.2.wall", ("groups", "tier", 2, "wall")),
        ("materials.7.sold", ("materials", "7", "sold")),
        ("materials.oak", ("materials", "oak")),
        ("light.lid.diode.on", ("light", 1, "diode", "on")),
        ('light."helix 2".helix.pitch', ("light", 2, "helix", "pitch")),
        ("surface.size.1", ("surface", "size", 1)),
        ("core.outline.circle", ("core", "outline", "circle")),
        ("limits.ledge", ("limits", "ledge")),
    ],
)
def test_where_a_path_leads(path: str, loc: tuple[Any, ...]) -> None:
    assert find(path) == loc


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("", "is no path of 1 to 400 characters: write keys with points between"),
        (None, "is no path of 1 to 400 characters"),
        ("a" * 401, "is no path of 1 to 400 characters"),
        ("layer..wall", "is no path: write keys"),
        ("layer.base.", "is no path: write keys"),
        ('layer."base.wall', "is no path: write keys"),
        ("layers.base", 'unknown key "layers"; did you mean "layer"?'),
        ('light."helix 1".pitch', 'unknown key "pitch"; did you mean light."helix 1".helix.pitch?'),
        ("light.lid.height", 'unknown key "height"; did you mean light.lid.diode.height?'),
        ("layer.base.depth", 'unknown key "depth"; did you mean layer.base.recess.depth?'),
        ("layer.base.wal", 'unknown key "wal"; did you mean "wall"?'),
        ("layer.base.cutter", 'the key "cutter" belongs to the whole lamp'),
        ("layer.tier.wall", 'unknown key "wall"; known here: repeat, step, first, group'),
        ("layer.basis.wall", 'no layer is called "basis"; did you mean "base"? known: "base", "tier", "no. 2", "3"'),
        ("layer.9.wall", "no number 9: layer has entries 0 to 3"),
        ("layer.4.wall", "no number 4: layer has entries 0 to 3"),
        ("eye.0.height", "no number 0: eye has no entries"),
        ("layer.base.opening.circle", '2 entries stand under "opening": write opening.0 or opening.1'),
        ("layer.base.outline.circle", 'the outline is the one called "hexagon": change outlines.hexagon.circle'),
        ("layer.base.recess.1.depth", "no number 1: recess has entry 0 alone"),
        ("groups.tier.ring.wall", '2 entries are called "ring": write groups.tier.0.wall or groups.tier.2.wall'),
        ("groups.tier.rings.wall", 'no layer is called "rings" in group "tier"; did you mean "ring"?'),
        ("groups.tire.ring.wall", 'no group "tire" under [groups]; did you mean "tier"?'),
        ("materials.plyw.sold", 'no material "plyw" under [materials]; did you mean "ply"?'),
        ("light.led.beam", 'no light is called "led"; did you mean "lid"?'),
        ("surface.size.2", '"size" is a list of 2: write a number from 0 to 1'),
        ("surface.0.size", '"surface" is one table, not a list: leave the number out'),
        ("core.outline.0.circle", '"outline" is one table, not a list: leave the number out'),
        ("cutter.mm", '"cutter" is not written, with nothing within'),
        ("limits.legde", 'no limit is called "legde"; did you mean "ledge"?'),
        ("limits.ledge.mm", "a limit is a number, with nothing within: write limits.ledge"),
        ('layer."plate 1".wall', '"plate 1" stands in group "tier": change groups.tier.plate.wall'),
        ("layer.ring.wall", '"ring 1" to "ring 2" are copies: change groups.tier.0.wall or groups.tier.2.wall'),
        ('layer."ring 1".repeat', '"ring 1" stands in group "tier": change layer.tier.repeat'),
    ],
)  # fmt: skip
def test_paths_that_lead_nowhere(path: object, said: str) -> None:
    with pytest.raises(PathError) as caught:
        find(path)
    assert str(caught.value).startswith(said)


@given(st.lists(st.one_of(st.integers(0, 99), st.text(min_size=1, max_size=8)), min_size=1, max_size=6))
def test_a_path_spelt_is_read_as_it_was(steps: list[str | int]) -> None:
    assert steps_of(spelt(steps)) == steps


def test_names_of_entries() -> None:
    assert entry_names("light", TABLES["light"]) == ["helix 1", "lid", "helix 2"]
    assert entry_names("layer", [*TABLES["layer"][:2], 3]) == ["base", "tier", None]


def test_a_place_is_spoken_by_a_name_that_is_its_own() -> None:
    paths = Paths(TABLES, tuple)
    assert spelt(paths.spoken(("groups", "tier", 0, "wall"))) == "groups.tier.0.wall"
    assert spelt(paths.spoken(("groups", "tier", 1, "wall"))) == "groups.tier.plate.wall"
    assert spelt(paths.spoken(("layer", 3, "turn"))) == 'layer."3".turn'
    assert spelt(paths.spoken(("light", 2, "helix", "pitch"))) == 'light."helix 2".helix.pitch'
    assert find(spelt(paths.spoken(("layer", 2, "turn")))) == ("layer", 2, "turn")
