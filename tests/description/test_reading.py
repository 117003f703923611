"""Whole files: what cannot be read at all, and all faults reported together."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest

from stackview.description import reading
from stackview.description.lamp import Lamp
from stackview.description.reading import MOST_LAMP_BYTES, read_lamp, read_text
from stackview.errors import Fault, LampError

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
Many = Callable[[str], tuple[Fault, ...]]


def refused(path: Path) -> str:
    with pytest.raises(LampError) as caught:
        read_lamp(path)
    assert caught.value.file == str(path)
    assert str(path) in str(caught.value)
    return str(caught.value)


def test_a_short_lamp_reads(base: str, read: Read) -> None:
    lamp = read(base)
    assert (lamp.name, lamp.unit) == ("Test lamp", "mm")
    assert [layer.name for layer in lamp.layers] == ["base"]
    assert lamp.layers[0].thickness == 9.0


def test_no_such_file(tmp_path: Path) -> None:
    assert "there is no such file" in refused(tmp_path / "none.toml")


def test_a_folder(tmp_path: Path) -> None:
    assert "is a folder" in refused(tmp_path)


def test_a_name_that_no_file_can_have() -> None:
    assert "cannot be" in refused(Path("a\0b.toml"))


def test_a_binary_file_says_so(tmp_path: Path) -> None:
    file = tmp_path / "lamp.toml"
    file.write_bytes(b'name = "x"\n\x00\x01')
    assert "line 2: is binary" in refused(file)
    file.write_bytes(b'name = "x"\n\n\xff\xfe')
    assert "line 3: is not UTF-8 text" in refused(file)


def test_too_large_a_file(tmp_path: Path) -> None:
    file = tmp_path / "lamp.toml"
    file.write_bytes(b"#" * (MOST_LAMP_BYTES + 1))
    assert "larger than 1 MB" in refused(file)


def test_a_device_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "lamp.toml"
    os.mkfifo(pipe)
    assert "not an ordinary file" in refused(pipe)


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_an_unreadable_file(tmp_path: Path) -> None:
    file = tmp_path / "lamp.toml"
    file.write_text("")
    file.chmod(0)
    assert "cannot be read (Permission denied)" in refused(file)


def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path: Path, base: str) -> None:
    file = tmp_path / "lamp.toml"
    file.write_bytes(b"\xef\xbb\xbf" + base.replace("\n", "\r\n").encode())
    assert read_lamp(file).name == "Test lamp"


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ('name = "A\n', "line 1, column 10", "a quote is missing"),
        ('name = "A"\nunit = mm\n', "line 2, column 8", "put texts in quotes"),
        ("x = .5\n", "line 1, column 5", "write a figure before a point (0.5)"),
        ('name = "A"\nname = "B"\n', "line 2, column 11", "written twice in one table"),
        ("[a]\n[a]\n", "line 2, column 3", "a table is written twice"),
        ("x = [1, 2\n", "end of the file", "closing bracket is missing"),
        ("x\n", "line 1, column 2", "write key = value"),
    ],
)
def test_broken_toml_says_line_column_and_advice(fault: One, text: str, where: str, says: str) -> None:
    found = fault(text)
    assert found.where == where
    assert says in found.what


@pytest.mark.parametrize("text", ["a = " + "[" * 5000, "a = " + "9" * 5000, "a." * 3000 + "b = 1"])
def test_toml_without_end_is_refused(text: str) -> None:
    with pytest.raises(LampError):
        read_text(text, "lamp.toml", ".")


def test_misspelt_keys_get_their_near_match(base: str, faults: Many) -> None:
    found = faults(base + "wal = 14\nfinsh = 3\n")
    assert found[0].where == 'layer "base"'
    assert 'unknown key "wal"; did you mean "wall"?' in found[0].what
    assert 'unknown key "finsh"; did you mean "finish"?' in found[1].what


@pytest.mark.parametrize(
    ("wrong", "right"), [("pocket", "recess"), ("hole", "opening"), ("bevel", "chamfer")]
)
def test_other_peoples_words_lead_to_ours(base: str, faults: Many, wrong: str, right: str) -> None:
    assert f'unknown key "{wrong}"; did you mean "{right}"?' in faults(base + f"{wrong} = 3\n")[0].what


def test_an_unknown_key_with_no_near_match_lists_what_is_known(base: str, fault: One) -> None:
    found = fault(base + "zzzzzz = 1\n")
    assert 'unknown key "zzzzzz"; known here: ' in found.what
    assert "chamfer" in found.what


def test_a_missing_key_says_what_to_add(head: str, fault: One) -> None:
    found = fault(head + '[[layer]]\nname = "base"\nmaterial = "ply"\n')
    assert found.where == 'layer "base" · outline'
    assert "is missing: add outline = …" in found.what


def test_wrong_kinds_of_value(faults: Many) -> None:
    found = {f.where: f.what for f in faults('name = 1\nlayer = 3\nmaterials = []\nunit = "mil"\n')}
    assert found["name"] == "1 is not a text: put it in quotes"
    assert "[[layer]]" in found["layer"]
    assert 'known: "mm", "cm", "in", "ft", "m"' in found["unit"]
    assert "materials" in found


def test_shape_faults_and_cross_faults_are_reported_together(base: str, faults: Many) -> None:
    found = faults(
        base.replace("{ circle = 120 }", "{ circle = -120 }")
        + 'recess = { depth = 30, outline = { circle = 30 } }\nfinish = "sanded"\nwal = 3\n'
        + '[[layer]]\nname = "lid"\nmaterial = "plyy"\noutline = "bodyy"\n'
        + '[[post]]\nname = "pin"\nmaterial = "ply"\noutline = { circle = "3 mil" }\n'
        + 'from = "bass"\nto = "lid"\n'
        + '[[eye]]\nname = "me"\ndistance = 3\nheight = 1200\n'
        + "[pendant]\nunderside = 1500\n[surface]\nheight = 740\n"
    )
    where = {f.where for f in found}
    assert {
        'layer "base" · outline · circle',
        'layer "base"',
        'layer "lid" · material',
        'layer "lid" · outline',
        'post "pin" · outline · circle',
        'eye "me" · distance',
        "pendant",
    } <= where


def test_what_a_fault_hides_is_not_made_up(base: str, faults: Many) -> None:
    """A part that could not be read is still known by its name."""
    found = faults(
        base.replace("sold = 9", 'sold = "9 mil"')
        + '[[layer]]\nname = "ring"\nmaterial = "ply"\noutline = 7\n'
        + '[[post]]\nname = "pin"\nmaterial = "ply"\noutline = { circle = 3 }\nfrom = "base"\nto = "ring"\n'
    )
    assert [f.where for f in found if "no layer" in f.what or "no material" in f.what] == []
    assert 'material "ply" · sold' in {f.where for f in found}
    assert 'layer "ring" · outline' in {f.where for f in found}


def test_every_fault_is_said_once_for_all_copies(tier: str, fault: One) -> None:
    found = fault(tier.replace("depth = 1.5", "depth = 15") + '[[layer]]\ngroup = "tier"\nrepeat = 40\n')
    assert found.where == 'group "tier" · layer "ring" · recess · depth'
    assert "15 mm is not less than the layer's thickness, 9 mm" in found.what


def test_names_with_escapes_cannot_reach_the_terminal(base: str, faults: Many) -> None:
    found = faults(base.replace('name = "base"', 'name = "\\u001b[31m"'))
    assert all(str(f).isprintable() for f in found)


def test_a_key_of_the_whole_lamp_written_under_a_table(base: str, faults: Many) -> None:
    found = faults(base.replace("sold = 9", "sold = 9\nclearance = 0.3"))[0]
    assert found.where == 'material "ply"'
    assert 'the key "clearance" belongs to the whole lamp: write it above the first [table]' in found.what


def test_a_single_table_where_a_list_belongs(base: str, fault: One) -> None:
    assert (
        fault(base + "[light]\nbeam = 120\n").what == "a table is not a list: begin each entry with [[light]]"
    )


def test_reading_needs_no_heavy_library() -> None:
    code = "import sys, stackview.description.reading; print([m for m in sys.modules if '.' not in m])"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert not [
        name for name in ("svgelements", "ezdxf", "shapely", "vtk", "matplotlib") if f"'{name}'" in loaded
    ]


@pytest.mark.parametrize(
    "text", ["a" + ".a" * 300_000 + " = 1", "[" + "a." * 300_000 + "a]", "a = " + "[" * 300_000]
)
def test_endless_nesting_is_refused_at_once(text: str) -> None:
    begun = time.process_time()
    with pytest.raises(LampError, match="a nesting far too long to be meant"):
        read_text(text, "lamp.toml", ".")
    assert time.process_time() - begun < 2.0


def test_a_file_that_never_stops_changing_is_refused_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "lamp.toml"
    file.write_text('name = "old"')
    real, size = os.fstat, iter(range(1000))
    monkeypatch.setattr(reading, "_MOMENT", 0.0)
    monkeypatch.setattr(
        os, "fstat", lambda _number: SimpleNamespace(st_size=next(size), st_mtime_ns=0, st_mtime=0.0)
    )
    with pytest.raises(LampError, match="is being written while it is read: wait until it is saved"):
        reading.text_of(file)
    monkeypatch.setattr(os, "fstat", real)
    assert reading.text_of(file) == 'name = "old"'


def test_an_empty_file_that_was_just_made_is_given_a_moment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "lamp.toml"
    file.write_text("")
    waited = []

    def wait(seconds: float) -> None:
        waited.append(seconds)
        if len(waited) == 3:
            file.write_text('name = "saved"')

    monkeypatch.setattr(time, "sleep", wait)
    assert reading.text_of(file) == 'name = "saved"'
    assert len(waited) == 3
