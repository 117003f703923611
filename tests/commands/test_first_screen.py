"""The first screen: the answers that the study has, in half a page that nothing is cut from."""

from dataclasses import replace
from io import StringIO
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from rich.console import Console

from stackview.change.evened import Evened, LightAndPower
from stackview.change.mend import Mend, NewNumber
from stackview.change.mends import Mending
from stackview.commands.first_screen import LINES, _the_others, show_first_screen
from stackview.findings import Level
from stackview.kept import keep
from stackview.sight.bands import Kind
from stackview.spots.eye_spots import EyeSpots, PlateSpots
from stackview.study import Study
from tests.change.spotty import small
from tests.checks.written import SOUND

DEMOS = Path(__file__).parents[2] / "demos"
LONG = "the guest who always sits by the window on the left, far off"
TIERS = """
name = "Bare post"
unit = "mm"
[materials]
ply = { plywood = "birch", sold = 9, measured = 8.8 }
tube = { metal = "aluminium" }
[[layer]]
name = "base"
material = "ply"
outline = { circle = 120 }
opening = { circle = 8 }
bore = { diameter = 5 }
[core]
material = "tube"
outline = { circle = 30 }
wall = 2
height = 60
[[light]]
runs = { count = 4, length = 50 }
watts_per_metre = 4
lumens_per_metre = 300
"""


def shown(study: Study, width: int = 80) -> list[str]:
    out = StringIO()
    show_first_screen(Console(file=out, width=width, highlight=False), study, Mending(study))
    return out.getvalue().splitlines()


def written(tmp_path: Path, text: str) -> Study:
    file = tmp_path / "lamp.toml"
    file.write_text(text, encoding="utf-8")
    return Study.read(file)


def row(lines: list[str], eye: str) -> list[str]:
    return next(line for line in lines if line.split("  ")[1:2] == [eye]).replace(eye, "").split()


def test_one_led_is_answered_with_yes_and_no() -> None:
    lines = shown(Study.read(DEMOS / "moor-drum.toml"))
    assert lines[0].startswith("Moor Drum: 101.2 mm tall, 476 g")
    assert lines[0].endswith("1 LED")
    assert lines[2] == 'CAN YOU SEE THE LED?  Yes, bare, from "reader lying down".'
    assert row(lines, "reader lying down") == ["yes", "yes", "–"]
    assert row(lines, "standing") == ["–", "–", "–"]
    assert "WHAT HELPS MOST" in lines
    assert "MUST BE MENDED  Nothing." in lines
    assert len(lines) <= LINES
    assert max(map(len, lines)) <= 80


GAP = """
name = "Gap"
materials.wood = { wood = "walnut", sold = 10 }
materials.rod = { metal = "brass" }
layer = [
    { name = "base", material = "wood", outline = { circle = 120 } },
    { group = "spacers" },
    { name = "ring", material = "wood", outline = { circle = 120 }, wall = 10 },
    { name = "lid", material = "wood", outline = { circle = 120 } },
]
light = [{ diode = { on = "base", facing = "up", height = 3 }, watts = 1, lumens = 100, face = [2, 2] }]
surface = { height = 700, size = [2000, 2000] }
[[groups.spacers]]
name = "spacers"
material = "rod"
outline = { circle = 6 }
thickness = 20
around = { count = 3, circle = 105, first = 60 }
"""
"""An LED 13 mm up on the axis, its face 2 mm square, below a gap that ends 30 mm up and 60 mm out."""


def test_an_eye_that_sees_a_corner_alone_is_named_before_one_that_sees_more(tmp_path: Path) -> None:
    # An eye 1000 mm off sees the middle while it is lower than 13 + 1000·17/60 = 296.3 mm over the table, and the
    # face's near side, 1 mm nearer, while it is lower than 13 + 999·17/59 = 300.8.
    eyes = "".join(
        f'[[eye]]\nname = "{name}"\ndistance = 1000\nheight = {height}\n'
        for name, height in (("under", 989.3), ("a hair over", 1000), ("well over", 1100))
    )
    lines = shown(written(tmp_path, GAP + eyes))
    assert row(lines, "under") == ["yes", "yes", "–"]
    assert row(lines, "a hair over") == ["–", "–", "–"]
    assert '  Only its corner shows bare, from "a hair over".' in lines


