"""Rays to an eye: every point that it sees, in the cut at its bearing, past the edge next to its line."""

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.drawings.section_eye_rays import EyeRays, numbered_rays, rays_to_eye
from stackview.sight.bands import HIDDEN, Kind
from tests import lamps as plain
from tests.drawings.drawn import studied

RIGHT = (1.0, 0.0, 0.0)
EYE = Eye("seated", 500.0, 70.0)


def seen_from(*centres: tuple[float, float, float], eye: Eye = EYE, bearing: float | None = 90.0) -> EyeRays:
    """Two square boards of 100 mm, 40 mm apart, light points between them that look right."""
    boards = (
        plain.box("base", (-50, -50, -10), (50, 50, 0)),
        plain.box("lid", (-50, -50, 40), (50, 50, 50)),
    )
    points = plain.light_points(list(centres), [RIGHT] * len(centres))
    lines, _ = studied(boards, points, eyes=(eye,))
    return rays_to_eye(lines, lines.eye(), bearing)


def test_ray_runs_from_the_point_to_the_eye_past_the_nearer_edge() -> None:
    """From (0, 10) to (500, 70) the line is 16 mm up at the rim, 50 mm off: the base's edge is nearer than the lid's."""
    found = seen_from((0, 0, 10))
    (ray,) = found.rays
    assert (ray.number, ray.kind, ray.in_cut) == (1, Kind.BARE, True)
    assert ray.point == ray.start == pytest.approx((0.0, 10.0))
    assert found.place == pytest.approx((500.0, 70.0))
    assert ray.past == "base, outer edge on top"
    assert ray.past_at == pytest.approx((50.0, 0.0), abs=1e-2)


def test_points_aside_are_told_and_lie_square_on_the_cut() -> None:
    near, aside = seen_from((20, 2, 10), (20, 30, 10)).rays
    assert (near.in_cut, aside.in_cut) == (True, False)
    assert aside.aside == pytest.approx(30.0)
    assert aside.point == pytest.approx((20.0, 10.0))


@pytest.mark.parametrize("height", [70.0, 300.0, -100.0, 20.0])
def test_every_point_that_the_eye_sees_has_a_ray_and_no_other(height: float) -> None:
    centres = [(x, y, z) for x in (0, 30) for y in (-20, 0, 25) for z in (3, 20, 38)]
    found = seen_from(*centres, eye=Eye("near", 300.0, height), bearing=None)
    kinds = found.seen.kind[:, found.seen.worst]
    assert {ray.number - 1 for ray in found.rays} == set(np.flatnonzero(kinds != HIDDEN).tolist())
    assert found.bearing == found.seen.bearings[found.seen.worst]
    assert found.worst
    assert found.lost == 0


def test_one_ray_for_each_edge_from_the_top_down_and_the_others_counted() -> None:
    """To a level eye at 20 mm, points low in the gap pass the base's edge, high ones the lid's."""
    found = seen_from((0, 0, 5), (0, 0, 10), (0, 0, 30), eye=Eye("level", 500.0, 20.0))
    high, low = numbered_rays(found, 6)
    assert (high.ray.number, high.alike) == (3, 0)
    assert (low.ray.number, low.alike) == (1, 1)
    assert len(numbered_rays(found, 1)) == 1


def test_hidden_points_in_the_cut_are_kept_apart() -> None:
    found = seen_from((0, 0, 10), eye=Eye("over", 200.0, 900.0))
    assert found.rays == ()
    assert found.hidden == pytest.approx(np.array([[0.0, 10.0]]))


def test_bearing_asked_for_is_the_nearest_computed_one() -> None:
    found = seen_from((0, 0, 10), bearing=43.0)
    assert found.bearing == 45.0
