"""The lamp's file as a value: read, changed by paths, resolved, written back."""

import pickle
import threading
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import stackview
from stackview.description import reading
from stackview.description.lamp_file import LampFile
from stackview.description.reading import MOST_LAMP_BYTES, read_lamp
from stackview.errors import LampError

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
FILES = {file.stem: LampFile.read(file) for file in DEMOS}
TEXT = """\
# A lamp
name = "Test lamp"   # what it is called
[materials.ply]
plywood = "birch"
sold = 9
[materials.opal]
acrylic = "opal"
sold = 4

[[groups.tier]]
name = "ring"
material = "ply"
outline = { circle = 120 }  # across
wall = 14
[[groups.tier]]
name = "shade"
material = "opal"
outline = { circle = 110 }

[[layer]]
name = "base"
material = "ply"
outline = { circle = 120 }
bore.diameter = 6
[[layer]]
group = "tier"
repeat = 4
[[layer]]
name = "lid plate"
material = "ply"
outline = { circle = 120 }
"""


@pytest.fixture
def file(tmp_path: Path) -> LampFile:
    return LampFile.from_text(TEXT, "lamp.toml", tmp_path)


def said(file: LampFile, changes: dict[str, object]) -> str:
    """What a refused change says, with the file left as it was."""
    before = (file.text(), file.lamp())
    with pytest.raises(LampError) as caught:
        file.changed(changes)
    assert (file.text(), file.lamp()) == before
    assert caught.value.file == file.file
    return str(caught.value).replace(f"{file.file}: ", "")


def test_values_are_told_as_written(file: LampFile) -> None:
    honeycomb = FILES["honeycomb"]
    assert honeycomb.value("outlines.hexagon.across_flats") == "5-1/2"
    assert honeycomb.value("groups.plate-tier.ring.recess.depth") == 0.11
    assert honeycomb.value("surface.size") == [60, 8]
    assert honeycomb.value("light.0.runs") == {"count": 6, "length": "100 mm"}
    assert file.value("layer.base.bore.diameter") == 6
    assert file.value("layer.base.bore.0.diameter") == 6
    assert file.value("name") == "Test lamp"


def test_a_table_told_is_a_copy(file: LampFile) -> None:
    file.value("layer.base")["name"] = "mine"
    file.value("groups.tier").clear()
    assert file.value("layer.base.name") == "base"
    assert len(file.value("groups.tier")) == 2


def test_defaults_are_told_where_they_hold_and_else_that_nothing_is_written(file: LampFile) -> None:
    assert file.value("cutter") == "3.175 mm"
    assert file.value("unit") == "mm"
    assert file.value("layer.base.grain") == 90.0
    assert file.value("layer.base.repeat") == 1
    assert file.value("limits.ledge") == "3 mm"
    assert not file.is_written("cutter")
    assert file.is_written("materials.ply.sold")
    for path, what in {
        "layer.base.wall": "layer.base.wall: is not written, and no default is sure to hold here "
        "(Width of the wall left by an opening that follows the outline)",
        "core.wall": "core.wall: is not written: there is no core in the file",
        "layer.base.step.turn": "layer.base.step.turn: is not written: there is no layer.base.step in the file",
        "materials.oak": "materials.oak: is not written: there is no materials.oak in the file",
    }.items():
        with pytest.raises(LampError) as caught:
            file.value(path)
        assert str(caught.value) == f"lamp.toml: {what}"


def test_several_changes_are_one_step(file: LampFile) -> None:
    # either alone is refused: a wall wider than the ring, or a ring narrower than its wall
    new = file.changed({"groups.tier.ring.outline.circle": 60, "groups.tier.ring.wall": 25})
    assert new.text() == TEXT.replace(
        "{ circle = 120 }  # across\nwall = 14", "{ circle = 60 }  # across\nwall = 25"
    )
    assert "wall" in said(file, {"groups.tier.ring.wall": 75})
    assert new.lamp().layers[1].name == "ring 1"
    assert file.lamp() == LampFile.from_text(TEXT, "lamp.toml", file.folder).lamp()


def test_a_number_of_a_group_changes_all_copies(file: LampFile) -> None:
    new = file.changed({"groups.tier.shade.outline.circle": "4 in"})
    shades = [layer for layer in new.lamp().layers if layer.name.startswith("shade")]
    assert [layer.name for layer in shades] == ["shade 1", "shade 2", "shade 3", "shade 4"]
    assert {layer.outline for layer in shades} == {shades[0].outline}
    assert shades[0].outline != file.lamp().layers[2].outline


