import tomllib
from pathlib import Path

from stackview.description.reading import read_text
from stackview.description.starter import starter_text


def test_the_starter_reads_and_lights(tmp_path: Path) -> None:
    lamp = read_text(starter_text(), "my lamp.toml", tmp_path)
    assert [layer.name for layer in lamp.layers][:3] == ["base", "ring 1", "plate 1"]
    assert len(lamp.lights) == 1
    assert len(lamp.eyes) == 3


def test_the_starter_is_short_and_explains_itself() -> None:
    lines = starter_text().splitlines()
    assert 10 <= len(lines) <= 20
    assert sum("#" in line for line in lines) >= 4
    assert tomllib.loads(starter_text())["unit"] == "mm"
