"""Named views on their way: file names for any eye, every target free before anything is drawn."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from stackview.commands import views_drawn
from stackview.commands.views_drawn import ViewsWanted, _file_words, draw_views
from stackview.errors import LampError, OutputError

DRUM = Path(__file__).parents[2] / "demos" / "moor-drum.toml"


def wanted(transparent: bool = False, **sizes: tuple[int, int]) -> ViewsWanted:
    return ViewsWanted(sizes, None, None, None, transparent)


@given(st.lists(st.text(max_size=60), max_size=12))
def test_names_can_stand_in_any_file_system_and_differ(names: list[str]) -> None:
    found = _file_words(names)
    assert len({word.casefold() for word in found}) == len(names)
    for word in found:
        assert word
        assert len(word.encode("utf-8", "replace")) <= 100
        assert word.replace("-", "x").isalnum()
        assert not word.startswith("-")


def test_eyes_whose_names_come_to_one_word_have_pictures_of_their_own() -> None:
    """The third name with its number used to be the second."""
    assert len(set(_file_words(["desk", "desk 3", "Desk!"]))) == 3


def test_views_are_written_under_their_names(tmp_path: Path) -> None:
    made = list(draw_views(DRUM, tmp_path, wanted(front=(96, 72), top=(80, 64))))
    assert [file.name for file in made] == ["moor-drum-front.png", "moor-drum-top.png"]
    with Image.open(made[0]) as image:
        assert image.size == (96, 72)
        assert image.mode == "RGB"


def test_transparent_views_have_an_opacity(tmp_path: Path) -> None:
    (made,) = draw_views(DRUM, tmp_path, wanted(True, front=(96, 72)))
    with Image.open(made) as image:
        assert image.mode == "RGBA"
        low, high = image.getchannel("A").getextrema()
    assert (low, high) == (0, 255)


def test_a_target_that_is_not_ours_stops_it_before_anything_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(views_drawn, "draw_view", lambda *_, **__: pytest.fail("it draws"))
    theirs = tmp_path / "moor-drum-top.png"
    theirs.write_bytes(b"not ours")
    with pytest.raises(OutputError, match=r"moor-drum-top\.png"):
        list(draw_views(DRUM, tmp_path, wanted(front=(96, 72), top=(80, 64))))
    assert [file.name for file in tmp_path.iterdir()] == ["moor-drum-top.png"]


def test_what_is_wrong_in_the_file_is_told_with_its_name(tmp_path: Path) -> None:
    file = tmp_path / "bad.toml"
    file.write_text('name = "Bad"\n')
    with pytest.raises(LampError, match=r"bad\.toml"):
        list(draw_views(file, tmp_path, wanted(front=(96, 72))))