def test_keys_and_tables_are_added_in_their_places(file: LampFile) -> None:
    new = file.changed(
        {
            "cutter": 3,
            "materials.ply.measured": 8.8,
            "groups.tier.ring.outline.turn": 5,
            "layer.base.bore.bearing": 90,
            "feet.count": 4,
            "eye.0": {"name": "seated", "distance": "3 ft", "height": 1200},
            "outlines.leaf": {"circle": 100},
        }
    )
    assert new.text() == TEXT.replace("called\n", "called\ncutter = 3\n").replace(
        "sold = 9\n", "sold = 9\nmeasured = 8.8\n"
    ).replace("{ circle = 120 }  # across", "{ circle = 120, turn = 5 }  # across").replace(
        "bore.diameter = 6\n", "bore.diameter = 6\nbore.bearing = 90\n"
    ).replace("sold = 4\n", "sold = 4\n\n[outlines.leaf]\ncircle = 100\n") + (
        '\n[feet]\ncount = 4\n\n[[eye]]\nname = "seated"\ndistance = "3 ft"\nheight = 1200\n'
    )


def test_keys_entries_and_tables_are_taken_away(file: LampFile) -> None:
    assert file.changed({"layer.base.bore": None}).text() == TEXT.replace("bore.diameter = 6\n", "")
    assert file.changed({"groups.tier.ring.wall": None}).text() == TEXT.replace("wall = 14\n", "")
    lid = TEXT[TEXT.rindex("[[layer]]") :]
    assert file.changed({'layer."lid plate"': None}).text() == TEXT.replace(lid, "")
    assert "layer.2.turn" in said(file, {"layer.2.turn": None})


def test_a_whole_table_is_changed(file: LampFile) -> None:
    new = file.changed({"groups.tier.ring.outline": {"sides": 6, "across_flats": "4-1/2 in"}})
    assert 'outline = { sides = 6, across_flats = "4-1/2 in" }  # across' in new.text()
    kelp = FILES["kelp"].changed({"light.0.helix": {"pitch": 16, "start": 5}})
    assert "helix = { pitch = 16, start = 5 }\n" in kelp.text()
    assert kelp.lamp().lights[0].layout != FILES["kelp"].lamp().lights[0].layout


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({'layer."shade 2".thickness': 3},
         'layer."shade 2".thickness: "shade 2" is a copy from group "tier": change groups.tier.shade.thickness, '
         "which moves all 4 copies"),
        ({'layer."shade 2".repeat': 3},
         'layer."shade 2".repeat: "shade 2" is a copy from group "tier": change layer.tier.repeat, '
         "which moves all 4 copies"),
        ({"layer.shade.thickness": 3},
         'layer.shade.thickness: "shade 1" to "shade 4" are copies: change groups.tier.shade.thickness'),
        ({"layer.base.thickness": "0 mm"},
         'layer "base" · thickness: "0 mm" is too small; a size of a part is at least 0.01 mm: write a larger one'),
        ({"layer.base.thickness": True},
         'layer "base" · thickness: true is not a length: write a number, or a text such as "5.6 mm", "5-1/2 in", '
         '".220 in" or "5 ft 6 in"'),
        ({"layer.base.outline.circel": 3},
         'layer.base.outline.circel: unknown key "circel"; did you mean "circle"? known here: circle, rectangle, '
         "sides, across_flats, across_corners, corner_radius, curve, unit, origin, pick, like, inset, turn, at"),
        ({"layer.basis.wall": 3},
         'layer.basis.wall: no layer is called "basis"; did you mean "base"? known: "base", "tier", "lid plate"'),
        ({"layer.3.wall": 3}, "layer.3.wall: no number 3: layer has entries 0 to 2"),
        ({"layer.base.name": None}, "layer 1 · name: is missing: add name = … (What you call this layer)"),
        ({"layer.base.material": "oak"},
         'layer "base" · material: no material "oak" under [materials]; known: "ply", "opal"'),
        ({"layer.1.repeat": 2.5},
         'layer 2 (group "tier") · repeat: 2.5 is not a whole number: write a whole number from 1 to 1000'),
        ({"groups.tier.ring.wall": float("nan")},
         "group \"tier\" · layer \"ring\" · wall: nan is not a finite length: write a number, or a text such as "
         '"5.6 mm", "5-1/2 in", ".220 in" or "5 ft 6 in"'),
        ({"cutter": object()},
         "cutter: object cannot be written: give a number, a text, True or False, a list or a table"),
        ({"layer.base.bore": {"diameter": 5}, "layer.0.bore.diameter": 5},
         "layer.0.bore.diameter: is changed twice in one step, here and as layer.0.bore: keep one of the two"),
        ({"cuter": 3, "layer.base.thick": 4},
         'cuter: unknown key "cuter"; did you mean "cutter"? known here: name, unit, currency, cutter, clearance, '
         "chord_error, materials, outlines, groups, layer, post, screw, core, feet, cord, light, surface, pendant, "
         "climate, climates, glue, glues, ports, supply, cable, sheet, router, finishing, wiring, limits, eye\n"
         'layer.base.thick: unknown key "thick"; did you mean "thickness"? known here: repeat, step, first, name, '
         "material, outline, thickness, wall, opening, recess, groove, chamfer, bore, around, turn, grain, finish"),
    ],
)  # fmt: skip
def test_what_is_refused_says_what_to_do(file: LampFile, changes: dict[str, object], what: str) -> None:
    assert said(file, changes) == what


