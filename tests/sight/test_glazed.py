"""Traced glazed bands, and how they are laid over straight ones."""

from itertools import pairwise

import numpy as np
import pytest

from stackview.light.points import LightPoints
from stackview.sight.bands import TRACED, Bands, Kind, all_bands, even_bearings
from stackview.sight.beams import TOLERANCE, traced
from stackview.sight.glazed import glazed_bands, with_glazed, without_glazed
from stackview.sight.refraction import INDEX
from stackview.sight.scene import scene_of
from stackview.stack.placed import Placed
from tests.lamps import box, disc, light_points, ring, tiers, wound

RIGHT = [[1.0, 0.0, 0.0]]


def bands_of(parts: tuple[Placed, ...], points: LightPoints, bearings=None) -> Bands:  # type: ignore[no-untyped-def]
    around = even_bearings(72) if bearings is None else np.array(bearings, float)
    scene = scene_of(parts)
    return with_glazed(all_bands(scene, points, around), traced(scene, points))


def rows(bands: Bands, bearing: int = 0) -> list[tuple[float, float, str]]:
    own = np.flatnonzero(bands.bearing == bearing)
    return [(float(bands.low[i]), float(bands.high[i]), Kind(int(bands.kind[i])).word) for i in own]


def angle(rise: float, run: float) -> float:
    return float(np.degrees(np.arctan2(rise, run)))


def near(value: float) -> object:
    return pytest.approx(value, abs=TOLERANCE)


def test_through_a_pane_the_direction_is_kept() -> None:
    # A pane taller than what is lit of it, between two boards: light on the front from −20 to +20 at
    # 100 mm leaves in the same directions; the boards end well before the shifted rays do.
    pane = box("pane", [100, -3000, -300], [106, 3000, 300], "clear")
    boards = (box("low", [40, -3000, -300], [41, 3000, -10]), box("high", [40, -3000, 10], [41, 3000, 300]))
    found = rows(bands_of((pane, *boards), light_points([[0, 0, 0]], RIGHT), [90.0]))
    edge = angle(10, 41)
    assert [row for row in found if row[2] == "glazed"] == [(near(-edge), near(edge), "glazed")]


def test_bounced_at_its_own_rim_a_pane_lights_the_other_way_too() -> None:
    # All that enters by the front leaves by the back, as it came or turned at the top or underside:
    # up to atan(20/10), on both sides, where straight lines through front and back end earlier.
    pane = box("pane", [10, -300, -20], [16, 300, 20], "clear")
    points = light_points([[0, 0, 0]], RIGHT)
    found = [row for row in rows(bands_of((pane,), points, [90.0])) if row[2] == "glazed"]
    assert found == [(near(-angle(20, 10)), near(angle(20, 10)), "glazed")]


def test_a_point_beside_a_plate_is_never_seen_through_its_dry_top() -> None:
    # Straight lines from beside the edge, in by the edge and out by the top, up to atan(5/10) and
    # steeper from nearer; light is piped to the far edge and leaves within ±atan(2.5/10).
    plate = box("plate", [10, -100, 0], [110, 100, 5], "clear")
    points = light_points([[0, 0, 2.5]], RIGHT)
    straight = all_bands(scene_of((plate,)), points, np.array([90.0]))
    assert [row[2] for row in rows(straight)] == ["bare", "glazed", "bare"]
    found = rows(bands_of((plate,), points, [90.0]))
    limit = angle(2.5, 10)
    assert found == [
        (pytest.approx(-90), near(-limit), "bare"),
        (near(-limit), near(limit), "glazed"),
        (near(limit), pytest.approx(90), "bare"),
    ]


