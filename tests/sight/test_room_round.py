"""An eye's own map says exactly what eyes at its distance see: by closed form, and as named eyes have it."""

import numpy as np
import pytest

from stackview.description.lamp import Eye, Lamp
from stackview.sight.bands import Kind
from stackview.sight.eyes import look_from_eyes
from stackview.sight.room import Zone
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack
from stackview.stack.seating import Standing
from stackview.study import Study
from tests import lamps as plain


def differing(study: Study, distance: float, heights: int) -> tuple[int, int]:
    """Of places at random heights, all round: those of which the map tells other counts than eyes have, and all."""
    lines = study.sightlines
    told = lines.room_round(distance)
    rows = np.sort(np.random.default_rng(3).choice(len(told.heights), heights, replace=False))
    eyes = tuple(Eye(f"eye {row}", distance, float(told.heights[row])) for row in rows)
    known = lines.scene, lines.points, eyes, lines.standpoint, lines.stack.height, told.bearings
    wrong = 0
    for row, seen in zip(rows, look_from_eyes(*known, beams=lines.beams), strict=True):
        counts = np.stack([seen.counts(kind) for kind in Kind])
        wrong += int((told.counts[:, :, row] != counts).any(axis=0).sum())
    return wrong, heights * len(told.bearings)


@pytest.mark.parametrize("distance", [300.0, 900.0])
def test_the_map_of_a_small_lamp_has_the_counts_of_eyes(distance: float) -> None:
    assert differing(Study.read("demos/moor-drum.toml"), distance, 60)[0] == 0


@pytest.mark.slow
@pytest.mark.parametrize(("name", "few"), [("honeycomb", 0.0), ("turning-lantern", 2e-3), ("kelp", 5e-3)])
@pytest.mark.parametrize("distance", [300.0, 900.0, 2500.0])
def test_maps_of_demos_have_the_counts_of_eyes(name: str, few: float, distance: float) -> None:
    """Exactly; but that of traced light what is aside of a joint may be told to the next tube."""
    wrong, places = differing(Study.read(f"demos/{name}.toml"), distance, 40)
    assert wrong <= few * places


def test_a_lid_hides_what_lies_above_its_edge() -> None:
    """A point on the axis at height 20 that looks up, under a lid of radius 50 at 30 to 40: seen by eyes
    between level with it and the line by the lid's edge underneath, 20 + (30 − 20)·r/50, at each bearing."""
    lid = plain.disc("lid", 50.0, 30.0, 40.0)
    stack = Stack(Lamp("test", "mm", ()), (lid,), Standing(), 40.0, 1000.0)
    lines = Sightlines(stack, plain.light_points([(0.0, 0.0, 20.0)], [(0.0, 0.0, 1.0)]), 72)
    told = lines.room_round(800.0)
    low, high = 1020.0, 1020.0 + 10.0 * 800.0 / 50.0
    # Its facets lie up to 0.03 mm within the circle, so that the line is up to 0.1 mm higher.
    between = np.abs(told.heights - high) < 0.2
    shown = (told.heights > low) & (told.heights < high)
    assert (told.counts[Kind.BARE][:, ~between] == shown[~between]).all()
    assert not told.counts[Kind.GLAZED].any()
    assert (told.zones.zone[:, shown & ~between] == Zone.BARE).all()
