"""A preview's pictures: each written whole, all targets known to be free before the first."""

from pathlib import Path
from typing import NoReturn

import pytest
from PIL import Image

from stackview.at_once import begun_behind
from stackview.commands.drawing import Behind, Pictures
from stackview.errors import OutputError
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.fixture(scope="module")
def study() -> Study:
    return Study.read(DEMOS / "moor-drum.toml", bearings=36)


def drum(study: Study, folder: Path, behind: Behind = begun_behind) -> Pictures:
    return Pictures(study, folder, "drum", bearing=30.0, elevation=15.0, size=(96, 72), behind=behind)


def test_pictures_have_their_names_titles_and_size(study: Study, tmp_path: Path) -> None:
    made = []
    with drum(study, tmp_path) as pictures:
        pictures.begin_lamp()
        pictures.begin_charts()
        for file in pictures.written():
            assert file.stat().st_size > 0, "it is there when it is said to be"
            made.append(file.name)
    assert made[:4] == ["drum-room.png", "drum-lamp.png", "drum-sightlines.png", "drum-section.png"]
    assert ("drum-clash.png" in made) == bool(study.stack.misfits)
    with Image.open(tmp_path / "drum-lamp.png") as image:
        assert image.size == (96, 72)
        assert image.text["Title"] == f"{study.lamp.name}: lamp"


def test_a_file_of_the_makers_own_stops_it_before_anything_is_drawn(study: Study, tmp_path: Path) -> None:
    def begins(_: object) -> NoReturn:
        pytest.fail("it draws")

    theirs = tmp_path / "drum-section.png"
    theirs.write_bytes(b"not ours")
    with pytest.raises(OutputError, match=r"drum-section\.png"):
        drum(study, tmp_path, behind=begins).begin_lamp()
    assert theirs.read_bytes() == b"not ours"
    assert list(tmp_path.iterdir()) == [theirs]
