import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from stackview.commands.glow import error_of
from stackview.errors import StackviewError

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.mark.parametrize(("written", "share"), [("5%", 0.05), (" 12.5 %", 0.125), ("1%", 0.01)])
def test_errors_are_shares_in_per_cent(written, share):
    assert error_of(written) == pytest.approx(share)


@pytest.mark.parametrize("written", ["5", "0.05", "0%", "90%", "much", "-5%", "nan%"])
def test_other_errors_are_refused_with_the_limits(written):
    with pytest.raises(StackviewError, match="1% to 50%"):
        error_of(written)


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--error", "90%"), "1% to 50%"),
        (("--longest", "0"), "--longest 0"),
        (("--seed", "-1"), "--seed -1"),
        (("--only", "pictures", "--json"), "give --out"),
    ],
)
def test_options_out_of_their_limits_exit_with_2(run, options, says):
    code, out, err = run("glow", DEMOS / "honeycomb.toml", *options)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1


def test_without_the_renderer_one_line_says_how_to_add_it():
    program = (
        "import sys; sys.modules['mitsuba'] = None; from stackview.__main__ import main; "
        f"sys.exit(main(['glow', {str(DEMOS / 'honeycomb.toml')!r}]))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "pip install -c requirements.lock -e '.[glow]'" in done.stderr


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--eye", "nobody"), 'it names "at the desk", "across the room"'),
        (("--eye", "at the desk", "--elevation", "5"), "leave out --elevation"),
        (("--elevation", "95"), "--elevation 95"),
        (("--distance", "1"), "--distance"),
    ],
)
def test_places_that_cannot_be_looked_from_are_refused(run, options, says):
    pytest.importorskip("mitsuba")
    code, out, err = run("glow", DEMOS / "turning-lantern.toml", *options)
    assert (code, out) == (2, "")
    assert says in err


@pytest.fixture
def small(tmp_path) -> Path:
    """A lamp that renders quickly: one plate on a base, a light point in it."""
    file = tmp_path / "small.toml"
    file.write_text(SMALL, encoding="utf-8")
    return file


SMALL = """
name = "Small"
materials.ash = { wood = "ash", sold = 15 }
materials.stock = { acrylic = "clear", sold = 5, finish = "sanded" }
surface = { height = 700 }

[[layer]]
name = "base"
material = "ash"
outline = { circle = 80 }

[[layer]]
name = "ring"
material = "ash"
outline = { circle = 80 }
wall = 12
recess = { depth = 2 }

[[layer]]
name = "plate"
material = "stock"
outline = { circle = 64 }

[[light]]
diode = { }
watts = 1

[[eye]]
name = "above"
distance = 600
height = 1200
"""


@pytest.mark.slow
def test_the_record_holds_plates_and_light(run, small):
    pytest.importorskip("mitsuba")
    code, out, err = run("glow", small, "--json", "--error", "30%", "--longest", "90")
    assert (code, err) == (0, "")
    record = json.loads(out)
    assert [plate["layer"] for plate in record["plates"]] == ["plate"]
    for plate in record["plates"]:
        assert plate["hot_spot_ratio"] >= 1.0
        assert plate["ratio_error"] >= 0.0
        assert plate["peak_cd_m2"] >= plate["mean_cd_m2"] > 0.0
    assert 0.0 < record["share_out"] <= 1.0
    assert record["lumens_out"] == pytest.approx(
        record["share_out"] * record["lumens_of_light_points"], rel=1e-3
    )
    assert sum(row["lumens"] for row in record["lumens_by_layer"]) == pytest.approx(
        record["lumens_out"], rel=1e-3
    )
    assert any(note["where"].startswith('from eye "above"') for note in record["guidance"])


@pytest.mark.slow
def test_pictures_alone_are_three_and_no_figures(run, small):
    pytest.importorskip("mitsuba")
    code, out, _ = run("glow", small, "--only", "pictures", "--error", "30%")
    assert code == 0
    assert sorted(file.name for file in (small.parent / "small-pictures").iterdir()) == [
        "small-glow-day.png", "small-glow-evening.png", "small-glow-luminance.png",
    ]  # fmt: skip
    assert "Unfinished" not in out
    assert "hot-spot" not in out


def test_a_file_in_place_of_the_folder_is_refused_at_once(run, small):
    pytest.importorskip("mitsuba")
    code, out, err = run("glow", small, "--out", small)
    assert (code, out) == (2, "")
    assert f"{small}: cannot be written into, for it is a file, not a folder" in err


