"""What a lamp's text is answered with: everything that is known, sound in itself, or one clear refusal."""

import json

import numpy as np
import trimesh

from stackview.description.reading import read_text
from stackview.errors import LampError
from stackview.findings import Level
from stackview.sight.record import record
from stackview.study import Study
from tests.whole.random_lamps import FOLDER

REFUSED, ANSWERED = "refused", "answered"
_BEARINGS = 36


def answer(text: str) -> str:
    """Ask everything about a lamp but its pictures; returns whether it was refused or answered.

    Raises AssertionError for an answer that contradicts itself, and whatever else the program does by mistake.
    """
    try:
        lamp = read_text(text, "lamp.toml", FOLDER)
        study = Study(lamp, bearings=_BEARINGS)
        parts = study.stack.placed
        _ = study.light, study.sightlines
    except LampError as refused:
        _check_refusal(refused)
        return REFUSED
    for part in parts:
        mesh = trimesh.Trimesh(part.solid.vertices, part.solid.triangles, process=False, validate=False)
        assert mesh.is_watertight, part.name
        assert mesh.is_winding_consistent, part.name
        assert mesh.volume > 0.0, part.name
    heights = np.concatenate([part.solid.vertices[:, 2] for part in parts if not part.is_cord])
    assert abs(heights.max() - study.stack.height) < 1e-6 or study.stack.height >= heights.max()
    assert all(np.isfinite(mass.grams) and mass.grams > 0.0 for mass in study.masses)
    for finding in (*study.findings, *study.facts):
        json.dumps(finding.record(), allow_nan=False)
        assert finding.level <= Level.FAULT
        assert "could not be made" not in finding.what, finding
    json.dumps(record(study.stack, study.sightlines, study.findings), allow_nan=False)
    return ANSWERED


def _check_refusal(refused: LampError) -> None:
    assert refused.faults
    for fault in refused.faults:
        assert str(fault).isprintable()
        assert fault.where, fault
        assert 20 <= len(str(fault)) < 2000, fault
