"""The photometric file, read back by a reader written from the standard's order of fields."""

import json
import subprocess
import sys
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.errors import OutputError
from stackview.glow.intensity import Intensity, even_gammas, even_planes
from stackview.glow.photometric_file import LuminousOpening, opening_of, photometric_text, plain_text
from tests.glow.photometric_reader import ReadBack, read
from tests.lamps import box, disc

BOX = LuminousOpening(120.0, 80.0, 300.0)
DAY = date(2026, 3, 9)


def written(intensity: Intensity, name: str = "Kelp", **other) -> str:  # type: ignore[no-untyped-def]
    return photometric_text(
        intensity,
        name=name,
        opening=other.pop("opening", BOX),
        watts=other.pop("watts", 4.5),
        issued=DAY,
        **other,
    )


def lambertian() -> Intensity:
    gammas = even_gammas(181)
    return Intensity(
        even_planes(), gammas, np.tile(100.0 / np.pi * np.maximum(np.cos(np.radians(gammas)), 0.0), (72, 1))
    )


def lopsided() -> Intensity:
    """Most light to the right (bearing 90°) and upwards."""
    candela = np.full((72, 73), 2.0)
    candela[17:20, 45:50] += 90.0
    candela[18, 45:50] += 9.0
    return Intensity(even_planes(), even_gammas(), candela)


def test_fields_stand_in_the_order_of_the_standard() -> None:
    back = read(written(lambertian()))
    assert back.version == "IESNA:LM-63-2002"
    assert (back.lamps, back.lumens_per_lamp, back.multiplier) == (1, -1.0, 1.0)
    assert (back.kind, back.units) == (1, 2)  # type C, metres
    assert (back.ballast, back.future, back.watts) == (1.0, 1.0, 4.5)
    assert back.size == (0.12, 0.08, 0.3)
    assert [word for word, _ in back.keywords][:7] == [
        "TEST", "TESTLAB", "ISSUEDATE", "MANUFAC", "LUMCAT", "LUMINAIRE", "LAMP",
    ]  # fmt: skip
    assert back.words("ISSUEDATE") == "2026-03-09"
    assert "not measured" in back.words("TESTLAB")
    assert back.words("LUMINAIRE") == "Kelp"


def test_isotropic_source_reads_50_candela_everywhere() -> None:
    back = read(written(Intensity(even_planes(), even_gammas(), np.full((72, 73), 628.0 / (4 * np.pi)))))
    assert back.candela == pytest.approx(np.full((73, 73), 50.0), abs=0.03)
    assert back.lumens == pytest.approx(628.0, rel=1e-5)


def test_lambertian_disc_reads_back() -> None:
    back = read(written(lambertian()))
    assert back.candela[:, 0] == pytest.approx(np.full(73, 31.830989), abs=1e-4)
    assert back.lumens == pytest.approx(100.0, rel=1e-3)
    inside = ReadBack(**{**vars(back), "candela": np.where(back.gammas <= 30.0, back.candela, 0.0)})
    # The flux within half-angle θ is sin²θ; the zone past 30° holds half a step of it.
    step = (
        31.83
        * np.cos(np.radians(30.0))
        / 2
        * 2
        * np.pi
        * (np.cos(np.radians(30.0)) - np.cos(np.radians(31.0)))
    )
    assert inside.lumens - step == pytest.approx(25.0, abs=0.03)


def test_flux_and_bearing_of_a_lopsided_lamp_are_kept() -> None:
    lamp = lopsided()
    back = read(written(lamp))
    assert back.lumens == pytest.approx(lamp.lumens, rel=1e-3)
    plane, gamma = np.unravel_index(int(back.candela.argmax()), back.candela.shape)
    assert back.planes[plane] == 90.0
    assert 112.5 <= back.gammas[gamma] <= 125.0
    assert back.candela[0] == pytest.approx(back.candela[-1])


def test_one_plane_is_written_alone() -> None:
    back = read(written(Intensity(np.zeros(1), even_gammas(), np.full((1, 73), 2.0))))
    assert back.planes.tolist() == [0.0]
    assert back.lumens == pytest.approx(8.0 * np.pi, rel=1e-6)


