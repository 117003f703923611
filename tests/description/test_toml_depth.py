"""Depth is counted before parsing, outside of texts and comments, and in a time that grows with the length alone."""

import time
from pathlib import Path

import pytest
from hypothesis import given

from stackview.description.toml_depth import DEEPEST, is_nested_deep
from tests.description.toml_texts import texts

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))


@pytest.mark.parametrize(
    "text",
    [
        "a" + ".a" * 300_000 + " = 1",
        "[" + "a." * 300_000 + "a]",
        "[[" + "a . " * 300_000 + "a]]",
        "a = " + "[" * 300_000,
        "a = " + "{a=" * 100_000,
        "a = { " + "b." * 5_000 + "b = 1 }",
        'a = "x"\n"é"' + '."é"' * 50 + " = 1",
        "'q.q'" + ".'[['" * 50 + " = 1",
        "\n".join("[" + ".".join("a" * (k + 1)) + "]" for k in range(700)),
        'a = """' + "[" * 30 + '"""\nb = ' + "[" * 30,
    ],
)
def test_deep_texts(text: str) -> None:
    begun = time.process_time()
    assert is_nested_deep(text)
    assert time.process_time() - begun < 2.0


@pytest.mark.parametrize(
    "text",
    [
        "a" + ".a" * (DEEPEST - 1) + " = 1",
        "a = " + "[" * DEEPEST + "]" * DEEPEST,
        "a = '" + "[." * 99 + "'",
        'a = "' + r"\"[." * 99 + '"',
        "# " + "a." * 99 + "[" * 99,
        'a = """\n' + "[a." * 99 + '\n"""',
        "a = '''\n" + "[a." * 99 + "\n'''",
        "a = [" + "1.5, " * 5000 + "]",
        "\n".join(f"[a.b{k}]" for k in range(5000)),
        "",
    ],
)
def test_shallow_texts(text: str) -> None:
    assert not is_nested_deep(text)


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_demos_are_shallow(file: Path) -> None:
    assert not is_nested_deep(file.read_text("utf-8"))


@given(texts())
def test_sound_texts_of_every_style_are_shallow(text: str) -> None:
    assert not is_nested_deep(text)


@pytest.mark.parametrize("unit", ['"', '\\"', "'", '"""', "'''", "a", "-", ".", "[]", '"\\', "#", "a ."])
def test_nothing_takes_long(unit: str) -> None:
    begun = time.process_time()
    is_nested_deep('x = "' + unit * (1_000_000 // len(unit)))
    is_nested_deep(unit * (1_000_000 // len(unit)))
    assert time.process_time() - begun < 4.0
