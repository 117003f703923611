"""``stackview picture``: views by name, into a folder, and nothing of anybody else's replaced."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

SMALL = ("--width", "160", "--height", "120")


def test_chosen_views_beside_the_file(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("picture", starter, "front", "evening", *SMALL)
    assert (code, err) == (0, "")
    folder = starter.parent / "first-pictures"
    assert sorted(file.name for file in folder.iterdir()) == ["first-evening.png", "first-front.png"]
    assert out.count("Wrote") == 2
    with Image.open(folder / "first-front.png") as picture:
        assert picture.size == (160, 120)
        assert picture.info["Software"] == "stackview"
        assert picture.info["Title"].endswith(": front")


@pytest.mark.slow
def test_same_file_same_picture_byte_for_byte(run, starter: Path, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    found = []
    for name in ("one", "two"):
        assert run("picture", starter, "studio", "half", "turn", "--out", tmp_path / name, *SMALL)[0] == 0
        found.append({file.name: file.read_bytes() for file in (tmp_path / name).iterdir()})
    assert found[0] == found[1]
    assert len(found[0]) == 4


def test_transparent_png(run, starter: Path, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    assert run("picture", starter, "studio", "--transparent", "--out", tmp_path, *SMALL)[0] == 0
    with Image.open(tmp_path / "first-studio.png") as picture:
        assert picture.mode == "RGBA"
        opacity = np.asarray(picture)[..., 3]
    assert opacity[:10, :10].max() == 0
    assert opacity.max() == 255


@pytest.mark.slow
def test_a_turntable_is_written_both_ways(run, starter: Path, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    assert run("picture", starter, "turn", "--out", tmp_path, *SMALL)[0] == 0
    for name in ("first-turn.gif", "first-turn.webp"):
        with Image.open(tmp_path / name) as picture:
            assert picture.n_frames >= 36
            assert picture.size == (160, 120)


@pytest.mark.slow
def test_an_eye_has_a_picture_of_its_own(run, starter: Path, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    assert run("picture", starter, "eyes", "--out", tmp_path, "--width", "640", "--height", "480")[0] == 0
    assert all(file.name.startswith("first-eyes-") for file in tmp_path.glob("*.png"))
    assert list(tmp_path.glob("first-eyes-*.png"))


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("evning",), 'did you mean "evening"?'),
        (("studio", "--width", "9000"), "8192"),
        (("studio", "--width", "8192", "--height", "8192"), "36 million"),
        (("spread", "--width", "320", "--height", "240"), "640 × 480"),
        (("turn", "--width", "3000", "--height", "2000"), "36 frames"),
        (("studio", "--elevation", "95"), "90"),
        (("elevation", "--eye", "nobody"), "add one of them to the views"),
        (("studio", "section", "--eye", "nobody"), 'eye "nobody": there is none of that name'),
    ],
)
def test_what_cannot_be_drawn_is_refused_at_once(run, starter: Path, arguments, words: str) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("picture", starter, *arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert len(err.strip().splitlines()) == 1
    assert not (starter.parent / "first-pictures").exists()


@pytest.mark.parametrize("name", ["first-studio.png", "first-turn.gif", "first-turn.webp"])
def test_somebody_elses_file_is_not_replaced_and_nothing_is_drawn(run, starter: Path, name: str) -> None:  # type: ignore[no-untyped-def]
    folder = starter.parent / "first-pictures"
    folder.mkdir()
    Image.new("RGB", (4, 4)).save(folder / name)
    before = (folder / name).read_bytes()
    code, _, err = run("picture", starter, "studio", "turn", *SMALL)
    assert code == 2
    assert name in err
    assert [file.name for file in folder.iterdir()] == [name]
    assert (folder / name).read_bytes() == before


def test_a_faulty_lamp_is_named(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "bad.toml").write_text("name = 1")
    code, out, err = run("picture", tmp_path / "bad.toml", "studio")
    assert (code, out) == (2, "")
    assert "bad.toml" in err
