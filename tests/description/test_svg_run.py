import time

import pytest
import svgelements

from stackview.description import svg_run
from stackview.description.curve_limits import CurveError
from stackview.description.svg_run import closed_run
from stackview.description.units import MILLIMETRES


def test_lines_and_circular_arcs_are_exact() -> None:
    gap, vertices = closed_run(svgelements.Path("M0 0H10V10A5 5 0 0 1 0 10Z"), svgelements, MILLIMETRES)
    assert gap == 0.0
    assert [(round(x, 9), round(y, 9)) for x, y, _ in vertices][:3] == [(0, 0), (10, 0), (10, 10)]
    assert max(abs(bulge) for *_, bulge in vertices) <= 1.0


def test_ends_that_do_not_meet_are_told_by_their_distance() -> None:
    assert closed_run(svgelements.Path("M0 0H10V3"), svgelements, MILLIMETRES) == (abs(10 + 3j), [])
    assert closed_run(svgelements.Path("M0 0"), svgelements, MILLIMETRES) == (0.0, [])


def test_an_arc_of_an_absurd_radius_is_refused_at_once_and_a_nearly_straight_one_is_followed() -> None:
    """The first was found by fuzzing: 20,000 arcs were tried along points that were nothing but rounding."""
    begun = time.process_time()
    with pytest.raises(CurveError, match=r"radius of more than 10,000 km: draw a straight line"):
        closed_run(
            svgelements.Path("M0 20a5e+0130 15 30 0 0 27.96 1035.83768980V60z"), svgelements, MILLIMETRES
        )
    assert time.process_time() - begun < 1.0
    _, vertices = closed_run(svgelements.Path("M0 0A2e5 2e5 0 0 1 40 0V30H0z"), svgelements, MILLIMETRES)
    # sagitta of a chord c in a circle r: c²/8r
    assert abs(vertices[0][2]) * 20.0 == pytest.approx(40.0**2 / 1.6e6, rel=1e-3)


def test_an_arc_that_reaches_far_is_refused_before_it_is_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    followed: list[object] = []
    monkeypatch.setattr(svg_run, "joined", lambda pieces, *_, **__: followed.append(pieces))
    far = r"reaches more than 50000 mm from its start, outside 0\.01 mm to 5000 mm"
    for arc in ("A5e6 3e6 0 1 1", "A5e6 5e6 0 1 1", "A5e6 30 20 1 1", "A4e4 3e4 0 1 0"):
        with pytest.raises(CurveError, match=far):
            closed_run(svgelements.Path(f"M0 0{arc} 40 0V30H0z"), svgelements, MILLIMETRES)
    assert not followed
    # the other way, across the same 40 mm, they are as good as straight
    closed_run(svgelements.Path("M0 0A5e6 3e6 0 0 1 40 0V30H0z"), svgelements, MILLIMETRES)
    assert len(followed) == 1
