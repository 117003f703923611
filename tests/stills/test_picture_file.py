import os
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from stackview.errors import OutputError
from stackview.stills.animation import gif_of, webp_of
from stackview.stills.picture_file import check_target, is_ours, write_picture

FRAMES = [np.full((8, 10, 3), value, np.uint8) for value in (10, 90, 200)]


@pytest.mark.parametrize(("name", "pack"), [("a.gif", gif_of), ("a.webp", webp_of)])
def test_animations_carry_the_mark_and_are_replaced(tmp_path, name, pack):
    target = tmp_path / name
    write_picture(pack(FRAMES), target)
    assert is_ours(target)
    write_picture(pack(FRAMES[::-1]), target)
    assert target.read_bytes() == pack(FRAMES[::-1])
    assert [file.name for file in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG", "JPEG"])
def test_another_programs_picture_is_left_alone(tmp_path, kind):
    target = tmp_path / f"a.{kind.lower()}"
    packed = BytesIO()
    Image.fromarray(FRAMES[0]).save(packed, kind)
    target.write_bytes(packed.getvalue())
    with pytest.raises(OutputError, match="did not write it"):
        check_target(target)
    with pytest.raises(OutputError, match="did not write it"):
        write_picture(gif_of(FRAMES), target)
    assert target.read_bytes() == packed.getvalue()


def test_a_comment_that_only_mentions_us_is_not_ours(tmp_path):
    target = tmp_path / "a.gif"
    Image.fromarray(FRAMES[0]).save(target, comment=b"made with stackview, then edited")
    assert not is_ours(target)


@pytest.mark.skipif(os.name != "posix", reason="pipes among files")
def test_a_pipe_in_a_pictures_place_is_left_alone_and_not_waited_for(tmp_path):
    pipe = tmp_path / "lamp.png"
    os.mkfifo(pipe)
    with pytest.raises(OutputError, match="not replaced, because stackview did not write it"):
        check_target(pipe)
    assert not is_ours(pipe)
