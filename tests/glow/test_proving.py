"""The faster variant is used only after a trial in a process of its own: no library can take the program along."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from stackview.glow import engine, proving
from stackview.glow.engine import LIBRARY
from stackview.glow.proving import LOSSLESS, QUICK, Variant, best_variant, fingerprint, judged, proved, trial
from stackview.glow.skins import Skin

GOOD = "[[1.0, 2.0, 4.0], [1.001, 2.0, 3.99]]"


def child(code: str) -> Sequence[str]:
    return (sys.executable, "-c", code)


def prints(text: str) -> Sequence[str]:
    return child(f"import sys; sys.stdout.write({text!r})")


@pytest.fixture
def folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "cache"))
    return tmp_path / "cache"


def is_refused(found: Variant, *words: str) -> None:
    assert found.name == engine.STEADY
    assert not found.fast
    assert "\n" not in found.why
    for word in words:
        assert word in found.why


def test_a_trial_that_agrees_allows_the_faster_variant() -> None:
    found = proved(prints(GOOD), 30.0)
    assert found.fast
    assert "0.2%" in found.why


def test_a_crash_is_survived_and_named() -> None:
    words = "LLVM ERROR: Cannot select: 0x55fba6ded3e0: f32 = fminimum 0x55fba6ded3e1\\nmore\\n"
    found = proved(
        child(f"import os, sys; sys.stderr.write('{words}'); sys.stderr.flush(); os.abort()"), 30.0
    )
    is_refused(found, "signal 6", "Cannot select: f32 = fminimum)")
    is_refused(proved(child("import os; os.kill(os.getpid(), 11)"), 30.0), "signal 11")


def test_an_error_is_told_by_its_last_line() -> None:
    found = proved(child("raise ImportError('the LLVM shared library could not be found')"), 30.0)
    is_refused(found, "code 1", "ImportError: the LLVM shared library could not be found")


def test_a_long_error_is_cut() -> None:
    assert len(proved(child("raise ValueError('x' * 9000)"), 30.0).why) < 300


def test_a_trial_that_hangs_is_ended() -> None:
    is_refused(proved(child("import time; time.sleep(60)"), 0.5), "longer than 0.5 s")


def test_a_trial_that_cannot_start(tmp_path: Path) -> None:
    is_refused(proved((str(tmp_path / "none"),), 5.0), "could not be started")


@pytest.mark.parametrize(
    "text", ["", "nonsense", "{}", "[[1.0]]", "[1.0, 2.0]", '[["a"], ["b"]]', "[[], []]"]
)
def test_an_answer_that_is_none(text: str) -> None:
    is_refused(proved(prints(text), 30.0), "its trial gave")


def luminances(*values: float) -> np.ndarray:
    return np.array(values)


@pytest.mark.parametrize(
    ("fast", "words"),
    [
        (luminances(1.0, 2.0, 4.4), "10% off"),
        (luminances(1.0, 2.0, float("nan")), "not numbers above 0"),
        (luminances(1.0, 2.0), "another number"),
        # Each within its own noise, but all of them too bright.
        (luminances(1.04, 2.08, 4.16), "4% off"),
    ],
)
def test_wrong_luminances_are_refused(fast: np.ndarray, words: str) -> None:
    is_refused(judged(luminances(1.0, 2.0, 4.0), fast), words)


def test_a_black_trial_proves_nothing() -> None:
    is_refused(judged(np.zeros(3), np.zeros(3)), "above 0")


def test_every_kind_of_skin_is_tried() -> None:
    # Opal is tried with and without a straight share, which are two kinds to the renderer.
    assert {type(skin) for skin in (*QUICK, *LOSSLESS)} == set(Skin.__args__)


def test_a_renderer_that_was_loaded_first_has_another_library(
    monkeypatch: pytest.MonkeyPatch, folder: Path
) -> None:
    monkeypatch.delenv(LIBRARY, raising=False)
    monkeypatch.setattr(engine, "packaged_llvm", lambda: Path("libLLVM.so.23"))
    monkeypatch.setitem(sys.modules, "drjit", sys)
    monkeypatch.setattr(proving, "proved", lambda *_: pytest.fail("no trial tells of this process"))
    is_refused(best_variant(), "loaded before", LIBRARY)
    assert not folder.exists()


def test_without_the_renderer_nothing_is_tried(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    monkeypatch.setitem(sys.modules, "mitsuba", None)
    engine._library.cache_clear()
    try:
        with pytest.raises(engine.GlowMissingError):
            best_variant()
    finally:
        engine._library.cache_clear()
    assert not folder.exists()


def test_a_verdict_is_kept_until_the_library_changes(
    monkeypatch: pytest.MonkeyPatch, folder: Path, tmp_path: Path
) -> None:
    pytest.importorskip("mitsuba")
    library = tmp_path / "libLLVM.so"
    library.write_text("no library")
    monkeypatch.setenv(LIBRARY, str(library))
    told: list[str] = []

    def once(_command: Sequence[str], _seconds: float) -> Variant:
        told.append("tried")
        return Variant(engine.FAST, "proved")

    monkeypatch.setattr(proving, "proved", once)
    assert best_variant() == best_variant() == Variant(engine.FAST, "proved")
    assert len(told) == 1
    before = fingerprint()
    os.utime(library, (1, 1))
    assert fingerprint() != before
    best_variant()
    assert len(told) == 2
    (tmp_path / "other.so").write_text("no library either")
    monkeypatch.setenv(LIBRARY, str(tmp_path / "other.so"))
    best_variant()
    assert len(told) == 3
    assert len(list(folder.glob("variant-*.json"))) == 3
    assert not list(folder.glob("*.part"))


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", '{"name": "cuda_rgb", "why": ""}', '{"name": "llvm_ad_rgb"}',
     '{"name": "llvm_ad_rgb", "why": 3}', '{"name": "llvm_ad_rgb", "why": "' + "x" * 9000 + '"}'],
)  # fmt: skip
def test_a_broken_verdict_is_worked_out_anew(
    text: str, monkeypatch: pytest.MonkeyPatch, folder: Path
) -> None:
    pytest.importorskip("mitsuba")
    folder.mkdir()
    (folder / f"variant-{fingerprint()}.json").write_text(text)
    monkeypatch.setattr(proving, "proved", lambda *_: Variant(engine.STEADY, "tried anew"))
    assert best_variant().why == "tried anew"
    kept = json.loads((folder / f"variant-{fingerprint()}.json").read_text())
    assert kept == {"name": engine.STEADY, "why": "tried anew"}


def test_a_folder_that_takes_nothing_is_no_error(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    pytest.importorskip("mitsuba")
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "file"))
    monkeypatch.setattr(proving, "proved", lambda *_: Variant(engine.STEADY, "tried"))
    assert best_variant().why == "tried"


CRASHING = """
#include <stdlib.h>
__attribute__((constructor)) static void start(void) { abort(); }
"""
EMPTY = "int nothing_of_llvm(void) { return 0; }\n"


def stand_in(tmp_path: Path, source: str) -> Path:
    compiler = shutil.which("cc") or shutil.which("gcc")
    if compiler is None:
        pytest.skip("no C compiler for the stand-in library")
    (tmp_path / "stand_in.c").write_text(source)
    library = tmp_path / "libLLVM.so"
    subprocess.run(
        [compiler, "-shared", "-fPIC", "-o", str(library), str(tmp_path / "stand_in.c")], check=True
    )
    return library


@pytest.mark.parametrize(
    "kind", ["crashes as it loads", "holds nothing of LLVM", "is a text", "is not there"]
)
def test_a_bad_library_never_takes_the_program_along(
    kind: str, monkeypatch: pytest.MonkeyPatch, folder: Path, tmp_path: Path
) -> None:
    """With stand-in libraries: the program lives, says why, and renders with the steady variant."""
    pytest.importorskip("mitsuba")
    library = tmp_path / "libLLVM.so"
    match kind:
        case "crashes as it loads":
            library = stand_in(tmp_path, CRASHING)
        case "holds nothing of LLVM":
            library = stand_in(tmp_path, EMPTY)
        case "is a text":
            library.write_text("not a library\n")
    monkeypatch.setenv(LIBRARY, str(library))
    found = best_variant()
    is_refused(found, "the steady variant, not the faster one", "trial")
    if kind == "crashes as it loads":
        assert "signal 6" in found.why
    assert len(list(folder.glob("variant-*.json"))) == 1
    assert min(trial(found.name)) > 0


@pytest.mark.usefixtures("folder")
def test_what_this_machine_has_is_judged_and_what_is_proved_renders() -> None:
    pytest.importorskip("mitsuba")
    found = best_variant()
    assert found.name in (engine.STEADY, engine.FAST)
    # In a process of its own again, so that a verdict that is wrong fails this test and no other.
    code = f"from stackview.glow.proving import trial; assert min(trial({found.name!r})) > 0"
    assert subprocess.run(child(code), capture_output=True, check=False).returncode == 0