def test_what_is_hidden_behind_wood_straight_on_can_show_down_a_plate() -> None:
    # Wood above and below a plate, and a lip outside over the straight line upwards: light that
    # bounced once leaves downwards, where no straight line from the point is open.
    plate = box("plate", [10, -100, 0], [60, 100, 5], "clear")
    wood = (box("over", [5, -100, 5], [62, 100, 60]), box("under", [5, -100, -60], [58, 100, 0]))
    points = light_points([[0, 0, 1.0]], RIGHT)
    straight = all_bands(scene_of((plate, *wood)), points, np.array([90.0]))
    found = bands_of((plate, *wood), points, [90.0])
    # In by the edge at up to atan(4/10) = 21.8°, out downwards after an odd number of bounces.
    below = -angle(4.0, 10.0) + 3.0
    assert not any(low < below < high for low, high, _ in rows(straight))
    assert "glazed" in [kind for low, high, kind in rows(found) if low < below < high]


def test_a_plate_between_boards_shows_the_bands_of_its_bounces() -> None:
    # Unfolded at top and underside, the plate is a stack of its own images 5 mm high; of each only
    # what leaves between the boards' lips gets out. Plane geometry with Snell's law at both edges.
    plate = box("plate", [10, -400, 0], [60, 400, 5], "clear")
    lips = (box("over", [70, -400, 4], [71, 400, 400]), box("under", [70, -400, -400], [71, 400, 1]))
    found = rows(bands_of((plate, *lips), light_points([[0, 0, 2.5]], RIGHT), [90.0]))
    rise = np.radians(np.linspace(-13.9, 13.9, 200_001))
    inside = np.tan(np.arcsin(np.sin(rise) / INDEX))
    unfolded = 2.5 + 10.0 * np.tan(rise) + 50.0 * inside
    image = np.floor(unfolded / 5.0).astype(int)
    height = np.where(image % 2 == 0, unfolded - 5.0 * image, 5.0 * (image + 1) - unfolded)
    out = np.where(image % 2 == 0, rise, -rise)
    at_lips = [height + run * np.tan(out) for run in (10.0, 11.0)]
    entered = np.abs(2.5 + 10.0 * np.tan(rise) - 2.5) < 2.5
    passes = entered & (np.minimum(*at_lips) > 1.0) & (np.maximum(*at_lips) < 4.0)
    shown = np.sort(np.degrees(out[passes]))
    starts = np.flatnonzero(np.append(True, np.diff(shown) > TOLERANCE))
    expected = [
        (shown[a], shown[b - 1]) for a, b in zip(starts, np.append(starts[1:], len(shown)), strict=True)
    ]
    glazed = [row[:2] for row in found if row[2] == "glazed"]
    assert len(glazed) == len(expected)
    assert np.array(glazed) == pytest.approx(np.array(expected), abs=TOLERANCE)


def test_opaque_over_the_point_hides_it() -> None:
    pane = box("pane", [10, -30, -30], [16, 30, 30], "clear")
    block = box("block", [5, -100, -100], [6, 100, 100])
    found = bands_of((pane, block), light_points([[0, 0, 0]], RIGHT), [90.0])
    assert (found.kind != Kind.GLAZED).all()


def test_bare_comes_before_glazed_and_glazed_before_veiled() -> None:
    # A clear pane above, an opal one below, air between; a board keeps light off the clear one's top.
    clear = box("clear", [50, -3000, 0], [53, 3000, 200], "clear")
    opal = box("opal", [50, -3000, -200], [53, 3000, -20], "opal")
    board = box("board", [30, -3000, 60], [31, 3000, 400])
    found = rows(bands_of((clear, opal, board), light_points([[0, 0, 10]], RIGHT), [90.0]))
    assert [row[2] for row in found] == ["bare", "veiled", "bare", "glazed", "bare"]
    assert found[1][1] == pytest.approx(angle(-30, 53))
    # The lowest ray that leaves by the back: 10 = 50·tan e + 3·tan e', sin e' = sin e/1.49.
    rise = np.radians(np.linspace(0.0, 20.0, 200_001))
    lowest = rise[50 * np.tan(rise) + 3 * np.tan(np.arcsin(np.sin(rise) / INDEX)) < 10.0].max()
    assert found[3] == (near(-float(np.degrees(lowest))), near(angle(50, 31)), "glazed")
    for before, after in pairwise(found):
        assert before[1] <= after[0] + 1e-9


