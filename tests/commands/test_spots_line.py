"""What the preview says of spots."""

from dataclasses import replace
from io import StringIO
from pathlib import Path

from rich.console import Console

from stackview.commands.spots_line import show_spots, spots_lines
from stackview.description.units import MILLIMETRES, units_of
from stackview.glow.estimate import UNKNOWN, Estimate
from stackview.study import Study

SPOTS = Estimate("plate 1", 10.0, 8.0, "sanded", 2.62, "spots", 17_400.0, "why")


def test_nothing_to_say_without_plates() -> None:
    assert spots_lines((), MILLIMETRES) == []


def test_spots_with_their_numbers_and_the_distance_at_which_they_merge() -> None:
    assert spots_lines((SPOTS,), MILLIMETRES) == [
        "Spots likely on plate 1 (quick estimate: brightest place 2.6 times the mean around it, "
        "light points 10 mm apart and 8 mm away); to a keen eye they merge from 17.4 m."
    ]
    (inches,) = spots_lines((replace(SPOTS, pitch=25.4),), units_of("in"))
    assert "1 in (25.4 mm) apart" in inches


def test_plates_alike_are_folded_and_the_worst_stands_for_them() -> None:
    every = [replace(SPOTS, layer=f"plate {k}", ratio=2.0 + k / 10) for k in range(1, 7)]
    (line,) = spots_lines(every, MILLIMETRES)
    assert "plate 1, plate 2, plate 3 and 3 more" in line
    assert "2.6 times" in line


def test_worst_comes_first_and_what_is_not_known_last() -> None:
    even = replace(SPOTS, layer="a", ratio=1.1, word="even")
    unknown = replace(SPOTS, layer="b", ratio=None, word=UNKNOWN, why="light grazes it")
    lines = spots_lines((unknown, even, SPOTS), MILLIMETRES)
    assert [line.split(" (")[0].split(" on ")[0] for line in lines] == [
        "Spots likely",
        "Light looks even",
        "Spots not known without `stackview glow`",
    ]
    assert "light grazes it" in lines[2]


def test_one_light_point_alone_is_one_spot() -> None:
    (line,) = spots_lines((replace(SPOTS, pitch=None, merges_at=None),), MILLIMETRES)
    assert line.startswith("One bright spot is likely on plate 1")
    assert "merge" not in line


def test_spots_that_no_room_merges() -> None:
    (line,) = spots_lines((replace(SPOTS, merges_at=float("inf")),), MILLIMETRES)
    assert line.endswith("; a keen eye tells them apart all over a room.")


def test_clear_plates() -> None:
    (line,) = spots_lines((replace(SPOTS, finish="clear", ratio=None, word="single LEDs"),), MILLIMETRES)
    assert line == "Clear acrylic shows single LEDs as they are: plate 1."


def test_continuous_strip_has_bright_places_but_no_spots() -> None:
    (line,) = spots_lines((replace(SPOTS, strip=True, merges_at=None),), MILLIMETRES)
    assert line.startswith("A bright place is likely where the strip passes close to plate 1")
    assert "apart" not in line


def test_preview_prints_it(starter: Path) -> None:
    out = StringIO()
    show_spots(Console(file=out, width=118), Study.read(starter))
    text = out.getvalue()
    assert any(
        word in text for word in ("quick estimate", "not known without `stackview glow`", "Clear acrylic")
    )
    assert all(len(line) <= 118 for line in text.splitlines())