DARK = "  It stays dark: under 1% of the light of its light points leaves the lamp."


@pytest.mark.parametrize("closed", [True, False])
def test_a_lamp_that_lets_no_light_out_is_told_so(tmp_path: Path, closed: bool) -> None:
    # Without its spacers the ring stands on the base: a box of wood. With them light leaves, over which an eye looks.
    text = GAP.partition("[[groups")[0].replace('    { group = "spacers" },\n', "") if closed else GAP
    over = '[[eye]]\nname = "over it"\ndistance = 500\nheight = 1700\n'
    lines = shown(written(tmp_path, text + over))
    assert lines[2] == "CAN YOU SEE THE LED?  No, neither bare nor through acrylic, from your eye."
    assert (DARK in lines) == closed


def test_a_lamp_whose_light_leaves_by_a_small_hole_alone_stays_dark(tmp_path: Path) -> None:
    # 13 mm² of hole in about 19,000 mm² of dark wood: of the light that falls on it some 0.07% leaves.
    closed = GAP.partition("[[groups")[0].replace('    { group = "spacers" },\n', "")
    lid = '"lid", material = "wood", outline = { circle = 120 }'
    holed = closed.replace(lid, lid + ", opening = { circle = 4, at = [40, 0] }")
    over = '[[eye]]\nname = "over it"\ndistance = 500\nheight = 1700\n'
    assert DARK in shown(written(tmp_path, holed + over))


def test_counts_are_those_of_the_sightlines_worst_eye_first(tmp_path: Path) -> None:
    eyes = "".join(
        f'[[eye]]\nname = "eye {far}"\ndistance = {far}\nheight = {high}\n'
        for far, high in ((400, 800), (3000, 1100))
    )
    study = written(tmp_path, TIERS + eyes)
    lines = shown(study)
    table = {}
    for seen in study.sightlines.eyes:
        bare, through = seen.counts(Kind.BARE), seen.counts(Kind.GLAZED, Kind.VEILED)
        found = (int(bare.max()), int(bare[seen.front]), int(through.max()))
        assert row(lines, seen.eye.name) == [str(number) if number else "–" for number in found]
        table[seen.eye.name] = found
    assert all(found[0] for found in table.values())
    order = [name for line in lines for name in table if line.startswith(f"  {name}")]
    assert order == sorted(table, key=lambda name: -table[name][0])
    assert lines[2] == "CAN YOU SEE LEDs?  Yes, bare, from both eyes."


@pytest.mark.parametrize("width", [60, 80, 118])
def test_names_are_never_cut(tmp_path: Path, width: int) -> None:
    eye = f'[[eye]]\nname = "{LONG}"\ndistance = 900\nheight = 1100\n'
    lines = shown(written(tmp_path, TIERS + eye), width)
    assert sum(LONG in " ".join(" ".join(lines).split()) for _ in (0,)) == 1
    assert any(line.strip() == LONG or line.startswith(f"  {LONG}  ") for line in lines)
    assert all(len(line) <= max(width, len(LONG) + 2) for line in lines)


SUNK = """
name = "Sunk"
unit = "mm"
[materials]
ash = { wood = "ash", sold = 20, measured = 20 }
clear = { acrylic = "clear", sold = 5, measured = 5 }
[[layer]]
name = "foot"
material = "ash"
outline = { rectangle = [160, 80] }
[[layer]]
name = "window"
material = "clear"
outline = { rectangle = [130, 56] }
[[light]]
diode = { on = "foot" }
[[eye]]
name = "sofa"
distance = 2200
height = 1150
"""


def test_what_shows_of_a_light_point_inside_a_part_is_not_known(tmp_path: Path) -> None:
    lines = shown(written(tmp_path, SUNK))
    assert "CAN YOU SEE THE LED?  Not known: it sits inside a part." in lines
    # Nor is it said that its window stays dark.
    assert not any("GLOW EVENLY" in line for line in lines)
    # A second one 3 mm above the window: 20 + 5 + 3 = 28 mm up, in the open and bare to all.
    both = SUNK + '[[light]]\ndiode = { on = "window" }\n'
    lines = shown(written(tmp_path, both))
    assert 'CAN YOU SEE LEDs?  Yes, bare, from "sofa".' in lines
    assert "  Not known of 1 that sits inside a part." in lines


