import io
from dataclasses import replace
from pathlib import Path

import pytest

from stackview.commands.parts_output import made_to, show_parts, write_parts_csv
from stackview.description.units import units_of
from stackview.shop.parts_list import parts_list
from stackview.study import Study
from tests.shop.box_lamp import box_study


@pytest.mark.parametrize("demo", ["honeycomb", "turning-lantern"])
def test_eighty_columns_cut_nothing(
    demo: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    study = Study.read(f"demos/{demo}.toml")
    listed = parts_list(study)
    show_parts(listed, study.lamp.units)
    said = capsys.readouterr().out
    assert max(map(len, said.splitlines())) <= 80
    assert "…" not in said
    told = _cells(said)
    for part in listed.parts:
        each = f"{part.grams:.0f} g" if part.grams >= 9.5 else f"{part.grams:.1f} g"
        assert [str(part.count), part.title, made_to(part, study.lamp.units).replace("\n", " "), each] in told
    for thing in listed.bought:
        assert [thing.what, thing.amount, thing.how] in told
    assert "To buy" in said


def _cells(said: str) -> list[list[str]]:
    """The rows of all tables, wrapped lines put together again."""
    rows: list[list[str]] = []
    begin = True
    for line in said.splitlines():
        if not line.startswith("│"):
            begin = True
            continue
        cells = [cell.strip() for cell in line.strip("│").split("│")]
        rows = (
            [*rows, cells]
            if begin
            else [*rows[:-1], [f"{a} {b}".strip() for a, b in zip(rows[-1], cells, strict=True)]]
        )
        begin = False
    return rows


def test_made_to_says_all_there_is(tmp_path: Path) -> None:
    listed = parts_list(box_study(tmp_path))
    by_name = {part.title: part for part in listed.parts}
    assert made_to(by_name["ring a, ring b"], units_of("mm")).splitlines() == [
        "160 mm × 110 mm, corners R 10 mm, 19.4 mm thick",
        "grain left to right",
        "through: opening 132 mm × 82 mm, corners R 1.5 mm",
        "underside: recess 2 mm deep, 140.4 mm × 90.4 mm, corners R 6.2 mm",
        "worked on with its underside up",
        "the other way up in the lamp: ring b",
    ]
    hexagon = parts_list(Study.read("demos/honeycomb.toml")).parts[0]
    assert made_to(hexagon, units_of("in")).startswith(
        "hexagon, 5-1/2 in (139.7 mm) across flats, corners sharp, .742 in (18.85 mm) thick; in a rectangle "
        "6.351 in × 5-1/2 in"
    )
    # 5-1/2 · 2/√3 = 6.35085, and 6-11/32 = 6.34375 is the nearest 64th
    assert "; by a rule 6-11/32 in × 5-1/2 in" in made_to(hexagon, units_of("in")).splitlines()[0]


def test_a_cell_is_never_a_formula(tmp_path: Path) -> None:
    listed = parts_list(box_study(tmp_path))
    bad = replace(listed, parts=(replace(listed.parts[0], title="=1+1"),))
    out = io.StringIO()
    write_parts_csv(bad, out)
    assert ",'=1+1," in out.getvalue()
