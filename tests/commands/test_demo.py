"""``stackview demo``, and what each demo lamp is expected to reveal."""

from pathlib import Path

import pytest

from stackview.checks.sight_checks import SIGHT_CHECKS
from stackview.checks.subject import run_checks
from stackview.commands.demo import demos
from stackview.sight.bands import Kind
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"

# The table in README.md says the same in words: for each named eye, which classes show.
REVEALS = {
    "moor-drum": {"reader lying down": {"bare"}, "standing": set()},
    "honeycomb": {"seated": {"bare"}, "standing": {"bare"}},
    "kelp": {"seated": {"veiled"}, "standing": {"veiled"}},
    "turning-lantern": {"at the desk": {"veiled"}, "across the room": {"glazed", "veiled"}},
}
FINDINGS = {
    "moor-drum": {("bare light", "caution")},
    "honeycomb": {("seat", "fault"), ("bare light", "caution")},
    "kelp": {("veiled light", "note")},
    "turning-lantern": {("glazed light", "note"), ("veiled light", "note")},
}


def test_every_demo_is_in_the_tables() -> None:
    assert set(demos()) == set(REVEALS) == set(FINDINGS)


@pytest.mark.parametrize("name", sorted(REVEALS))
def test_demo_reveals_what_it_is_meant_to(name: str) -> None:
    study = Study.read(DEMOS / f"{name}.toml")
    shown = {seen.eye.name: {kind.word for kind in Kind if seen.counts(kind).any()} for seen in study.eyes}
    assert shown == REVEALS[name]
    assert {(finding.check, finding.level.word) for finding in run_checks(study, SIGHT_CHECKS)} == FINDINGS[
        name
    ]


def test_at_least_two_demos_show_bare_points_through_open_gaps() -> None:
    assert sum(any("bare" in kinds for kinds in eyes.values()) for eyes in REVEALS.values()) >= 2


def test_list_of_demos(run) -> None:  # type: ignore[no-untyped-def]
    code, out, _ = run("demo")
    assert code == 0
    for name in REVEALS:
        assert name in out


@pytest.mark.slow
def test_demo_is_copied_out_and_previewed(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("demo", "moor-drum", "--to", tmp_path / "mine")
    assert (code, err) == (0, "")
    assert (tmp_path / "mine" / "moor-drum.toml").read_bytes() == (DEMOS / "moor-drum.toml").read_bytes()
    assert (tmp_path / "mine" / "moor-drum-pictures" / "moor-drum-lamp.png").exists()
    assert "Moor Drum" in out


def test_a_changed_copy_is_kept(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "moor-drum.toml").write_text("name = 'mine'\n")
    code, _, err = run("demo", "moor-drum", "--to", tmp_path)
    assert code == 2
    assert "not replaced" in err
    assert (tmp_path / "moor-drum.toml").read_text() == "name = 'mine'\n"


def test_unknown_demo_names_the_near_one(run) -> None:  # type: ignore[no-untyped-def]
    code, _, err = run("demo", "honycomb")
    assert code == 2
    assert "honeycomb" in err
