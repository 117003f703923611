"""A file that is saved is read again, beside whoever asks."""

import os
import time
from pathlib import Path

import pytest

from stackview.errors import Fault, LampError
from stackview.window.shown import Shown
from stackview.window.watch import Watch, stamp_of


def outcome(watch: Watch) -> Shown | str | None:
    for _ in range(200):
        found = watch.result()
        if found is not None:
            return found
        time.sleep(0.01)
    return None


def touched(file: Path, text: str) -> None:
    file.write_text(text)
    status = file.stat()
    os.utime(file, ns=(status.st_atime_ns, status.st_mtime_ns + 5_000_000))


def test_nothing_happens_until_a_file_changes(tmp_path: Path, honeycomb: Shown) -> None:
    file = tmp_path / "a.toml"
    file.write_text("one")
    watch = Watch((file,), lambda: honeycomb)
    assert not watch.look()
    assert watch.result() is None
    touched(file, "two")
    assert watch.look()
    assert outcome(watch) is honeycomb
    assert not watch.look()


@pytest.mark.parametrize(
    ("trouble", "words"),
    [
        (LampError("a.toml", (Fault("layer", "too thick"),)), "layer: too thick"),
        (OSError(13, "Permission denied"), "Permission denied"),
        (RuntimeError("odd"), "odd"),
    ],
)
def test_trouble_is_told_and_the_next_save_is_read(tmp_path: Path, trouble: Exception, words: str) -> None:
    file = tmp_path / "a.toml"
    file.write_text("one")

    def load() -> Shown:
        raise trouble

    watch = Watch((file,), load)
    for text in ("bad", "worse still"):
        touched(file, text)
        assert watch.look()
        found = outcome(watch)
        assert isinstance(found, str)
        assert words in found
        while watch.busy:
            time.sleep(0.01)


def test_a_file_that_is_being_replaced_is_waited_for(tmp_path: Path, honeycomb: Shown) -> None:
    file = tmp_path / "a.toml"
    file.write_text("one")
    watch = Watch((file,), lambda: honeycomb)
    file.unlink()
    assert stamp_of((file,)) == (None,)
    assert not watch.look()
    file.write_text("one, and more")
    assert watch.look()
    assert outcome(watch) is honeycomb


def test_a_save_is_noticed_by_a_clock_that_was_set_back(tmp_path: Path, honeycomb: Shown) -> None:
    file = tmp_path / "a.toml"
    file.write_text("one")
    watch = Watch((file,), lambda: honeycomb)
    for when in (2_000_000_000, 1_000_000_000, 0):  # in the year 2033, in 2001, in 1970
        file.write_text("two")
        os.utime(file, (when, when))
        assert watch.look()
        assert outcome(watch) is honeycomb
        assert not watch.look()


def test_a_save_of_the_same_size_and_time_is_noticed(tmp_path: Path, honeycomb: Shown) -> None:
    file, beside = tmp_path / "a.toml", tmp_path / "a.toml~"
    file.write_text("wall = 12")
    os.utime(file, (1_000_000_000, 1_000_000_000))
    watch = Watch((file,), lambda: honeycomb)
    beside.write_text("wall = 14")
    os.utime(beside, (1_000_000_000, 1_000_000_000))
    beside.replace(file)
    assert watch.look()
    assert outcome(watch) is honeycomb


def test_what_was_read_in_the_middle_of_a_save_is_read_again_after_it(
    tmp_path: Path, honeycomb: Shown
) -> None:
    file = tmp_path / "a.toml"
    file.write_text("old and whole")

    def load() -> Shown:
        if file.read_text() != "new and whole":
            raise LampError("a.toml", (Fault("line 1", "is broken"),))
        return honeycomb

    watch = Watch((file,), load)
    file.write_text("new an")
    assert watch.look()
    assert isinstance(outcome(watch), str)
    file.write_text("new and whole")
    assert watch.look()
    assert outcome(watch) is honeycomb
