"""Light where bodies touch, against answers worked out by hand."""

from dataclasses import replace

import numpy as np
import pytest

from stackview.description.material import Finish
from stackview.description.service import Film
from stackview.sight.beams import traced
from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.glazed import glazed_bands
from stackview.sight.paths import LOST, LightPaths, followed
from stackview.sight.refraction import INDEX
from stackview.sight.scene import scene_of
from stackview.stack.placed import Placed
from tests.lamps import box, light_points

RIGHT = [[1.0, 0.0, 0.0]]
SANDED = Finish(top="sanded", underside="sanded", edge="sanded")
SILICONE, CEMENT = Film(1.41), Film(1.49)


def way(elevation: float) -> np.ndarray:
    """A unit vector towards +x, so far above the level [°]."""
    rise = np.radians(elevation)
    return np.array([[np.cos(rise), 0.0, np.sin(rise)]])


def sent(parts: tuple[Placed, ...], start: list[float], elevation: float) -> LightPaths:
    bodies = clear_bodies(scene_of(parts))
    assert bodies is not None
    return followed(bodies, np.array([start]), way(elevation))


def glued(film: Film, *parts: Placed) -> tuple[Placed, ...]:
    return tuple(replace(part, film=film) for part in parts)


def plate(name: str, low: float, high: float, body: str = "clear", finish: Finish = Finish()) -> Placed:
    return box(name, [10, -200, low], [110, 200, high], body, finish)  # type: ignore[arg-type]


UPPER = plate("upper", 0, 5)


def test_a_board_between_two_clear_plates_lets_nothing_through() -> None:
    parts = (UPPER, plate("board", -10, 0, "opaque"), plate("lower", -15, -10))
    for elevation in (-85.0, -60.0, -40.0):
        found = sent(parts, [40.0, 0.0, 20.0], elevation)
        assert (found.faces[0], found.ends[0]) == (0, 1)


@pytest.mark.parametrize("finish", [Finish(top="sanded"), SANDED])
def test_a_sanded_face_on_clear_acrylic_ends_the_path(finish: Finish) -> None:
    found = sent((UPPER, plate("lower", -5, 0, finish=finish)), [40.0, 0.0, 20.0], -60.0)
    assert (found.faces[0], found.ends[0]) == (0, 1)
    # From the other side as well: there it is the plate's own face.
    below = sent(
        (plate("sanded", 0, 5, finish=Finish(underside="sanded")), plate("clear", -5, 0)), [40, 0, 20], -60.0
    )
    assert below.faces[0] == 0


@pytest.mark.parametrize("elevation", [-85.0, -60.0, -30.0, -10.0])
def test_two_plates_that_touch_bend_light_as_one_of_both_thicknesses(elevation: float) -> None:
    two = sent((UPPER, plate("lower", -5, 0)), [12.0, 0.0, 6.0], elevation)
    one = sent((plate("one", -5, 5),), [12.0, 0.0, 6.0], elevation)
    assert two.faces[0] != 0
    assert two.directions == pytest.approx(one.directions)
    assert two.places == pytest.approx(one.places, abs=1e-6)


def first_shown(parts: tuple[Placed, ...]) -> float:
    """Lowest elevation at which glazed light leaves at 90°, behind a board that hides all below."""
    board = box("board", [60, -400, -4000], [61, 400, 12])
    beams = traced(scene_of((*parts, board)), light_points([[0, 0, 0]], RIGHT))
    _, _, low, _ = glazed_bands(beams, np.array([90.0]))
    return float(low[low > 0.0].min())


def test_glazed_begins_at_one_place_for_one_plate_and_for_two_that_touch() -> None:
    def pane(name: str, low: float, high: float) -> Placed:
        return box(name, [low, -400, -400], [high, 400, 400], "clear")

    # Over the board's near edge: 20·tan e + 40·tan e' = 12 with sin e = 1.49·sin e'.
    rise = np.radians(np.linspace(5.0, 20.0, 1_500_001))
    inside = np.tan(np.arcsin(np.sin(rise) / INDEX))
    expected, apart = (
        float(
            np.degrees(
                rise[np.argmax((20.0 - gap) * np.tan(rise) + 40.0 * inside + gap * np.tan(rise) > 12.0)]
            )
        )
        for gap in (0.0, 0.05)
    )
    one = first_shown((pane("one", 10, 50),))
    two = first_shown((pane("one", 10, 30), pane("two", 30, 50)))
    gap = first_shown((pane("one", 10, 30), pane("two", 30.05, 50.05)))
    assert one == pytest.approx(expected, abs=0.03)
    assert two == pytest.approx(expected, abs=0.03)
    assert gap == pytest.approx(apart, abs=0.03)