def test_a_grid_that_does_not_begin_in_front_is_closed_without_loss() -> None:
    rng = np.random.default_rng(2)
    candela = rng.uniform(1.0, 5.0, (4, 91))
    candela[:, [0, -1]] = 3.0
    lamp = Intensity(np.array([45.0, 135.0, 225.0, 315.0]), even_gammas(91), candela)
    back = read(written(lamp))
    assert back.planes.tolist() == [0.0, 45.0, 135.0, 225.0, 315.0, 360.0]
    assert back.candela[0] == pytest.approx((candela[0] + candela[3]) / 2, abs=1e-4)
    assert back.lumens == pytest.approx(lamp.lumens, rel=1e-3)


@pytest.mark.parametrize("scale", [1e-6, 1e-3, 1.0, 1e5])
def test_dim_and_bright_lamps_keep_their_figures(scale: float) -> None:
    lamp = lopsided()
    scaled = Intensity(lamp.planes.copy(), lamp.gammas.copy(), lamp.candela * scale)
    text = written(scaled)
    assert "e" not in text.split("TILT=NONE")[1].lower()
    assert read(text).lumens == pytest.approx(scaled.lumens, rel=1e-3)


@pytest.mark.parametrize("watts", [None, float("nan")])
def test_unknown_power_is_zero_and_said(watts: float | None) -> None:
    back = read(written(lambertian(), watts=watts))
    assert back.watts == 0.0
    assert "Input watts are not known" in back.words("OTHER")
    assert "not known" not in read(written(lambertian())).words("OTHER")


def test_notes_are_kept_on_short_lines() -> None:
    note = (
        "The lumens of the strip were assumed at 10 lm for each LED, for want of a figure in the lamp's file."
    )
    back = read(written(lambertian(), notes=(note,)))
    said = " ".join(text for word, text in back.keywords if word in ("OTHER", "MORE"))
    assert note in said


@settings(deadline=None, max_examples=80)
@given(name=st.text(max_size=200), lights=st.text(max_size=80), note=st.text(max_size=300))
def test_no_name_breaks_the_file(name: str, lights: str, note: str) -> None:
    lamp = Intensity(np.zeros(1), even_gammas(5), np.ones((1, 5)))
    back = read(written(lamp, name, lights=lights, notes=(note,)))
    assert back.lumens == pytest.approx(4 * np.pi, rel=1e-6)
    assert len(back.words("LUMINAIRE")) <= 60
    assert any(c.isalnum() for c in back.words("LUMINAIRE"))


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("Kelp", "Kelp"),
        ("Kelp\r\nTILT=INCLUDE\r\n", "Kelp TILT-INCLUDE"),
        ("[MORE] Ø 120 × 3 mm", "(MORE) O 120 x 3 mm"),
        ("Café — Grün", "Cafe - Grun"),
        ("\x00\x1b", "lamp"),
        ("", "lamp"),
    ],
)
def test_names_become_plain_text(name: str, shown: str) -> None:
    assert plain_text(name).replace("?", "") == shown


def test_a_dark_lamp_has_no_file() -> None:
    with pytest.raises(OutputError, match="no light leaves the lamp"):
        written(Intensity(np.zeros(1), even_gammas(3), np.zeros((1, 3))))


