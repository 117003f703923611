import gc
import itertools
import weakref

import numpy as np
import pytest
import shapely

from stackview.arrays import Floats
from stackview.description.lamp import Lamp, Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.sight.towers import Towers, towers_of
from stackview.stack.assembly import assemble
from stackview.stack.placed import Placed
from tests.stack.layers import ASH, circle, pocket, ring, square

TALL = 40


def tower(*layers: Layer) -> Towers:
    return towers_of(assemble(Lamp("test", "mm", layers)).placed)


def tapering(by: float, tall: int = TALL) -> tuple[Layer, ...]:
    """Rings 3 high and 14 wide on a base, each ``by`` wider than the one below."""
    rings = (ring(f"ring {k}", 120.0 + by * k, 92.0 + by * k, 3.0) for k in range(tall))
    return Layer("base", ASH, 10.0, circle(120.0)), *rings


def mixed() -> tuple[Layer, ...]:
    """Rings of three shapes, some with a pocket, under a square lid."""
    let_in = pocket(Outline(Circle(100.0)), 1.0, clearance=0.0)
    some = (
        ring(f"ring {k}", 120.0 + 4.0 * (k % 3), 92.0, 4.0, recess=let_in if k % 5 == 0 else None)
        for k in range(TALL)
    )
    return Layer("base", ASH, 10.0, circle(120.0)), *some, Layer("lid", ASH, 6.0, square(140.0))


LAMPS = {"straight": tapering(0.0), "wider": tapering(0.4), "narrower": tapering(-0.4), "mixed": mixed()}


def crossings(part: Placed, starts: Floats, ways: Floats) -> np.ndarray:
    """How often each ray goes through the part's surface (Möller and Trumbore 1997)."""
    a, b, c = (part.solid.vertices[part.solid.triangles[:, k]] for k in range(3))
    across = np.cross(ways[:, None], c - a)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        scale = 1.0 / (across * (b - a)).sum(axis=-1)
        away = starts[:, None] - a
        u = (across * away).sum(axis=-1) * scale
        other = np.cross(away, b - a)
        v = (ways[:, None] * other).sum(axis=-1) * scale
        far = (other * (c - a)).sum(axis=-1) * scale
        return np.asarray(((u >= 0.0) & (v >= 0.0) & (u + v <= 1.0) & (far > 0.0)).sum(axis=1))


@pytest.mark.parametrize("lamp", LAMPS)
def test_no_part_that_a_line_meets_is_left_out(lamp: str) -> None:
    towers = tower(*LAMPS[lamp])
    rng = np.random.default_rng(5)
    places = np.column_stack([rng.uniform(-50.0, 50.0, (60, 2)), rng.uniform(-5.0, 150.0, 60)])
    bearing, low = rng.uniform(0.0, 2.0 * np.pi, 60), rng.uniform(-1.57, 1.55, 60)
    low[:3] = 0.0, -np.pi / 2.0, -0.01
    high = np.minimum(low + rng.choice([1e-6, 0.02], 60), np.pi / 2.0)
    met = towers.met(places, bearing, low, high)
    for share in (0.0, 0.3, 1.0):
        rise = low + share * (high - low)
        ways = np.column_stack(
            [np.sin(bearing) * np.cos(rise), -np.cos(bearing) * np.cos(rise), np.sin(rise)]
        )
        for number, part in enumerate(towers.placed):
            assert not (crossings(part, places, ways).astype(bool) & ~met[:, number]).any()


def test_of_a_chimney_a_line_over_the_rim_meets_nothing_and_one_under_it_a_few() -> None:
    towers = tower(*tapering(0.0))
    rim = 10.0 + 3.0 * TALL
    places = np.array([[0.0, 0.0, 20.0]] * 3)
    rise = np.arctan((np.array([rim + 1.0, rim - 1.0, rim - 20.0]) - 20.0) / 46.0)
    met = towers.met(places, np.array([0.3, 0.3, 0.3]), rise, rise + 1e-6)
    assert not met[0].any()
    assert [towers.placed[k].name for k in np.flatnonzero(met[1])] == [f"ring {TALL - 1}"]
    assert 1 <= met[2].sum() <= 10


@pytest.mark.parametrize("lamp", LAMPS)
def test_prisms_hold_nothing_that_no_layer_holds(lamp: str) -> None:
    towers = tower(*LAMPS[lamp])
    rng = np.random.default_rng(7)
    most = np.full(len(towers.placed), len(towers.placed))
    most[[3, 20]] = 0
    taken = towers.taken(most)
    assert taken.own[[3, 20]].all()
    prisms = towers.parts(taken)[taken.own.sum() :]
    assert prisms
    for prism in prisms:
        left, below, right, above = shapely.MultiPoint(prism.solid.vertices[:, :2]).bounds
        low, high = prism.solid.vertices[:, 2].min(), prism.solid.vertices[:, 2].max()
        at = rng.uniform((left, below, low), (right, above, high), (24, 3))
        # a way that runs along no wall
        way = np.tile([0.0123, 0.0077, 1.0], (24, 1))
        held = [crossings(part, at, way) % 2 == 1 for part in (prism, *towers.placed)]
        assert not (held[0] & ~np.any(held[1:], axis=0)).any()


def test_every_layer_of_a_chimney_is_taken_once() -> None:
    towers = tower(*tapering(0.0))
    count = len(towers.placed)
    most = np.full(count, count)
    most[17] = 0
    taken = towers.taken(most)
    own = {towers.placed[k].name for k in np.flatnonzero(taken.own)}
    heights = sorted(
        (float(part.solid.vertices[:, 2].min()), float(part.solid.vertices[:, 2].max()))
        for part in towers.parts(taken)
    )
    assert "ring 16" in own
    assert heights[0][0] == 0.0
    assert all(one[1] == pytest.approx(other[0]) for one, other in itertools.pairwise(heights))
    assert heights[-1][1] == pytest.approx(10.0 + 3.0 * TALL)
    assert len(heights) <= 14


def test_a_run_that_is_met_is_taken_in_smaller_ones_and_then_its_parts_by_themselves() -> None:
    towers = tower(*tapering(0.0))
    count = len(towers.placed)
    most, met = np.full(count, count), np.zeros(count, dtype=bool)
    met[11] = True
    seen = []
    for _ in range(5):
        taken = towers.taken(most)
        seen.append((bool(taken.own[11]), len(towers.parts(taken))))
        most = towers.finer(most, taken, met)
    assert seen[0] == (False, 1)
    assert seen[-1][0]
    assert seen[-1][1] <= 20


def test_towers_hold_no_lamp_alive_once_nobody_has_them() -> None:
    towers = tower(*LAMPS["wider"])
    held = weakref.ref(towers.order)
    del towers
    gc.collect()
    assert held() is None
