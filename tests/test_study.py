"""A study works everything out when first asked, once, and keeps it."""

import json
import pickle
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path
from threading import Barrier, Thread

import numpy as np
import pytest

import stackview
import stackview.study as module
from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.limits import limits_for
from stackview.checks.subject import run_checks
from stackview.description.lamp import Chamfer
from stackview.description.lamp_file import LampFile
from stackview.description.limits_table import own_limit
from stackview.description.reading import read_text
from stackview.description.units import units_of
from stackview.errors import LampError, StackviewError
from stackview.kept import is_kept
from stackview.sight.bands import Kind
from stackview.study import Study, of_study
from tests.checks.written import SOUND
from tests.reachable import reachable

DEMOS = Path(__file__).parents[1] / "demos"
DRUM = DEMOS / "moor-drum.toml"


@pytest.fixture(scope="module")
def drum() -> Study:
    return Study.read(DRUM)


def test_parts_are_those_of_the_steps_taken_one_by_one(drum: Study) -> None:
    lamp = stackview.load(DRUM)
    stack = stackview.assemble(lamp)
    light = stackview.light_up(stack)
    lines = stackview.sightlines(stack, light.points)
    assert drum.lamp == lamp
    assert drum.stack.height == stack.height
    assert np.array_equal(drum.light.points.centres, light.points.centres)
    assert drum.sightlines.share_bare == lines.share_bare
    assert [seen.kind.tolist() for seen in drum.eyes] == [seen.kind.tolist() for seen in lines.eyes]
    assert (*drum.findings, *drum.facts) == run_checks(drum, ALL_CHECKS)
    assert sum(mass.grams for mass in drum.masses) > 100.0


def test_nothing_is_worked_out_before_it_is_asked_for() -> None:
    study = Study.read(DRUM)
    assert not any(is_kept(study, name) for name in module._KNOWN)
    assert "known so far" not in repr(study)
    _ = study.light
    assert [name for name in module._KNOWN if is_kept(study, name)] == ["stack", "light"]
    assert repr(study).endswith("known so far: stack, light")
    _ = study.eyes
    assert not is_kept(study.sightlines, "_along_lines")


def test_each_part_is_one_value(drum: Study) -> None:
    for name in module._KNOWN:
        assert getattr(drum, name) is getattr(drum, name)


def test_findings_do_not_depend_on_what_was_asked_before() -> None:
    first, second = Study.read(DRUM), Study.read(DRUM)
    _ = second.sightlines
    assert first.findings == second.findings
    assert first.eyes[0].worst == second.eyes[0].worst


def test_two_threads_that_ask_at_once_work_it_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []
    assemble = module.assemble

    def counted(lamp):  # type: ignore[no-untyped-def]
        calls.append(lamp)
        return assemble(lamp)

    monkeypatch.setattr(module, "assemble", counted)
    study = Study.read(DRUM)
    names = ("light", "stack", "masses", "eyes") * 3
    together, found = Barrier(len(names)), []

    def ask(name: str) -> None:
        together.wait()
        found.append((name, getattr(study, name)))

    threads = [Thread(target=ask, args=(name,)) for name in names]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == len(names)
    assert len(calls) == 1
    assert all(value is getattr(study, name) for name, value in found)


def test_an_error_leaves_nothing_and_comes_again_alike() -> None:
    lamp = read_text(SOUND, "lamp.toml", Path())
    (light,) = lamp.lights
    long = replace(light.layout.strip, cut_every=900.0)  # type: ignore[union-attr]
    lamp = replace(lamp, lights=(replace(light, layout=replace(light.layout, strip=long)),))  # type: ignore[call-arg]
    study = Study(lamp)
    stack, told = study.stack, []
    for name in ("light", "sightlines", "findings", "eyes", "light"):
        with pytest.raises(LampError) as error:
            getattr(study, name)
        told.append(str(error.value))
        assert not is_kept(study, name)
    assert told[0].startswith('Sound: light "')
    assert "shorter than one segment of 900 mm" in told[0]
    assert set(told) == {told[0]}
    assert study.stack is stack


def test_a_variant_is_a_study_of_its_own(drum: Study) -> None:
    taller = drum.changed({"layer.base.chamfer.width": 1})
    assert drum.file is not None
    assert drum.file.value("layer.base.chamfer.width") == 1.5
    assert taller.lamp.layers[0].chamfers[0].width == 1.0
    assert drum.lamp.layers[0].chamfers[0].width == 1.5
    assert not is_kept(taller, "stack")
    assert (taller.bearings, taller.progress, taller.source) == (drum.bearings, drum.progress, drum.source)
    assert taller.changed({"layer.base.chamfer.width": 1.5}).lamp == drum.lamp


