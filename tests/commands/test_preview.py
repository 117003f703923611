"""``stackview preview``: the main job from file to pictures."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

SMALL = ("--width", "320", "--height", "240")


def test_summary_and_four_pictures_beside_the_file(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("preview", starter, *SMALL)
    assert (code, err) == (0, "")
    folder = starter.parent / "first-pictures"
    assert sorted(file.name for file in folder.iterdir()) == [
        "first-lamp.png",
        "first-room.png",
        "first-section.png",
        "first-sightlines.png",
    ]
    assert out.startswith("My first lamp: 62 mm tall")
    assert "Stack-up" not in out
    wrote = " ".join(out.partition("Wrote into ")[2].split())
    assert wrote == f"{folder}: first-room.png, first-lamp.png, first-sightlines.png, first-section.png"
    with Image.open(folder / "first-lamp.png") as picture:
        assert picture.size == (320, 240)
        assert picture.info["Software"] == "stackview"
        pixels = np.asarray(picture.convert("RGB")).astype(int)
    # Something warm stands in the middle, and the corners are calm backdrop.
    middle, corner = pixels[80:160, 110:210].reshape(-1, 3), pixels[:20, :20].reshape(-1, 3)
    assert middle[:, 0].mean() > middle[:, 2].mean() + 15
    assert corner.std(axis=0).max() < 6
    assert abs(corner[:, 0].mean() - corner[:, 2].mean()) < 12


@pytest.mark.slow
def test_answers_alone_or_with_all_tables(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    code, short, err = run("preview", starter, "--no-pictures")
    assert (code, err) == (0, "")
    assert not (starter.parent / "first-pictures").exists()
    assert "Wrote" not in short
    code, full, _ = run("preview", starter, "--no-pictures", "--full")
    assert full.startswith(short)
    for word in ("Light points that show, all round", "Stack-up", "Besides, "):
        assert word in full


@pytest.mark.slow
def test_a_second_run_replaces_its_own_pictures(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    assert run("preview", starter, *SMALL)[0] == 0
    folder = starter.parent / "first-pictures"
    before = {file.name: file.read_bytes() for file in folder.iterdir()}
    assert run("preview", starter, *SMALL)[0] == 0
    assert {file.name: file.read_bytes() for file in folder.iterdir()} == before


def test_somebody_elses_picture_is_not_replaced_and_nothing_is_drawn(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    folder = starter.parent / "first-pictures"
    folder.mkdir()
    Image.new("RGB", (4, 4)).save(folder / "first-section.png")
    before = (folder / "first-section.png").read_bytes()
    code, _, err = run("preview", starter, *SMALL)
    assert code == 2
    assert "first-section.png" in err
    assert [file.name for file in folder.iterdir()] == ["first-section.png"]
    assert (folder / "first-section.png").read_bytes() == before


def test_folder_that_is_a_file(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    (starter.parent / "taken").write_text("mine")
    code, _, err = run("preview", starter, "--out", starter.parent / "taken", *SMALL)
    assert code == 2
    assert "Traceback" not in err
    assert (starter.parent / "taken").read_text() == "mine"


@pytest.mark.parametrize(
    ("option", "value", "limit"),
    [
        ("--width", "10", "64"),
        ("--height", "9000", "8192"),
        ("--elevation", "95", "90"),
        ("--bearing", "nan", "number"),
    ],
)
def test_absurd_views_are_refused_at_once(run, starter: Path, option: str, value: str, limit: str) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("preview", starter, option, value)
    assert (code, out) == (2, "")
    assert value in err
    assert limit in err


def test_a_folder_for_pictures_that_are_not_wanted_is_refused(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("preview", starter, "--no-pictures", "--out", starter.parent / "x")
    assert (code, out) == (2, "")
    assert err == "preview: --out says where the pictures go: leave out --no-pictures\n"
