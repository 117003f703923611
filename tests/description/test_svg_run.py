import svgelements

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
