"""``stackview finish``: from a photograph to a material entry."""

import os
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

from stackview.description.reading import read_text
from stackview.glow.spot_table import spot_of_face

GIVEN = ("--distance", "25", "--thickness", "4", "--scale", "0.25", "--led", "2.66")
LAMP = """
name = "Try"
{entry}
[[layer]]
name = "plate"
material = "sanded-offcut"
outline = {{ circle = 80 }}
"""


@pytest.fixture
def spot(tmp_path: Path) -> Path:
    """A spot of roughness 0.2 drawn from the table: what the command does with it is asked, not how well."""
    y, x = np.indices((200, 240)) + 0.5
    radius = np.hypot(x - 120.0, y - 100.0) * 0.25 / 25.0
    light = spot_of_face(radius, 0.2, 4.0 / 25.0, "both", 1.5 / 25.0)
    values = np.round(60000.0 * light / light.max() + 200.0).astype(np.uint16)
    Image.fromarray(values).save(tmp_path / "spot.tif")
    return tmp_path / "spot.tif"


def test_reports_and_prints_an_entry_that_the_lamp_file_takes(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("finish", spot, *GIVEN, "--camera", "20000")
    assert (code, err) == (0, "")
    assert "a good fit" in out
    entry = out[out.index("[materials.") :]
    written = tomllib.loads(entry)["materials"]["sanded-offcut"]
    assert written["roughness"] == pytest.approx(0.2, abs=0.01)
    lamp = read_text(LAMP.format(entry=entry), "lamp.toml", Path())
    material = lamp.layers[0].material
    assert material.optics.roughness == written["roughness"]
    assert material.thickness == 4.0
    assert material.finish.top == material.finish.underside == "sanded"


@pytest.mark.parametrize(
    ("sanded", "top", "under"), [("lamp-side", "clear", "sanded"), ("eye-side", "sanded", "clear")]
)
def test_one_sanded_face_is_written_as_such(run, spot: Path, sanded: str, top: str, under: str) -> None:  # type: ignore[no-untyped-def]
    code, out, _ = run("finish", spot, *GIVEN, "--sanded", sanded)
    assert code == 0
    lamp = read_text(LAMP.format(entry=out[out.index("[materials.") :]), "lamp.toml", Path())
    finish = lamp.layers[0].material.finish
    assert (finish.top, finish.underside) == (top, under)


def test_lengths_are_read_as_everywhere(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    plain = run("finish", spot, *GIVEN)
    inches = run(
        "finish", spot, "--distance", "0.98425197 in", "--thickness", '5/32"', "--across", "60 mm",
        "--pixels", "240", "--led", "2.66 mm",
    )  # fmt: skip
    assert inches[0] == 0
    assert "sold = '5/32\"'" in inches[1]
    assert inches[1].splitlines()[0].split("±")[0] == plain[1].splitlines()[0].split("±")[0]


def test_assumptions_are_named(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    _, out, _ = run("finish", spot, *GIVEN[:-2])
    assert "Assumed: an LED face of 3.1 mm" in out
    assert "Assumed: a camera 100 mm to 1 m away" in out
    assert "Assumed: looked at straight on" in out
    assert "taken as linear light" in out
    _, out, _ = run("finish", spot, *GIVEN, "--camera", "400", "--tilt", "0", "--curve", "linear")
    assert "Assumed" not in out
    assert "taken as" not in out


def test_second_exposure_is_joined(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    values = np.asarray(Image.open(spot)).astype(float)
    Image.fromarray(np.minimum(values * 5.0, 65535).astype(np.uint16)).save(spot.with_name("bright.tif"))
    code, out, _ = run("finish", spot.with_name("bright.tif"), "--second", spot, *GIVEN)
    assert code == 0
    ratio = float(out.partition("the others have ")[2].split()[0])
    assert ratio == pytest.approx(0.2, rel=0.02)
    assert "(not told, so fitted)" in out
    code, out, _ = run(
        "finish", spot.with_name("bright.tif"), "--second", spot, *GIVEN, "--exposures", "5, 1"
    )
    assert code == 0
    assert "(told)" in out


def test_what_the_camera_wrote_is_used(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    # 27 mm of 36 mm film: 0.75 of the 60 mm that the picture shows; four times the time is four times the light.
    light = np.asarray(Image.open(spot)).astype(float) / 65535.0
    for name, share, seconds in (("a.jpg", 0.2, (1, 400)), ("b.jpg", 0.8, (1, 100))):
        exif = Image.Exif()
        exif._ifds[0x8769] = {33434: IFDRational(*seconds), 41989: 27, 40962: 240, 40963: 200}
        values = np.round(255.0 * np.sqrt(light * share)).astype(np.uint8)
        Image.fromarray(values).save(spot.with_name(name), exif=exif, quality=95)
    code, out, _ = run("finish", spot.with_name("a.jpg"), "--second", spot.with_name("b.jpg"), *GIVEN)
    assert code == 0
    assert "times the light of the first (told)" in out
    assert float(out.partition("the others have ")[2].split()[0]) == pytest.approx(4.0, rel=0.1)
    assert "The camera was about 50 mm away" in out


def test_an_unknown_camera_is_told_with_what_would_help(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    light = np.asarray(Image.open(spot)).astype(float) / 65535.0
    Image.fromarray(np.round(255.0 * np.sqrt(light * 0.8)).astype(np.uint8)).save(spot.with_name("a.png"))
    code, out, _ = run("finish", spot.with_name("a.png"), *GIVEN)
    assert code == 0
    assert "a good fit" not in out
    assert "Most of that is the camera's tone curve" in out
    for way in ("--second", "linear 16-bit TIFF", "--steps"):
        assert way in out
    card = np.repeat(np.repeat(np.sqrt(np.array([0.9, 0.18]) * 0.7), 40)[None], 40, axis=0)
    Image.fromarray(np.round(255.0 * card).astype(np.uint8)).save(spot.with_name("card.png"))
    stepped = ("--steps", spot.with_name("card.png"), "--reflectances", "90, 18")
    code, out, _ = run("finish", spot.with_name("a.png"), *GIVEN, *stepped)
    assert code == 0
    assert "Most of that" not in out


def test_the_sheet_of_steps_is_written_and_nothing_of_others_replaced(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    target = tmp_path / "steps.pdf"
    code, out, err = run("finish", "--print-steps", target)
    assert (code, err) == (0, "")
    assert str(target) in out
    assert target.read_bytes().startswith(b"%PDF-")
    assert run("finish", "--print-steps", target, "--paper", "letter")[0] == 0
    target.write_bytes(b"%PDF- mine")
    code, _, err = run("finish", "--print-steps", target)
    assert code == 2
    assert target.read_bytes() == b"%PDF- mine"
    code, _, err = run("finish", "--print-steps", tmp_path / "steps.doc")
    assert code == 2
    assert ".pdf" in err


def test_out_writes_and_replaces_only_its_own(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    target = spot.with_name("entry.toml")
    assert run("finish", spot, *GIVEN, "--out", target)[0] == 0
    first = target.read_text()
    assert tomllib.loads(first)["materials"]
    code, out, _ = run("finish", spot, *GIVEN, "--out", target, "--name", "mine")
    assert code == 0
    assert "[materials.mine]" in target.read_text()
    assert "[materials" not in out
    target.write_text("my own lamp")
    code, _, err = run("finish", spot, *GIVEN, "--out", target)
    assert code == 2
    assert "not replaced" in err
    assert target.read_text() == "my own lamp"
    assert [file.name for file in spot.parent.iterdir() if ".part" in file.name] == []


@pytest.mark.parametrize(
    ("change", "word"),
    [
        (("--distance", "0"), "--distance"),
        (("--distance", "900"), "outside what is known"),
        (("--thickness", "thick"), "--thickness"),
        (("--scale", "nan"), "scale"),
        (("--pixels", "100"), "given twice"),
        (("--across", "60"), "given twice"),
        (("--tilt", "60"), "--tilt"),
        (("--tilt", "nan"), "--tilt"),
        (("--exposures", "1,4"), "2 numbers for 1 photograph"),
        (("--exposures", "1,x"), "parted by commas"),
        (("--exposures", "-1"), "--exposures"),
        (("--reflectances", "90,18"), "goes with --steps"),
        (("--name", "my plate"), "--name"),
        (("--led", "99"), "--led"),
    ],
)
def test_wrong_arguments_are_one_clear_line(run, spot: Path, change: tuple[str, str], word: str) -> None:  # type: ignore[no-untyped-def]
    given = dict(zip(GIVEN[::2], GIVEN[1::2], strict=True)) | dict([change])
    code, out, err = run("finish", spot, *(part for pair in given.items() for part in pair))
    assert (code, out) == (2, "")
    assert word in err
    assert len(err.strip().splitlines()) == 1


def test_scale_is_needed(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    code, _, err = run("finish", spot, "--distance", "25", "--thickness", "4")
    assert code == 2
    assert "scale" in err


def test_scale_given_twice_is_one_clear_line(run, spot: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("finish", spot, *GIVEN, "--scale", "0.3")
    assert (code, out) == (2, "")
    assert "--scale" in err
    assert "multiple times" in err


def test_an_overexposed_picture_is_told_to_be_exposed_for_less(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    Image.fromarray(np.full((200, 240), 255, np.uint8)).save(tmp_path / "white.png")
    code, out, err = run("finish", tmp_path / "white.png", *GIVEN)
    assert (code, out) == (2, "")
    assert "overexposed" in err
    assert "expose for less" in err
    assert len(err.strip().splitlines()) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="no such files there")
@pytest.mark.parametrize("option", ["photo", "--second", "--steps"])
def test_pipes_and_devices_are_refused_and_not_waited_for(run, spot: Path, option: str) -> None:  # type: ignore[no-untyped-def]
    os.mkfifo(spot.with_name("pipe"))
    for file in (spot.with_name("pipe"), "/dev/zero"):
        given = (file, *GIVEN) if option == "photo" else (spot, *GIVEN, option, file)
        code, out, err = run("finish", *given)
        assert (code, out) == (2, "")
        assert "is not an ordinary file" in err


def test_no_picture_is_one_clear_line(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "a.jpg").write_text("no picture")
    code, out, err = run("finish", tmp_path / "a.jpg", *GIVEN)
    assert (code, out) == (2, "")
    assert "not a JPEG, PNG or TIFF" in err
    assert len(err.strip().splitlines()) == 1


def test_works_without_the_renderer(run, spot: Path, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setitem(sys.modules, "mitsuba", None)
    assert run("finish", spot, *GIVEN)[0] == 0
