from pathlib import Path

import pytest

from stackview.__main__ import main
from tests.shop.box_lamp import BOX


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    path = tmp_path / "box.toml"
    path.write_text(BOX, encoding="utf-8")
    return path


def test_models_stand_beside_the_lamp(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", str(lamp), "glb", "3mf"]) == 0
    folder = lamp.parent / "box-models"
    assert sorted(file.name for file in folder.iterdir()) == ["box.3mf", "box.glb"]
    said = capsys.readouterr().out
    assert f"Wrote {folder / 'box.glb'}" in said
    assert "nowhere farther than 0.05 mm from the true curve" in said
    # ours are replaced
    assert main(["export", str(lamp), "--out", str(folder)]) == 0
    assert (folder / "ring-a.stl").exists()
    assert main(["export", str(lamp), "--out", str(folder)]) == 0


@pytest.mark.parametrize("name", ["box.glb", "box.3mf", "box.obj", "box.mtl", "cap.stl"])
def test_what_is_not_ours_stays(lamp: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    folder = lamp.parent / "models"
    folder.mkdir()
    (folder / name).write_bytes(b"solid of somebody else")
    assert main(["export", str(lamp), "--out", str(folder)]) == 2
    assert f"{name}: not replaced, because stackview did not write it" in capsys.readouterr().err
    assert [file.name for file in folder.iterdir()] == [name]
    assert (folder / name).read_bytes() == b"solid of somebody else"


def test_bad_arguments(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", str(lamp), "step"]) == 2
    assert '"step" is no format of a model' in capsys.readouterr().err
    (lamp.parent / "file").write_text("", encoding="utf-8")
    assert main(["export", str(lamp), "glb", "--out", str(lamp.parent / "file" / "in")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_the_cord_is_told_to_be_left_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", "demos/kelp.toml", "glb", "--out", str(tmp_path)]) == 0
    assert "The cord is left out." in capsys.readouterr().out
