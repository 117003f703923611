"""No place of the plan contradicts what a named eye sees there from its bearing."""

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.sight.bands import Kind, even_bearings
from stackview.sight.eyes import look_from_eyes
from stackview.sight.room import Zone
from stackview.study import Study

AROUND = even_bearings(720)


def contradicting(study: Study, height: float, circles: int, slack: int = 0) -> tuple[int, int]:
    """Of places on random circles at a height: those that no zone beside them tells rightly, and all."""
    lines = study.sightlines
    plan = lines.room_plan(height)
    away = np.random.default_rng(1).uniform(plan.distances[0] + 10.0, plan.distances[-1], circles)
    eyes = tuple(Eye(f"eye {k}", float(r), height) for k, r in enumerate(away))
    known = lines.scene, lines.points, eyes, lines.standpoint, lines.stack.height, AROUND
    wrong = 0
    for seen in look_from_eyes(*known, beams=lines.beams):
        bare, glazed, veiled = (seen.counts(kind) for kind in Kind)
        zone = np.where(bare, Zone.BARE, np.where(glazed, Zone.GLAZED, np.where(veiled, Zone.VEILED, 0)))
        count = np.where(bare, bare, np.where(glazed, glazed, veiled))
        told = np.zeros(len(AROUND), dtype=bool)
        for out in (0.0, -8.0, 8.0):
            for turn in (0.0, -0.25, 0.25):
                found = plan.at(AROUND + turn, np.full(len(AROUND), seen.eye.distance + out))
                told |= (found.zone == zone) & (np.abs(found.count - count) <= slack)
        wrong += int((~told).sum())
    return wrong, circles * len(AROUND)


def test_a_plan_of_a_small_lamp_is_what_eyes_see() -> None:
    study = Study.read("demos/moor-drum.toml")
    assert contradicting(study, 700.0, 12)[0] == 0
    assert contradicting(study, 300.0, 12)[0] == 0


@pytest.mark.slow
@pytest.mark.parametrize(("name", "few"), [("honeycomb", 5e-4), ("turning-lantern", 2e-3), ("kelp", 5e-3)])
@pytest.mark.parametrize("height", [300.0, 1165.0, 1600.0])
def test_plans_of_demos_are_what_eyes_see(name: str, few: float, height: float) -> None:
    wrong, places = contradicting(
        Study.read(f"demos/{name}.toml"), height, 20, slack=2 if name == "kelp" else 0
    )
    assert wrong <= few * places
