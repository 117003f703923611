"""What is kept for further questions cannot be changed by one of them: every kept array is read-only."""

import ast
import gc
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path

import numpy as np
import pytest

from stackview.by_value import ByValue
from stackview.checks.cutter import uncut_outside
from stackview.curves import arcs, fit, near
from stackview.description import shapes
from stackview.description.outline import Outline, path_of
from stackview.drawings import paper
from stackview.glow.sanded_table import sanded_faces
from stackview.glow.spot_table import spot_table
from stackview.glow.tone_curves import tone_family
from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.scene import scene_of
from stackview.stills import noise, refine
from tests.stills.demos import demo, study_of

PACKAGE = Path(__file__).parents[1] / "stackview"
SHAPE = shapes.Rectangle(40.0, 20.0, 5.0)
PATH = path_of(Outline(SHAPE))
DRAWN = shapes.Curve(((-5.0, 0.0, 0.0), (5.0, 0.0, 1.0)), "test")

WITH_ARRAYS: dict[str, Callable[[], object]] = {
    "curves/arcs.pieces_of": lambda: arcs.pieces_of(PATH),
    "curves/arcs.piece_bounds": lambda: [
        arcs.piece_bounds(arcs.pieces_of(path_of(Outline(shape))))
        for shape in (SHAPE, shapes.Regular(6, 9.0))
    ],
    "curves/near.chords_of": lambda: near.chords_of(arcs.pieces_of(PATH)),
    "curves/fit._arcs": lambda: fit._arcs(arcs.pieces_of(PATH)),
    "curves/fit._risers": lambda: fit._risers(arcs.pieces_of(PATH)),
    "description/outline.path_of": lambda: PATH,
    "description/shapes._drawn": lambda: shapes._drawn(DRAWN),
    "drawings/paper._as_beziers": lambda: paper._as_beziers(PATH),
    "glow/sanded_table.sanded_faces": sanded_faces,
    "glow/spot_table.spot_table": spot_table,
    "glow/tone_curves.tone_family": tone_family,
    "sight/clear_bodies.clear_bodies": lambda: clear_bodies(scene_of(demo("turning-lantern")[0].placed)),
    "stills/noise._table": noise._table,
    "stills/refine._pattern": lambda: refine._pattern(3, 4, 5),
}
"""Kept answers that hold arrays, each with a question."""
WITHOUT = {
    "checks/cutter._left",
    "checks/lamp_heat.warm",
    "checks/wire_way.heights",
    "curves/arcs.bounds",
    "curves/fit.gap",
    "curves/fit.inside",
    "curves/fit.overlapping",
    "curves/offset.mitre",
    "description/cautions_table.cautions_table",
    "description/curve_file._curve_in",
    "description/cutting_table.cutting_ranges",
    "description/workshop_tables.wood_finishes",
    "description/limits_table.known_limits",
    "description/materials_table._table",
    "description/movement_table._table",
    "description/service_tables._table",
    "description/shapes._drawn_reach",
    "description/sheets_table.sold_sheets",
    "drawings/chart_style.font_file",
    "description/keys.every_table",
    "drawings/chart_style._glyphs",
    "drawings/paper._face",
    "drawings/paper._properties",
    "drawings/paper.words_width",
    "glow/acrylic_faces.taught",
    "glow/engine._library",
    "glow/denoiser._processor",
    "stack/joints.joints",
    "stills/kept_light.code_version",
    "window/ink._sheet",
    "window/ink._sign",
    "window/ink.font",
}
"""Kept answers without arrays: numbers, words, tables, libraries, Pillow's images that are only pasted."""


def kept() -> Iterator[str]:
    for file in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                names = {ast.unparse(one).split("(")[0].split(".")[-1] for one in node.decorator_list}
                if names & {"cache", "lru_cache", "cached_property"}:
                    yield f"{file.relative_to(PACKAGE).with_suffix('')}.{node.name}"


def writable(value: object, where: str = "") -> Iterator[str]:
    """Places of arrays that could be written to, in tuples, lists, dictionaries and dataclasses."""
    if isinstance(value, np.ndarray):
        if value.flags.writeable:
            yield where
    elif isinstance(value, dict):
        for key, one in value.items():
            yield from writable(one, f"{where}[{key}]")
    elif isinstance(value, tuple | list):
        for index, one in enumerate(value):
            yield from writable(one, f"{where}[{index}]")
    elif is_dataclass(value):
        names = {field.name for field in fields(value)} | set(getattr(value, "__dict__", {}))
        for name in sorted(names):
            yield from writable(getattr(value, name), f"{where}.{name}")


def test_every_kept_answer_is_asked_here() -> None:
    assert set(kept()) == set(WITH_ARRAYS) | WITHOUT


@pytest.mark.parametrize("name", sorted(WITH_ARRAYS))
def test_kept_arrays_are_read_only(name: str) -> None:
    assert list(writable(WITH_ARRAYS[name]())) == []


def test_answers_kept_by_value_are_read_only() -> None:
    demo("honeycomb")
    assert uncut_outside(Outline(SHAPE), 3.0).pieces == 0
    tables = [thing for thing in gc.get_objects() if isinstance(thing, ByValue)]
    answers = [answer for table in tables for answer, _ in table._held.values()]
    assert len(answers) > 10
    assert list(writable(answers)) == []


@pytest.mark.parametrize("name", ["moor-drum", "honeycomb"])
def test_all_that_a_study_knows_is_read_only(name: str) -> None:
    study = study_of(name)
    assert len(study.eyes) + len(study.stack.supports.pieces) > 3
    assert study.sightlines.share_bare >= 0.0
    assert len(study.sightlines.names.texts) > 3
    for part in (study.stack, study.light, study.sightlines, study.eyes):
        assert list(writable(part)) == []


def test_an_array_that_can_be_written_to_is_found() -> None:
    assert list(writable({"a": (1, np.zeros(3))})) == ["[a][1]"]
