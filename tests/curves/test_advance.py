import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from stackview.curves import advance
from stackview.curves.advance import run
from stackview.curves.arcs import Path, area, polygon
from stackview.curves.crossing import crosses_itself
from stackview.curves.front import CannotOffset, front_of, path_through, state
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Rectangle
from tests.curves.test_front import CUT

GONE_AT = math.sqrt(2.0) / math.tan(math.pi / 8.0)
"""Its short side, 2√2 long, shrinks by 2·tan(22.5°) a millimetre (plane geometry)."""


def test_a_short_side_drops_out_when_its_length_is_used_up() -> None:
    assert len(run(front_of(CUT, -1.0, "mitre"), -0.9999 * GONE_AT)[1]) == 5
    front, joints = run(front_of(CUT, -1.0, "mitre"), -1.0001 * GONE_AT)
    assert len(joints) == 4
    assert path_through(front, joints).vertices[:, 2].tolist() == [0.0] * 4


def test_a_corner_radius_drops_out_at_the_radius() -> None:
    path = path_of(Outline(Rectangle(60.0, 40.0, 5.0)))
    assert len(run(front_of(path, -1.0, "mitre"), -4.999)[1]) == 8
    assert len(run(front_of(path, -1.0, "mitre"), -5.0)[1]) == 4


def test_stops_where_nothing_is_left() -> None:
    with pytest.raises(CannotOffset):
        run(front_of(CUT, -1.0, "mitre"), -10.5)


def test_a_corner_of_many_facets_drops_out_piece_by_piece_and_leaves_the_sharp_one() -> None:
    # An ellipse's end, facetted: its pieces vanish from the tip outwards, each meeting what is left beside it.
    angle = np.linspace(-math.pi / 2.0, math.pi / 2.0, 41)
    tip = np.column_stack((40.0 + 6.0 * np.cos(angle), 10.0 * np.sin(angle), np.zeros(41)))
    path = Path(np.concatenate(([(-40.0, 10.0, 0.0), (-40.0, -10.0, 0.0)], tip)))
    front, joints = run(front_of(path, -1.0, "mitre"), -8.0)
    assert len(joints) < 25
    # the facets' own inset, by halfplanes: what lies 8 mm and more inside every side
    flat = Polygon(path.vertices[:, :2])
    assert area(path_through(front, joints)) == pytest.approx(
        flat.buffer(-8.0, join_style="mitre", mitre_limit=1e3).area, rel=1e-9
    )


def test_what_is_left_never_has_a_piece_that_has_vanished() -> None:
    # Corners that stick out and in by turns, with arcs between some of them.
    rng = np.random.default_rng(4)
    kept = 0
    for _ in range(40):
        count = int(rng.integers(6, 30))
        angle = 2.0 * math.pi * np.arange(count) / count
        radius = 50.0 + rng.uniform(0.0, 6.0, count)
        bulge = np.where(rng.random(count) < 0.3, rng.uniform(-0.2, 0.2, count), 0.0)
        path = Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), bulge)))
        by = float(rng.uniform(-6.0, 6.0))
        if crosses_itself(path) is not None:
            continue
        try:
            front, joints = run(front_of(path, by, "round"), by)
        except CannotOffset:
            continue
        assert not state(front, by)[1].any()
        moved = path_through(front, joints)
        if crosses_itself(moved) is None:
            kept += 1
            flat = Polygon(polygon(path, 1e-4)).buffer(by, quad_segs=200)
            assert area(moved) >= flat.area * (
                1.0 - 1e-4
            )  # an inset keeps its corners sharp, so it may hold more
    assert kept > 20


def rough(count: int, noise: float, waves: int, bulged: float, seed: int) -> Path:
    """A wavy curve with corners by chance, some of its pieces arcs."""
    rng = np.random.default_rng(seed)
    angle = 2.0 * math.pi * np.arange(count) / count
    radius = 60.0 + 5.0 * np.sin(waves * angle) + noise * rng.standard_normal(count)
    bulge = np.where(rng.random(count) < bulged, rng.uniform(-0.05, 0.05, count), 0.0)
    return Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), bulge)))


@pytest.mark.parametrize("by", [-9.0, -2.0, 4.0])
@pytest.mark.parametrize(("noise", "bulged"), [(0.0, 0.0), (0.003, 0.0), (0.003, 0.3)])
def test_pieces_that_drop_out_together_leave_what_they_leave_one_after_another(
    by: float, noise: float, bulged: float
) -> None:
    front = front_of(rough(1500, noise, 9, bulged, 3), by, "round")
    one = advance._Ring(front, by).run(advance._Ring.first)
    together = advance._together(front, by)
    assert together is not None
    assert len(one.arc) == len(together.arc)
    assert state(one, by)[0] == pytest.approx(state(together, by)[0], abs=1e-10)


def test_many_pieces_drop_out_in_few_rounds(monkeypatch: pytest.MonkeyPatch) -> None:
    rounds: list[int] = []
    drop = advance._Ring.drop

    def counted(ring, gone, when):  # type: ignore[no-untyped-def]
        rounds.append(len(gone))
        drop(ring, gone, when)

    monkeypatch.setattr(advance._Ring, "drop", counted)
    front = front_of(rough(4000, 0.001, 9, 0.0, 3), -9.0, "mitre")
    run(front, -9.0)
    assert sum(rounds) > 5 * len(rounds)


def test_what_comes_too_late_is_done_again_in_order(monkeypatch: pytest.MonkeyPatch) -> None:
    front = front_of(rough(1500, 0.003, 9, 0.0, 3), -9.0, "mitre")
    in_order = advance._Ring(front, -9.0).run(advance._Ring.first)
    monkeypatch.setattr(advance, "_BESIDE", 0)
    assert advance._together(front, -9.0) is None
    assert np.array_equal(run(front, -9.0)[1], state(in_order, -9.0)[0])