def test_a_lamp_without_light_is_asked_nothing_of_it(tmp_path: Path) -> None:
    lines = shown(written(tmp_path, TIERS.partition("[[light]]")[0]))
    assert "no light is described" in lines[0]
    assert not any("CAN YOU SEE" in line for line in lines)


def test_a_sound_lamp_is_quiet(tmp_path: Path) -> None:
    study = written(tmp_path, SOUND)
    lines = shown(study)
    assert all(finding.level < Level.FAULT for finding in study.findings)
    assert "MUST BE MENDED  Nothing." in lines
    assert not any(line.startswith(("LOOK AT", "  ! ")) for line in lines)
    assert len(lines) <= 20


def test_inches_alone_on_half_a_page(tmp_path: Path) -> None:
    text = TIERS.replace('unit = "mm"', 'unit = "in"')
    for number in ("120", "30", "60", "50", "8.8"):
        text = text.replace(f" {number}\n", f' "{number} mm"\n').replace(f" {number} ", f' "{number} mm" ')
    text = text.replace("circle = 8 ", 'circle = "8 mm" ').replace("diameter = 5 ", 'diameter = "5 mm" ')
    text = (
        text.replace("sold = 9,", 'sold = "9 mm",')
        .replace("wall = 2", 'wall = "2 mm"')
        .replace("length = 50", 'length = "50 mm"')
    )
    lines = shown(written(tmp_path, text))
    assert " in tall" in lines[0]
    assert not any(" mm" in line for line in lines)


def test_faults_come_with_a_mend_that_was_tried(tmp_path: Path) -> None:
    text = SOUND.replace('port = "usb charger"', 'port = "usb 2.0"').replace(
        "watts_per_metre = 4", "watts_per_metre = 12"
    )
    study = written(tmp_path, text)
    (fault,) = [finding for finding in study.findings if finding.level == Level.FAULT]
    lines = shown(study)
    start = lines.index("MUST BE MENDED (1)")
    assert lines[start + 1].startswith(f"  ! {fault.where}: {fault.gist}"[:70])
    assert lines[start + 2].startswith("    Mend: light")
    assert any(line.startswith("More: `stackview check`") for line in lines)


@pytest.mark.parametrize("room", [True, False])
def test_what_evens_spots_stands_below_the_plates_where_there_is_room(monkeypatch, room: bool) -> None:  # type: ignore[no-untyped-def]
    study = small("opal")
    eye = study.lamp.eyes[0]
    before = PlateSpots("plate", 8.0, 0.1, 900.0, 300.0, 0.02, (1,))
    even = Evened(eye.name, before, replace(before, ratio=1.2))
    opal = NewNumber("materials.stock.acrylic", "clear", "opal", "opal", ("plate",))
    mend = Mend((opal,), even.text, 0.0, 0.0, evened=(even,), light=LightAndPower((28.0, 19.0), None))
    keep(study, spots=(EyeSpots(eye, 0.0, (before,)),))
    monkeypatch.setattr(Mending, "evening_by_sheets", lambda *_: iter((mend, mend)))
    if not room:
        monkeypatch.setattr("stackview.commands.first_screen.LINES", 8)
    lines = shown(study)
    told = '  Mend: materials.stock.acrylic clear to opal: for "over it" 8.0 ± 0.8 to'
    assert sum(line.startswith(told) for line in lines) == (1 if room else 0)
    assert lines[-1].endswith("(edges, what evens spots)")
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize(
    ("others", "said"),
    [
        ([(0, 3)], "1 more of your eyes sees no more than these."),
        ([(1, 0), (0, 3)], "2 more of your eyes see no more than these."),
        ([(1, 0), (0, 20)], "2 more of your eyes see no more bare, but up to 20 through acrylic."),
    ],
)
def test_eyes_that_have_no_room_are_told_by_what_they_see(others: list[tuple[int, int]], said: str) -> None:
    def eye(bare: int, through: int) -> SimpleNamespace:
        return SimpleNamespace(counts=lambda *kinds: np.array([bare if Kind.BARE in kinds else through]))

    assert _the_others([eye(*own) for own in [(2, 0)] * 3 + [(1, 3)] + others]) == said  # type: ignore[misc]