def test_bands_lie_apart_in_order_and_bare_ones_stay_as_they_were() -> None:
    parts, height = tiers()
    scene, points, around = scene_of(parts), wound(24, 20.0, height - 12.0), even_bearings(72)
    # The tiers' clear plates are sanded on top; a clear ring of light-guiding acrylic joins them here.
    parts = (*parts, disc("lens", 75.0, 20.0, 25.0, "clear"))
    scene = scene_of(parts)
    straight = all_bands(scene, points, around)
    found = with_glazed(straight, traced(scene, points))
    key = found.point.astype(np.int64) * 72 + found.bearing
    assert (np.diff(key) >= 0).all()
    same = np.diff(key) == 0
    assert (found.low[1:][same] >= found.high[:-1][same] - 1e-9).all()
    assert (found.high > found.low).all()
    one, two = (bands.chosen(bands.kind == Kind.BARE) for bands in (straight, found))
    assert two.low == pytest.approx(one.low)
    assert two.high == pytest.approx(one.high)
    assert {TRACED} < set(found.low_edge.tolist())
    veiled = found.chosen(found.kind == Kind.VEILED)
    assert (veiled.high - veiled.low).sum() <= (
        (straight.high - straight.low)[straight.kind == Kind.VEILED].sum() + 1e-6
    )


def test_without_clear_acrylic_nothing_changes() -> None:
    parts, points = (ring("wood", 40, 60, 0, 10),), light_points([[0, 0, 20]], [[0.0, 0.0, 1.0]])
    straight = all_bands(scene_of(parts), points, even_bearings(8))
    beams = traced(scene_of(parts), points)
    assert len(beams) == 0
    assert without_glazed(straight) is straight
    assert with_glazed(straight, beams) is straight


def test_straight_up_through_a_lid() -> None:
    lid = box("lid", [-4000, -4000, 10], [4000, 4000, 13], "clear")
    found = bands_of((lid,), light_points([[0, 0, 0]], [[0.0, 0.0, 1.0]]), np.arange(0.0, 360.0, 7.5))
    glazed = found.chosen(found.kind == Kind.GLAZED)
    assert glazed.bearing.tolist() == list(range(48)), "one band a bearing"
    assert glazed.high == pytest.approx(np.full(48, 90.0))
    assert glazed.low == pytest.approx(np.zeros(48), abs=1.0)


def test_any_bearings_give_the_same_bands() -> None:
    pane = box("pane", [10, -10, -10], [13, 10, 10], "clear")
    beams = traced(scene_of((pane,)), light_points([[0, 0, 0]], RIGHT))
    few, many = np.array([80.0, 90.0]), np.arange(0.0, 360.0, 0.5)
    at = {float(many[b]): (low, high) for _, b, low, high in zip(*glazed_bands(beams, many), strict=True)}
    for _, b, low, high in zip(*glazed_bands(beams, few), strict=True):
        assert at[float(few[b])] == pytest.approx((low, high), abs=1e-9)
    assert set(at) >= {80.0, 90.0}


def test_bearings_that_no_tube_crosses_have_no_bands() -> None:
    pane = box("pane", [10, -10, -10], [13, 10, 10], "clear")
    beams = traced(scene_of((pane,)), light_points([[0, 0, 0]], RIGHT))
    assert len(beams) > 0
    for column in glazed_bands(beams, np.array([270.0])):
        assert len(column) == 0
    assert (
        len(
            with_glazed(
                all_bands(scene_of((pane,)), light_points([[0, 0, 0]], RIGHT), np.array([270.0])), beams
            )
        )
        == 0
    )