def test_a_change_that_is_refused_leaves_the_study_usable(drum: Study) -> None:
    stack = drum.stack
    for wrong, says in (
        ({"layer.base.chamfer.width": 50}, "50"),
        ({"layer.base.chamfer.widht": 1}, "width"),
        ({"layer.nobody.thickness": 1}, "nobody"),
    ):
        with pytest.raises(LampError, match=says) as error:
            drum.changed(wrong)
        assert str(error.value).startswith(str(DRUM))
    assert drum.stack is stack
    with pytest.raises(StackviewError, match="not read from a file"):
        Study(drum.lamp).changed({"layer.base.chamfer.width": 1})


def test_a_study_takes_a_file_as_a_value() -> None:
    file = LampFile.from_text(SOUND, "sound.toml")
    study = Study(file)
    assert study.file is file
    assert study.source == "sound.toml"
    assert study.lamp == read_text(SOUND, "sound.toml", Path())


def test_a_study_is_frozen(drum: Study) -> None:
    for name in ("lamp", "stack", "findings", "anything"):
        with pytest.raises(AttributeError, match=f"{name} cannot be set"):
            setattr(drum, name, None)
    with pytest.raises(AttributeError, match="cannot be taken away"):
        del drum.lamp


def test_findings_hold_the_lamp_against_its_own_limits() -> None:
    own = {"leak": own_limit("leak", 0.5, units_of("mm"), "mine")}
    study = Study.read(DRUM, own_limits=own)
    assert study.limits["leak"] == own["leak"]
    assert Study(study.lamp).limits == limits_for(study.lamp)


def test_progress_is_shown_where_there_is_something_to_wait_for() -> None:
    shown: list[tuple[str, int, int]] = []

    @contextmanager
    def watch(label: str, steps: int) -> Iterator[object]:
        done: list[int] = []
        yield done.append
        shown.append((label, steps, sum(done)))

    study = Study.read(DRUM, progress=watch)  # type: ignore[arg-type]
    _ = study.sightlines
    assert not shown
    _ = study.sightlines.bands, study.sightlines.bands
    assert [label for label, _, _ in shown] == [
        "straight lines, 1 light points", "light through clear acrylic, 1 light points",
    ]  # fmt: skip
    _ = study.eyes
    assert len(shown) == 4
    assert all(done == steps for _, steps, done in shown)


def test_another_process_works_out_the_same() -> None:
    own = {"leak": own_limit("leak", 0.5, units_of("mm"), "mine")}
    study = Study.read(DRUM, bearings=72, own_limits=own).changed({"layer.base.chamfer.width": 1})
    _ = study.stack
    sent = pickle.loads(pickle.dumps(study))
    assert (sent.lamp, sent.file, sent.source, sent.bearings) == (
        study.lamp, study.file, study.source, 72,
    )  # fmt: skip
    assert sent.limits == study.limits
    assert not is_kept(sent, "stack")
    assert sent.findings == study.findings
    plain = pickle.loads(pickle.dumps(Study(study.lamp)))
    assert (plain.file, plain.lamp) == (None, study.lamp)
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        assert pool.submit(_heights, study).result() == study.stack.height


def _heights(study: Study) -> float:
    return study.stack.height


@pytest.mark.parametrize("name", [pytest.param("turning-lantern", marks=pytest.mark.slow), "honeycomb"])
def test_eight_threads_that_ask_everything_are_given_the_same(name: str) -> None:
    study = Study.read(DEMOS / f"{name}.toml", bearings=72)
    asked: tuple[Callable[[], object], ...] = (
        lambda: study.stack,
        lambda: study.light,
        lambda: study.sightlines,
        lambda: study.eyes,
        lambda: study.findings,
        lambda: study.masses,
        lambda: study.stack.findings,
        lambda: study.sightlines.scene,
        lambda: study.sightlines.bands,
        lambda: study.sightlines.beams,
        lambda: study.sightlines.from_middles,
        lambda: study.sightlines.cut_offs,
        lambda: study.sightlines.causes,
    )
    together = Barrier(8)

    def ask(first: int) -> list[tuple[int, object]]:
        together.wait()
        turned = [(k + first) % len(asked) for k in range(len(asked))]
        return [(k, asked[k]()) for k in turned]

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(ask, range(8)))
    for answers in found:
        assert len(answers) == len(asked)
        for k, answer in answers:
            assert answer is asked[k]()
    alone = Study.read(DEMOS / f"{name}.toml", bearings=72)
    assert alone.findings == study.findings
    assert np.array_equal(alone.sightlines.bands.low, study.sightlines.bands.low)


