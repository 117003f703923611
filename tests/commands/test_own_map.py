"""What shows at an eye's own distance, by height: rows that hold the map's counts, told alike by table and record."""

import io
import json

import numpy as np
import pytest
from rich.console import Console

from stackview.commands.own_map import own_map_record, rows_by_height, show_own_map
from stackview.sight.bands import even_bearings
from stackview.sight.room_round import RoomRound
from stackview.study import Study


def test_stretches_in_which_the_same_shows_are_one() -> None:
    heights = np.linspace(0.0, 500.0, 251)
    counts = np.zeros((3, 8, 251), np.int32)
    counts[0, 0, 60:90] = 2  # 120 to 178 mm, from the front
    counts[0, 3, 60:90] = 5
    counts[2, 1, 200:] = 1  # from 400 mm up
    told = RoomRound(900.0, even_bearings(8), heights, counts)
    rows = list(rows_by_height(told, 100.0))
    ends = [(row["from_height_mm"], row["to_height_mm"]) for row in rows]
    assert ends == [(0.0, 100.0), (100.0, 200.0), (200.0, 400.0), (400.0, 500.0)]
    assert [row["bare_worst"] for row in rows] == [0, 5, 0, 0]
    assert [row["bare_front"] for row in rows] == [0, 2, 0, 0]
    assert [row["veiled_worst"] for row in rows] == [0, 0, 0, 1]


@pytest.mark.parametrize("arguments", [("--eye", "READER LYING DOWN"), ("--from", "1100")])
def test_sight_tells_it_in_table_and_record(run, arguments: tuple[str, str]) -> None:  # type: ignore[no-untyped-def]
    file = "demos/moor-drum.toml"
    code, out, err = run("sight", file, "--no-spots", "--json", *arguments)
    assert (code, err) == (0, "")
    study = Study.read(file)
    own = study.sightlines.eye("reader lying down") if arguments[0] == "--eye" else None
    distance = own.eye.distance if own else 1100.0
    assert json.loads(out)["from"] == own_map_record(study, distance)
    screen = Console(file=io.StringIO(), width=80)
    show_own_map(screen, study, distance)
    assert screen.file.getvalue() in run("sight", file, "--no-spots", *arguments)[1].replace("\r", "")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--eye", "sofa"), "none of that name; the eyes are reader lying down, standing"),
        (("--from", "0"), "--from: "),
        (("--from", "60"), "inside the lamp, which reaches 65 mm"),
        (("--from", "900", "--eye", "standing"), "not both"),
    ],
)
def test_what_is_no_place_to_look_from_is_refused_in_one_line(run, arguments, told) -> None:  # type: ignore[no-untyped-def]
    for command in (("sight",), ("picture", "--out", "nowhere")):
        code, out, err = run(
            *command, "demos/moor-drum.toml", *(["map"] if "picture" in command else []), *arguments
        )
        assert (code, out) == (2, "")
        assert told in err
        assert err.count("\n") == 1