def test_changes_are_bounded(file: LampFile) -> None:
    assert said(file, dict.fromkeys(map(str, range(1001)))) == "1001 changes at once; at most 1000: fewer"
    assert "at most 1000 characters" in said(file, {"name": "x" * 5000})
    full = LampFile.from_text(TEXT + "#" * (MOST_LAMP_BYTES - len(TEXT)), "lamp.toml", file.folder)
    assert said(full, {"cutter": 3}) == "is larger than 1 MB, the most a lamp's file may be"
    assert full.changed({"layer.base.bore.diameter": 7}).lamp().layers[0].bores[0].diameter == 7
    with pytest.raises(LampError, match="larger than 1 MB"):
        LampFile.from_text(full.text() + "#")


def test_a_faulty_file_can_be_read_and_mended(file: LampFile) -> None:
    faulty = LampFile.from_text(TEXT.replace("wall = 14", "wal = 14"), "lamp.toml", file.folder)
    with pytest.raises(LampError, match='unknown key "wal"; did you mean "wall"'):
        faulty.lamp()
    assert faulty.value("materials.ply.sold") == 9
    with pytest.raises(LampError):
        faulty.changed({"cutter": 3})
    with pytest.raises(LampError, match="Expected '=' after a key"):
        LampFile.from_text("name", "lamp.toml")


@pytest.mark.parametrize("name", sorted(FILES))
def test_every_number_of_a_demo_there_and_back(name: str) -> None:
    """By a hair, back, and the bytes between: only the number's own characters differ."""
    file = FILES[name]
    text = (DEMOS[0].parent / f"{name}.toml").read_bytes().decode()
    assert file.text() == text
    changed = 0
    for number in file.numbers():
        hair = number.value + (1 if number.is_whole else 1e-4)
        fresh: object = int(hair) if number.is_whole else f"{hair!r} mm" if number.is_length else hair
        try:
            new = file.changed({number.path: fresh})
        except LampError:
            continue  # at its limit, or held by another: the next test counts these
        changed += 1
        written = new.text()
        spelt = f'"{fresh}"' if isinstance(fresh, str) else repr(fresh)
        assert any(
            tomllib.loads(f"key = {gone}")["key"] == number.written for gone in replaced(text, written, spelt)
        )
        assert new.value(number.path) == fresh
        assert new.changed({number.path: number.written}).text() == text
        assert LampFile.from_text(written, file.file, file.folder).lamp() == new.lamp()
    assert changed > 0.8 * len(file.numbers())


def replaced(old: str, new: str, fresh: str) -> Iterator[str]:
    """What stood in the old text where ``fresh`` stands in the new one, all else being the same."""
    at = new.find(fresh)
    while at >= 0:
        head, tail = new[:at], new[at + len(fresh) :]
        if old.startswith(head) and old.endswith(tail):
            yield old[len(head) : len(old) - len(tail)]
        at = new.find(fresh, at + 1)


STYLES = (
    lambda text: text,
    lambda text: text.replace("\n", "\r\n"),
    lambda text: "\ufeff" + text,
    lambda text: text.rstrip("\r\n"),
    lambda text: text.replace("{ circle = 120 }", "{circle=120}"),
    lambda text: text.replace("outline = { circle = 110 }", "outline.circle = 110 # dotted"),
    lambda text: text.replace("outline = { circle = 110 }", "  [groups.tier.outline]\n  circle = 110\n"),
)