def test_a_function_of_a_study_takes_its_parts_too(drum: Study) -> None:
    @of_study
    def named(study: Study, more: str = "") -> tuple[str, bool, str]:
        return study.lamp.name, is_kept(study, "light"), more

    assert named(drum, "x")[::2] == ("Moor Drum", "x")
    assert named(drum.stack, drum.light, "x") == ("Moor Drum", True, "x")
    assert named(drum.sightlines, drum.stack, more="x") == ("Moor Drum", False, "x")
    for wrong in (None, drum.lamp, "file.toml", drum.stack):
        with pytest.raises(TypeError, match="named takes a Study first"):
            named(wrong)  # type: ignore[call-overload]


@pytest.mark.parametrize(
    "name",
    ["honeycomb", *(pytest.param(name, marks=pytest.mark.slow) for name in ("turning-lantern", "kelp"))],
)
def test_everything_reachable_says_in_a_line_or_two_what_it_is(name: str) -> None:
    study = Study.read(DEMOS / f"{name}.toml", bearings=72)
    kinds = set()
    for one in reachable(study):
        kinds.add(type(one).__name__)
        text = repr(one)
        assert len(text) <= 200, f"{type(one).__name__}: {text[:300]}"
        assert text.count("\n") <= 1, text
    assert {
        "Study",
        "Stack",
        "Placed",
        "Solid",
        "Sightlines",
        "Seen",
        "Eye",
        "Finding",
        "LightPoints",
    } <= kinds
    assert {"LightLayout", "Lamp", "Layer", "Material", "Bands", "Mass", "Limits", "CutOff"} - {
        "CutOff"
    } <= kinds


def test_a_name_as_long_as_it_may_be_stays_in_its_line(drum: Study) -> None:
    study = Study(replace(drum.lamp, name="a\nb" * 500))
    assert len(repr(study)) <= 200
    assert "\n" not in repr(study)
    assert len(repr(study.lamp)) <= 200


def test_a_notebook_shows_what_is_known_and_escapes_it() -> None:
    study = Study(replace(stackview.load(DRUM), name="<b>Drum</b>"))
    first = study._repr_html_()
    assert "&lt;b&gt;Drum" in first
    assert "<b>" not in first
    assert "light points" in first
    assert f"{study.stack.grams:.0f} g without wiring" in first
    assert "&lt;b&gt;Drum" in study.stack._repr_html_()
    assert "ring 1" in study.stack._repr_html_()
    assert "findings" not in first
    assert not is_kept(study, "sightlines")
    _ = study.sightlines, study.findings
    second = study._repr_html_()
    assert "at most 1 bare" in second
    assert "1 caution" in second


def test_a_notebook_says_what_cannot_be_built() -> None:
    lamp = stackview.load(DRUM)
    thin = replace(lamp.layers[0], chamfers=(Chamfer("top outer", 50.0),))
    assert "cannot be built" in Study(replace(lamp, layers=(thin, *lamp.layers[1:])))._repr_html_()


def test_tables_are_plain_rows_that_agree_with_the_values(drum: Study) -> None:
    for table in (drum.eyes_table(), drum.cut_offs_table(), drum.findings_table()):
        assert table
        assert len({tuple(row) for row in table}) == 1, "every row has the same columns"
        for row in table:
            assert all(isinstance(value, str | int | float | None) for value in row.values())
        assert json.loads(json.dumps(table)) == table
    assert [row["name"] for row in drum.eyes_table()] == [eye.name for eye in drum.lamp.eyes]
    assert drum.eyes_table()[0]["bare_worst"] == drum.eyes[0].counts(Kind.BARE).max()
    assert [row["what"] for row in drum.findings_table()] == [one.what for one in drum.findings]


@pytest.mark.parametrize("bearings", [0, -5, 7.5, "a", True, 36_001])
def test_bearings_that_cannot_be_meant_are_refused(bearings: object) -> None:
    with pytest.raises(StackviewError, match="a whole number from 1 to 36000"):
        Study.read(DRUM, bearings=bearings)  # type: ignore[arg-type]


@pytest.mark.parametrize("given", ["moor-drum.toml", None, 3])
def test_what_is_no_lamp_is_told_what_to_give(given: object) -> None:
    with pytest.raises(TypeError, match=r"use Study\.read"):
        Study(given)  # type: ignore[arg-type]