def test_help_shows_per_cent_once(run):
    _, out, _ = run("glow", "--help")
    assert "10%" in out
    assert "%%" not in out


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="needs a terminal of its own")
def test_a_terminal_shows_the_time_left_and_ctrl_c_leaves_nothing(small):
    pytest.importorskip("mitsuba")
    import os
    import pty
    import select
    import signal
    import time

    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "stackview", "glow", str(small), "--error", "1%", "--longest", "300"]
    environment = os.environ | {"TERM": "xterm", "COLUMNS": "100"}
    # A test run begun in the background hands on that Ctrl-C is ignored; a terminal does not.
    begun = {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.default_int_handler)}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=theirs, env=environment, **begun
    ) as running:
        os.close(theirs)
        shown, stopped, until = "", False, time.monotonic() + 150.0
        while time.monotonic() < until:
            if select.select([ours], [], [], 0.2)[0]:
                try:
                    shown += os.read(ours, 4096).decode(errors="replace")
                except OSError:  # its end of the terminal is closed
                    break
            if not stopped and re.search(r"glow: .*[0-9]+%.*[0-9]:[0-9]{2}:[0-9]{2}", shown):
                running.send_signal(signal.SIGINT)
                stopped = True
        # A terminal that nobody reads any more holds up whoever writes to it: never wait for that.
        if running.poll() is None and time.monotonic() >= until:
            running.kill()
    os.close(ours)
    assert stopped, shown
    assert running.returncode == 130
    assert "nothing half-written" in shown
    assert [file.name for file in small.parent.iterdir()] == ["small.toml"]


def _stopped_glow(lamp: Path, *options: str, after: str) -> tuple[int, str, str]:
    """Run glow in a terminal of its own until its bar says ``after``, press Ctrl-C there; code, output, terminal."""
    import os
    import pty
    import select
    import signal
    import time

    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "stackview", "glow", str(lamp), *options]
    environment = os.environ | {"TERM": "xterm", "COLUMNS": "100"}
    begun = {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.default_int_handler)}
    out = lamp.parent / "out.txt"
    with (
        out.open("w") as kept,
        subprocess.Popen(command, stdout=kept, stderr=theirs, env=environment, **begun) as running,
    ):
        os.close(theirs)
        shown, stopped, until = "", False, time.monotonic() + 400.0
        while time.monotonic() < until:
            if select.select([ours], [], [], 0.2)[0]:
                try:
                    shown += os.read(ours, 4096).decode(errors="replace")
                except OSError:  # its end of the terminal is closed
                    break
            if not stopped and re.search(after, shown):
                running.send_signal(signal.SIGINT)
                stopped = True
        if running.poll() is None and time.monotonic() >= until:
            running.kill()
    os.close(ours)
    said = out.read_text()
    out.unlink()
    assert stopped, shown
    return running.returncode, said, shown


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="needs a terminal of its own")
def test_with_keep_ctrl_c_leaves_pictures_that_say_they_are_unfinished(small):
    pytest.importorskip("mitsuba")
    from PIL import Image

    folder = small.parent / "kept"
    # Past 28% the whole picture has been rendered once: a fifth for daylight, and the first round of the rest.
    code, said, shown = _stopped_glow(
        small,
        *("--error", "1%", "--longest", "3000", "--keep", "--out", str(folder)),
        after=r"hot spots; then light out, pictures.*(2[2-9]|3[0-9])%",
    )
    assert code == 130, shown
    assert re.search(r"Unfinished: stopped after [0-9]+ of 256 samples a pixel", said)
    # Figures that are told carry their errors; what is not known by then says so. Pictures say the same as the words.
    assert re.search(r"plate .* (± .* cd/m²|not known yet)", said)
    assert sorted(file.name for file in folder.iterdir()) == [
        "small-glow-day.png", "small-glow-evening.png", "small-glow-luminance.png",
    ]  # fmt: skip
    for file in folder.iterdir():
        with Image.open(file) as picture:
            picture.load()
            assert picture.text["Comment"].startswith("Unfinished: stopped after")


@pytest.mark.slow
def test_longest_holds_for_the_process_or_says_what_it_had_no_time_for(small):
    """A round is rendered in any case; beyond that the time is kept, on a busy machine too."""
    pytest.importorskip("mitsuba")
    import time

    command = [sys.executable, "-m", "stackview", "glow", str(small), "--error", "1%"]
    took = {}
    for longest in (1, 60):
        begun = time.monotonic()
        done = subprocess.run(
            [*command, "--longest", str(longest), "--out", str(small.parent / "out")],
            capture_output=True,
            text=True,
            check=True,
        )
        took[longest] = time.monotonic() - begun
        words = " ".join(done.stdout.split())
        for missing, file in (("daylight", "small-glow-day.png"), ("pictures", "small-glow-evening.png")):
            no_time = re.search(rf"There was no time for [a-z, ]*{missing}", words) is not None
            assert no_time != (small.parent / "out" / file).exists()
    assert took[60] < 1.25 * max(60.0, took[1])
