"""The public names: few, all there, and all documented."""

import re
import shutil
from inspect import isclass
from pathlib import Path

import pytest

import stackview

ROOT = Path(__file__).parents[1]


def test_public_names() -> None:
    assert set(stackview.__all__) == {
        "Finding",
        "LampError",
        "LampFile",
        "Level",
        "StackviewError",
        "Study",
        "__version__",
        "assemble",
        "draw",
        "draw_eye",
        "draw_map",
        "draw_plan",
        "draw_room",
        "draw_section",
        "draw_view",
        "light_up",
        "load",
        "model_files",
        "parts_list",
        "save",
        "schema",
        "sightlines",
        "turntable",
    }


def test_every_public_name_loads_and_is_documented() -> None:
    for name in stackview.__all__:
        value = getattr(stackview, name)
        assert name == "__version__" or value.__doc__, name


def test_the_class_does_not_hide_its_module() -> None:
    from stackview import Study

    assert stackview.Study is Study
    assert stackview.study.Study is Study


def test_unknown_name() -> None:
    assert not hasattr(stackview, "nothing")


def test_every_public_method_is_documented() -> None:
    for name in stackview.__all__:
        value = getattr(stackview, name)
        if isclass(value):
            for part, held in vars(value).items():
                if not part.startswith("_") and (callable(held) or isinstance(held, property)):
                    assert held.__doc__, f"{name}.{part}"


def test_types_are_shipped() -> None:
    assert (Path(stackview.__file__).parent / "py.typed").exists()


def test_the_readmes_notebook_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys) -> None:  # type: ignore[no-untyped-def]
    text = (ROOT / "README.md").read_text(encoding="utf-8").partition("## In a notebook")[2]
    block = re.search(r"```python\n(.*?)```", text, re.S)
    assert block is not None
    shutil.copytree(ROOT / "demos", tmp_path / "demos")
    monkeypatch.chdir(tmp_path)
    held: dict[str, object] = {}
    exec(compile(block[1], "README.md", "exec"), held)
    said = capsys.readouterr().out
    assert said.startswith("Study of 'Honeycomb'")
    assert "of all directions show a bare point" in said
    assert "fault: base plate in base: it does not fit" in said
    assert (tmp_path / "honeycomb.png").stat().st_size > 10_000
    assert held["picture"].shape == (600, 800, 3)  # type: ignore[attr-defined]
    assert held["picture"]._repr_png_().startswith(b"\x89PNG")  # type: ignore[attr-defined]