def test_opening_of_boxes_and_drums() -> None:
    found = opening_of((box("block", [-60, -40, 0], [60, 40, 300]),))
    assert (found.width, found.length, found.height, found.round) == (120.0, 80.0, 300.0, False)
    assert found.greatest == 300.0
    drum = opening_of((disc("drum", 50.0, 0.0, 200.0),))
    assert drum.round
    # The table of shapes has an upright cylinder as minus its diameter, twice, and its height.
    assert read(written(lambertian(), opening=drum)).size == pytest.approx((-0.1, -0.1, 0.2), abs=1e-4)
    assert not opening_of((box("cube", [-50, -50, 0], [50, 50, 100]),)).round
    assert not opening_of((disc("octagon", 50.0, 0.0, 200.0, facets=8),)).round
    with pytest.raises(ValueError, match="at least one part"):
        opening_of(())


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("[MANUFAC]", "[MAKER]"),
        ("[ISSUEDATE]", "[OTHER]"),
        ("TILT=NONE", "TILT=INCLUDE"),
        ("\r\n1 -1 1 181 73 1 2", "\r\n1 -1 1 181 72 1 2"),
        ("\r\n1 -1 1 181 73 1 2", "\r\n1 -1 1 181 73 4 2"),
        ("\r\n0 1 2 3 ", "\r\n0 2 1 3 "),
        ("\r\n0 1 2 3 ", "\r\n5 6 7 8 "),
        (" 360\r\n", " 359\r\n"),
        ("31.8", "31,8"),
    ],
)
def test_the_reader_refuses_what_the_standard_does(right: str, wrong: str) -> None:
    # So that what it takes of ours says something.
    text = written(lambertian())
    assert right in text
    with pytest.raises((AssertionError, ValueError, StopIteration)):
        read(text.replace(right, wrong, 1))


READER = """
import json, sys, warnings
import luxpy
from luxpy.toolboxes.iolidfiles import read_lamp_data
found = read_lamp_data(sys.argv[1], normalize=None, verbosity=1)
print("\\n" + json.dumps({key: found[key].tolist() for key in ("v_angs", "h_angs", "candela_values")}))
"""


def test_another_reader_agrees(tmp_path: Path) -> None:
    # luxpy's reader of LM-63 files, where it is installed and runs with the numpy at hand.
    ready = subprocess.run([sys.executable, "-c", "import luxpy"], capture_output=True, check=False)
    if ready.returncode:
        pytest.skip("luxpy is not installed, or does not run here")
    lamp, file = lopsided(), tmp_path / "lamp.ies"
    file.write_bytes(written(lamp).encode("ascii"))
    found = subprocess.run(
        [sys.executable, "-c", READER, str(file)], capture_output=True, text=True, check=True
    )
    other = json.loads(found.stdout.splitlines()[-1])
    candela = np.array(other["candela_values"]).reshape(len(other["h_angs"]), len(other["v_angs"]))
    assert candela[:-1] == pytest.approx(lamp.candela, rel=1e-4, abs=1e-4)
    assert other["h_angs"] == [*lamp.planes.tolist(), 360.0]


@pytest.mark.parametrize("shape", ["box", "drum"])
def test_a_reader_from_outside_agrees(tmp_path: Path, shape: str) -> None:
    # eulumdat-ies, which turns LM-63-2002 into EULUMDAT: its author has not seen our writer, nor we its reader.
    outside = pytest.importorskip("eulumdat_ies")
    lamp, file = lopsided(), tmp_path / "lamp.ies"
    opening = BOX if shape == "box" else LuminousOpening(100.0, 100.0, 200.0, round=True)
    file.write_bytes(written(lamp, opening=opening).encode("ascii"))
    with pytest.warns(UserWarning, match="lamp_lumens=-1"):  # absolute photometry: kept as candela
        found = outside.ies_to_ldt(file)
    head = found.header
    assert head.c_angles == lamp.planes.tolist()
    assert head.g_angles == lamp.gammas.tolist()
    assert np.array(found.intensities) == pytest.approx(lamp.candela, rel=1e-4, abs=1e-4)
    assert (head.num_lamps, head.lamp_watt, head.luminaire_name) == ([1], [4.5], "Kelp")
    assert (head.width, head.length) == pytest.approx((opening.width, opening.length))


def test_lines_are_as_short_as_every_revision_asks() -> None:
    # LM-63-1991 and 1995: 80 characters of text and 132 of numbers; 2002: 256 of either (from memory).
    text = written(lopsided(), "A lamp with a name that goes on and on " * 4, notes=("word " * 90,))
    words, numbers = text.split("TILT=NONE\r\n")
    assert max(map(len, words.split("\r\n"))) <= 80
    assert max(map(len, numbers.split("\r\n"))) <= 132
