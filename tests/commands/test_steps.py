import json
import shutil
from pathlib import Path

import pytest

from stackview.__main__ import main
from stackview.checks.befores import Before
from stackview.shop.work_order import work_order
from tests.checks.written import SOUND
from tests.shop.hand_lamps import glued_order


@pytest.fixture
def lamp(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A lamp's file whose order is known already."""
    monkeypatch.setattr("stackview.shop.work_order.work_order", lambda _: glued_order())
    path = tmp_path / "lamp.toml"
    path.write_text(SOUND, encoding="utf-8")
    return path


def test_the_order_here_and_a_page_beside_the_file(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["steps", str(lamp), "--page"]) == 0
    said = capsys.readouterr().out
    page = lamp.parent / "lamp-steps.html"
    assert f"Wrote {page}" in said
    first = page.read_text("utf-8")
    assert main(["steps", str(lamp), "--page"]) == 0
    assert page.read_text("utf-8") == first
    assert main(["steps", str(lamp), "--page", "--out", str(lamp.parent / "bench")]) == 0
    assert (lamp.parent / "bench" / "lamp-steps.html").read_text("utf-8") == first
    assert sorted(path.name for path in lamp.parent.iterdir()) == ["bench", "lamp-steps.html", "lamp.toml"]


def test_json_is_one_object(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["steps", str(lamp), "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert [step["number"] for step in record["steps"]] == list(range(1, len(record["steps"]) + 1))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["--json", "--page"], "--json and --page are both given"),
        (["--json", "--full"], "--json and --full are both given"),
        (["--out", "somewhere"], "give --page too"),
    ],
)
def test_bad_arguments(more: list[str], says: str, lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["steps", str(lamp), *more]) == 2
    assert says in capsys.readouterr().err


def test_a_file_that_is_not_ours_is_never_replaced(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = lamp.parent / "lamp-steps.html"
    page.write_text("<!DOCTYPE html>\nmine", encoding="utf-8")
    assert main(["steps", str(lamp), "--page"]) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    assert "stackview did not write it" in err
    assert page.read_text("utf-8") == "<!DOCTYPE html>\nmine"


def test_a_folder_that_is_a_file_is_told(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["steps", str(lamp), "--page", "--out", str(lamp)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert lamp.read_text("utf-8") == SOUND


def test_a_lamp_that_goes_together_in_no_order_is_a_fault(
    lamp: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pair = (Before("ring 1", "ring 2", "x"), Before("ring 2", "ring 1", "y"))
    monkeypatch.setattr("stackview.checks.assembly_order.what_lies_over_what", lambda _: pair)
    monkeypatch.setattr("stackview.shop.work_order.work_order", work_order)
    assert main(["steps", str(lamp), "--page"]) == 1
    said = capsys.readouterr().out
    assert "ring 1 and ring 2: each has to be in its place before the other" in said
    assert not (lamp.parent / "lamp-steps.html").exists()


@pytest.mark.slow
@pytest.mark.parametrize("demo", ["moor-drum", "honeycomb", "kelp", "turning-lantern"])
def test_demos_in_a_screen(
    demo: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for path in Path("demos").glob(f"{demo}.*"):
        shutil.copy(path, tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    assert main(["steps", str(tmp_path / f"{demo}.toml")]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) <= 48
    assert max(map(len, lines)) <= 80