def in_by_the_edge(elevation: float, *parts: Placed) -> LightPaths:
    """In at the middle of the left edge of a plate from z 0 to 5, downwards onto its underside.

    There n·sin θ = √(n² − sin² e): 1.461 at 17°, 1.402 at 30.3°, whatever the plate's length.
    """
    return sent(parts, [9.9, 0.0, 2.5], -elevation)


def test_a_dry_joint_reflects_what_comes_in_by_the_edge() -> None:
    for other in (plate("lower", -5, 0), plate("wood", -10, 0, "opaque")):
        for elevation in (17.0, 30.3):
            alone, joined = in_by_the_edge(elevation, UPPER), in_by_the_edge(elevation, UPPER, other)
            assert joined.directions == pytest.approx(alone.directions)
            assert joined.places == pytest.approx(alone.places)


def test_silicone_passes_what_is_no_flatter_than_its_index_allows() -> None:
    parts = glued(SILICONE, UPPER, plate("lower", -300, 0))
    # √(1.49² − sin² e) ≤ 1.41 from e = 28.8° on: through, unchanged, to the lower plate's far edge.
    through = in_by_the_edge(30.3, *parts)
    assert through.faces[0] != 0
    assert through.directions == pytest.approx(way(-30.3))
    drop = 100.0 * np.tan(np.arcsin(np.sin(np.radians(30.3)) / INDEX)) + 0.1 * np.tan(np.radians(30.3))
    assert through.places[0, 2] == pytest.approx(2.5 - drop, abs=1e-6)
    kept = in_by_the_edge(27.5, *parts)
    assert 0.0 < kept.places[0, 2] < 5.0


def test_cement_leaves_no_interface_at_all() -> None:
    for elevation in (5.0, 17.0, 30.3, 60.0):
        joined = in_by_the_edge(elevation, *glued(CEMENT, UPPER, plate("lower", -300, 0)))
        one = in_by_the_edge(elevation, plate("one", -300, 5))
        assert joined.faces[0] != 0
        assert joined.directions == pytest.approx(one.directions)
        assert joined.places == pytest.approx(one.places, abs=1e-6)


def test_wood_takes_through_glue_what_it_leaves_alone_when_dry() -> None:
    wood = plate("wood", -10, 0, "opaque")
    assert in_by_the_edge(30.3, UPPER, wood).faces[0] != 0
    taken = in_by_the_edge(30.3, *glued(SILICONE, UPPER, wood))
    assert (taken.faces[0], taken.ends[0]) == (0, 1)
    assert in_by_the_edge(17.0, *glued(SILICONE, UPPER, wood)).faces[0] != 0
    assert in_by_the_edge(17.0, *glued(CEMENT, UPPER, wood)).ends[0] == 1
    # Glued is a joint where both are: a loose plate stays dry.
    assert in_by_the_edge(30.3, UPPER, *glued(SILICONE, wood)).faces[0] != 0


def test_matched_glue_fills_a_sanded_face_and_silicone_does_not() -> None:
    for one, other in (
        (Finish(underside="sanded"), Finish()),
        (Finish(), Finish(top="sanded")),
        (Finish(underside="sanded"), Finish(top="sanded")),
    ):
        parts = plate("upper", 0, 5, finish=one), plate("lower", -5, 0, finish=other)
        start = [40.0, 0.0, 20.0]
        clear = sent(glued(CEMENT, *parts), start, -60.0)
        assert clear.faces[0] != 0
        assert clear.directions == pytest.approx(way(-60.0))
        assert sent(glued(SILICONE, *parts), start, -60.0).faces[0] == 0
        assert sent(parts, start, -60.0).faces[0] == 0


def test_glue_that_scatters_lets_no_image_through() -> None:
    parts = glued(Film(1.47, clear=False), UPPER, plate("lower", -5, 0))
    assert sent(parts, [40.0, 0.0, 20.0], -60.0).faces[0] == 0


def test_upright_faces_that_touch_stay_dry() -> None:
    beside = box("beside", [110, -200, 0], [210, 200, 5], "clear")
    dry, joined = (
        sent((UPPER, beside), [9.9, 0, 2.5], 20.0),
        sent(glued(CEMENT, UPPER, beside), [9.9, 0, 2.5], 20.0),
    )
    assert joined.directions == pytest.approx(dry.directions)
    assert joined.places[0, 0] == pytest.approx(210.0)


def test_the_inside_of_a_plate_met_from_nowhere_is_given_up() -> None:
    # A point inside a plate is no light point in the open: its light is not followed, nor guessed.
    found = sent((UPPER,), [50.0, 0.0, 2.5], 80.0)
    assert (found.faces[0], found.ends[0]) == (0, LOST)