@given(st.lists(st.sampled_from(STYLES), unique=True), st.floats(20, 119).map(lambda x: round(x, 3)))
def test_every_style_of_file_keeps_its_bytes(styles: list[object], size: float) -> None:
    text = TEXT
    for style in styles:
        text = style(text)  # type: ignore[operator]
    file = LampFile.from_text(text)
    path = "groups.tier.shade.outline.circle"
    new = file.changed({path: size})
    head, _, tail = text.partition("110")
    assert new.text() == f"{head}{size!r}{tail}"
    assert new.changed({path: 110}) == file
    assert file.changed({path: 110}).text() == text


def test_read_keeps_every_byte(tmp_path: Path) -> None:
    path = tmp_path / "lamp.toml"
    data = b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").rstrip().encode()
    path.write_bytes(data)
    file = LampFile.read(path)
    assert file.text().encode() == data
    assert file.lamp() == read_lamp(path) == stackview.load(path)
    assert (file.file, file.folder) == (str(path), tmp_path)


def test_it_is_a_value(file: LampFile, tmp_path: Path) -> None:
    new = file.changed({"cutter": 3, "clearance": 0.1})
    other = file.changed({"cutter": 3}).changed({"clearance": 0.1})
    assert new == other != file
    assert len({file, new, other}) == 2
    assert file != LampFile.from_text(TEXT, "lamp.toml", tmp_path / "other")
    assert file != TEXT
    assert repr(file) == '<LampFile "Test lamp" from "lamp.toml">'
    assert repr(new) == '<LampFile "Test lamp" from "lamp.toml", changed>'
    assert pickle.loads(pickle.dumps(new)) == new
    with pytest.raises(AttributeError):
        file.folder = tmp_path  # type: ignore[misc]


def test_threads_share_one(file: LampFile) -> None:
    found: list[object] = []

    def work(size: int) -> None:
        new = file.changed({"groups.tier.shade.outline.circle": size})
        found.extend((id(file.lamp()), new.text() == TEXT.replace("110", str(size))))

    threads = [threading.Thread(target=work, args=(100 + number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert set(found) == {id(file.lamp()), True}


def test_nothing_is_read_or_resolved_twice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("kelp.toml", "kelp.svg"):
        (tmp_path / name).write_bytes((DEMOS[0].parent / name).read_bytes())
    file = LampFile.read(tmp_path / "kelp.toml")
    assert file.lamp() is file.lamp()
    (tmp_path / "kelp.toml").unlink()
    (tmp_path / "kelp.svg").unlink()
    new = file.changed({"groups.tier.ring.wall": 16})
    calls: list[object] = []
    monkeypatch.setattr(reading, "resolve", lambda *_, **__: calls.append(1))
    assert new.lamp().layers[0].outline == file.lamp().layers[0].outline
    assert not calls


def test_curve_files_stay_in_the_folder(tmp_path: Path, file: LampFile) -> None:
    (tmp_path / "in").mkdir()
    (tmp_path / "leaf.svg").write_bytes((DEMOS[0].parent / "kelp.svg").read_bytes())
    inside = LampFile.from_text(TEXT, "lamp.toml", tmp_path / "in")
    leaf = {"layer.base.outline": {"curve": "../leaf.svg", "unit": "mm"}}
    assert "lies outside the lamp's folder" in said(inside, leaf)
    outside = LampFile.from_text(TEXT, "lamp.toml", tmp_path / "in", allow_outside=True)
    assert outside.changed(leaf).lamp().layers[0].outline != file.lamp().layers[0].outline


def test_a_layer_of_the_stack_leads_to_its_entry() -> None:
    drum = FILES["moor-drum"]
    assert drum.entry_of("ring 2") == "groups.open-tier.ring"
    assert drum.entry_of("ring 3") == "groups.plate-tier.ring"
    assert drum.entry_of("base") == "layer.base"
    with pytest.raises(KeyError):
        drum.entry_of("ring 7")


@pytest.mark.parametrize("changes", [None, "core.height", [("core.height", 3)]])
def test_changes_are_values_by_their_paths(changes: object) -> None:
    file = LampFile.read(Path(__file__).parents[2] / "demos" / "honeycomb.toml")
    with pytest.raises(TypeError, match="values by their paths"):
        file.changed(changes)  # type: ignore[arg-type]
