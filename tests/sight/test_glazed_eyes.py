"""Which points an eye sees glazed, against light traced backwards from the eye by other means."""

import numpy as np
import pytest
from scipy.optimize import brentq

from stackview.description.lamp import Eye, Surface
from stackview.sight.at_eye import eye_index, kinds_at
from stackview.sight.bands import HIDDEN, Kind, even_bearings
from stackview.sight.beams import Beams, traced
from stackview.sight.eyes import Standpoint, eye_places, look_from_eyes
from stackview.sight.glazed_eyes import exits_towards, glazed_at, glazed_round, met_round, true_kinds
from stackview.sight.refraction import INDEX
from stackview.sight.scene import scene_of
from tests.lamps import box, disc, light_points, tiers, wound

# A lamp of upright boxes about the axis, each low and high corner: plate and pane are clear, the rest is wood.
PLATE = ((-55.0, -40.0, 20.0), (55.0, 40.0, 25.0))
PANE = ((60.0, -50.0, 0.0), (63.0, 50.0, 45.0))
WOOD = (
    ((-50.0, -35.0, 25.0), (50.0, 35.0, 40.0)),
    ((-58.0, -45.0, 0.0), (52.0, 35.0, 20.0)),
    ((56.0, -10.0, 10.0), (58.0, -4.0, 40.0)),
)
CLEAR = (PLATE, PANE)
POINTS = np.array([[-57.5, 3.0, 22.0], [-57.5, -18.0, 23.5], [-20.0, 41.5, 21.5]])
FRONTS = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.3, -1.0, 0.0]])


def lamp(count: int = 3) -> tuple:  # type: ignore[type-arg]
    clear = tuple(box(f"clear {k}", low, high, "clear") for k, (low, high) in enumerate(CLEAR))
    wood = tuple(box(f"wood {k}", low, high) for k, (low, high) in enumerate(WOOD))
    return scene_of((*clear, *wood)), light_points(POINTS[:count], FRONTS[:count])


def into(box_, places, ways):  # type: ignore[no-untyped-def]
    """Distance at which rays enter a box from outside (inf: never), and the axis of that face: the slab method."""
    with np.errstate(divide="ignore", invalid="ignore"):
        ends = (np.array(box_)[:, None] - places) / ways
    near, far = ends.min(axis=0), ends.max(axis=0)
    enters = near.max(axis=1)
    hit = (enters < far.min(axis=1)) & (enters > 1e-9)
    return np.where(hit, enters, np.inf), near.argmax(axis=1)


def snell(ways, axis, ratio):  # type: ignore[no-untyped-def]
    """Rays past a face square to ``axis``: the parts along the face over the index, the rest by length."""
    row = np.arange(len(ways))
    bent = ways * ratio
    bent[row, axis] = 0.0
    rest = 1.0 - (bent**2).sum(axis=1)
    total = rest < 0.0
    bent[row, axis] = np.sign(ways[row, axis]) * np.sqrt(np.maximum(rest, 0.0))
    mirror = ways.copy()
    mirror[row, axis] *= -1.0
    return np.where(total[:, None], mirror, bent), total


def backwards(eye, ways, point, front):  # type: ignore[no-untyped-def]
    """For rays from an eye, where they pass the plane of a point's face (r, 2), and what they met (0: they do not)."""
    count = len(ways)
    aside = np.cross(front, [0.0, 0.0, 1.0])
    aside /= np.linalg.norm(aside)
    across = np.stack([aside, np.cross(front, aside)])
    met, at = np.zeros(count, np.int64), np.full((count, 2), np.nan)
    places, code = np.tile(eye, (count, 1)), np.ones(count, np.int64)
    alive = np.arange(count)
    for _ in range(30):
        if not len(alive):
            break
        here, way = places[alive], ways[alive]
        found = [into(one, here, way) for one in (*CLEAR, *WOOD)]
        reach = np.stack([one[0] for one in found])
        which = reach.argmin(axis=0)
        distance = reach[which, np.arange(len(alive))]
        # The point's own plane, passed from in front of it, before anything else is met.
        gain = way @ front
        with np.errstate(divide="ignore", invalid="ignore"):
            plane = np.where(gain < -1e-12, ((point - here) @ front) / gain, np.inf)
        here_first = (plane > 0.0) & (plane < distance) & (code[alive] > 1)
        # A plane passed far from the point ends nothing: the ray may pass it again.
        passes = (
            np.where(here_first[:, None], here + np.where(here_first, plane, 0.0)[:, None] * way, 0.0) - point
        )
        close = here_first & (np.abs(passes @ across.T).max(axis=1) < 4.0)
        met[alive[close]], at[alive[close]] = code[alive[close]], (passes @ across.T)[close]
        go = np.isfinite(distance) & (which < len(CLEAR)) & ~close
        index, which, distance = alive[go], which[go], distance[go]
        if not len(index):
            break
        axis = np.stack([one[1] for one in found])[:, go][which, np.arange(len(index))]
        places[index] += distance[:, None] * ways[index]
        ways[index], _ = snell(ways[index], axis, 1.0 / INDEX)
        code[index] = code[index] * 31 + 7 * which + axis
        inside = np.arange(len(index))
        keep = np.zeros(len(index), bool)
        for _ in range(40):
            if not len(inside):
                break
            ray, body = index[inside], which[inside]
            ends = np.array(CLEAR)[body]
            with np.errstate(divide="ignore", invalid="ignore"):
                far = np.where(ways[ray] > 0, ends[:, 1] - places[ray], ends[:, 0] - places[ray]) / ways[ray]
            far = np.where(np.isnan(far) | (ways[ray] == 0.0), np.inf, far)
            face = far.argmin(axis=1)
            places[ray] += far.min(axis=1)[:, None] * ways[ray]
            side = (ways[ray, face] > 0).astype(int)
            ways[ray], total = snell(ways[ray], face, INDEX)
            code[ray] = (code[ray] * 31 + 11 * body + 2 * face + side + 100 * total) % (1 << 55)
            keep[inside[~total]] = True
            inside = inside[total]
        alive = index[keep]
    return met, at


def seen_backwards(eye, point, front, step):  # type: ignore[no-untyped-def]
    """Whether light from the point surely reaches the eye through clear acrylic, and whether it may.

    By tubes sent out from the eye, ``step`` [mm] wide at the lamp. Surely: the point lies within one
    whose corner rays met the same faces. It may where it lies near the ends of any one ray that
    comes by, which is all that is known next to an image's border.
    """
    middle = np.array([0.0, 0.0, 22.0])
    forward = (middle - eye) / np.linalg.norm(middle - eye)
    aside = np.cross(forward, [0.0, 0.0, 1.0])
    aside /= np.linalg.norm(aside)
    up = np.cross(aside, forward)
    across, high = np.arange(-80.0, 80.0, step), np.arange(-45.0, 45.0, step)
    grid = middle + across[:, None, None] * aside + high[:, None] * up
    ways = (grid - eye).reshape(-1, 3)
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    met, at = backwards(eye, ways, point, front)
    may = bool((np.abs(at[met > 0]).max(axis=1) < 3.0 * step).any())
    met, at = met.reshape(len(across), len(high)), at.reshape(len(across), len(high), 2)
    for corners in (((0, 0), (1, 0), (1, 1)), ((0, 0), (1, 1), (0, 1))):
        code, spot = (
            [all_[i : i + len(across) - 1, j : j + len(high) - 1] for i, j in corners] for all_ in (met, at)
        )
        same = (code[0] > 0) & (code[0] == code[1]) & (code[0] == code[2])
        a, b, c = (one[same] for one in spot)
        side = np.stack(
            [one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] for one, two in ((a, b), (b, c), (c, a))]
        )
        if ((side >= 0).all(axis=0) | (side <= 0).all(axis=0)).any():
            return True, True
    return False, may


def test_light_traced_backwards_from_the_eye_agrees() -> None:
    # Slabs instead of triangles, tubes from the eye instead of from the point. What it is surely or
    # surely not is compared, for eyes whose answer is the same a quarter of a degree around.
    scene, points = lamp()
    beams = traced(scene, points)
    draw = np.random.default_rng(5)
    compared = {False: 0, True: 0}
    for _ in range(10):
        bearing, rise = draw.uniform(40.0, 140.0), draw.uniform(-22.0, 22.0)
        around = [(0.0, 0.0), (0.25, 0.0), (-0.25, 0.0), (0.0, 0.25), (0.0, -0.25)]
        places = [
            600.0 * np.array([np.sin(b) * np.cos(e), -np.cos(b) * np.cos(e), np.sin(e)]) + [0.0, 0.0, 22.0]
            for b, e in (np.radians([bearing + one, rise + two]) for one, two in around)
        ]
        answers = np.stack([glazed_at(beams, place, None) for place in places])
        for number in np.flatnonzero((answers == answers[0]).all(axis=0)):
            surely, may = seen_backwards(places[0], POINTS[number], FRONTS[number], 1.0)
            if surely == may:
                assert answers[0, number] == surely, (bearing, rise, number)
                compared[surely] += 1
    assert compared[True] > 3
    assert compared[False] > 3


@pytest.mark.slow
def test_all_round_and_one_by_one_are_the_same() -> None:
    scene, points = lamp(1)
    beams = traced(scene, points)
    around = even_bearings(72)
    for eye in (
        Eye("near", 140.0, 30.0),
        Eye("desk", 600.0, 180.0),
        Eye("far", 4000.0, 600.0),
        Eye("low", 700.0, -150.0),
    ):
        places = eye_places(eye, Standpoint(0.0, None), around)
        for surface in (None, Surface(0.0, (900.0, 500.0))):
            whole = glazed_round(beams, places, surface)
            single = np.stack([glazed_at(beams, place, surface) for place in places], axis=1)
            assert np.array_equal(whole, single), eye.name
            assert surface is not None or whole.any(), eye.name


@pytest.mark.parametrize(("away", "shows"), [(20.0, True), (70.0, True), (2500.0, False)])
def test_below_a_plate_light_that_goes_straight_down_is_held_only_against_eyes_that_it_may_reach(
    away: float, shows: bool
) -> None:
    # Past a collar's rim, 75 mm below and 43 aside, 61 in its corners, light leans at most 40°: 170 mm aside, 200 below.
    plate, collar = (
        disc("plate", 60, 20, 25, body="clear"),
        [
            box(f"wall {k}", *corners)
            for k, corners in enumerate(
                (
                    ([-60, -60, -25], [-40, 60, 20]),
                    ([40, -60, -25], [60, 60, 20]),
                    ([-40, -60, -25], [40, -40, 20]),
                    ([-40, 40, -25], [40, 60, 20]),
                )
            )
        ],
    )
    beams = traced(scene_of((plate, *collar)), light_points([[3.0, 2.0, 50.0]], [[0.0, 0.0, -1.0]]))
    bearings = even_bearings(24)
    eyes = eye_places(Eye("below", away, -150.0), Standpoint(0.0, None), bearings)
    found = glazed_round(beams, eyes, None)
    assert found.tolist() == [[bool(glazed_at(beams, eye, None)[0]) for eye in eyes]]
    assert found.all() == found.any() == shows
    assert (len(met_round(beams, eyes)[0]) > 0) == shows


def test_the_window_says_what_the_table_says() -> None:
    scene, points = lamp(1)
    around, eye = even_bearings(90), Eye("desk", 600.0, 120.0)
    table = look_from_eyes(scene, points, (eye,), Standpoint(0.0, None), 45.0, around)[0].kind
    index = eye_index(scene, points)
    window = np.stack(
        [kinds_at(index, place, None) for place in eye_places(eye, Standpoint(0.0, None), around)], axis=1
    )
    assert np.array_equal(table, window)
    assert {HIDDEN, int(Kind.GLAZED), int(Kind.BARE)} <= set(table.ravel().tolist())


def pane_and_point() -> Beams:
    pane = box("pane", [10, -300, -300], [16, 300, 300], "clear")
    return traced(scene_of((pane,)), light_points([[0, 0, 0]], [[1.0, 0.0, 0.0]]))


@pytest.mark.parametrize("place", [[700.0, 0.0, 0.0], [500.0, 300.0, -200.0], [40.0, 10.0, 5.0]])
def test_through_a_pane_a_point_shows_from_anywhere_behind_it(place: list[float]) -> None:
    assert glazed_at(pane_and_point(), np.array(place), None).tolist() == [True]


def test_never_from_in_front_of_the_pane() -> None:
    beams = pane_and_point()
    for place in ([5.0, 400.0, 0.0], [-300.0, 0.0, 0.0], [0.0, 0.0, 500.0]):
        assert glazed_at(beams, np.array(place), None).tolist() == [False]


def test_the_surface_hides_what_passes_down_through_it() -> None:
    beams = pane_and_point()
    below = np.array([700.0, 0.0, -200.0])
    assert glazed_at(beams, below, None).tolist() == [True]
    # The light goes down through the plane of its own foot at once, on the top of the table.
    lifted = traced(
        scene_of((box("pane", [10, -300, 0], [16, 300, 300], "clear"),)),
        light_points([[0, 0, 100]], [[1.0, 0.0, 0.0]]),
    )
    # Passing down 100 over 233 mm it meets the plane at about x = 233.
    eye = np.array([700.0, 0.0, -200.0])
    for half, shows in ((225.0, True), (245.0, False)):
        assert glazed_at(lifted, eye, Surface(0.0, (2 * half, 800.0))).tolist() == [shows]


def test_kinds_together() -> None:
    straight = np.array([Kind.BARE, Kind.GLAZED, Kind.VEILED, HIDDEN] * 2, np.int8)
    glazed = np.array([True] * 4 + [False] * 4)
    expected = [Kind.BARE, Kind.GLAZED, Kind.GLAZED, Kind.GLAZED, Kind.BARE, HIDDEN, Kind.VEILED, HIDDEN]
    assert true_kinds(straight, glazed).tolist() == expected


def test_a_lamp_without_clear_acrylic_traces_nothing() -> None:
    parts, height = tiers()
    scene = scene_of(tuple(part for part in parts if part.material.body != "clear"))
    beams = traced(scene, wound(12, 20.0, height - 12.0))
    assert len(beams) == 0
    assert not glazed_at(beams, np.array([0.0, -500.0, 50.0]), None).any()
    assert glazed_round(beams, np.zeros((4, 3)), None).shape == (12, 4)


def test_progress_counts_every_point() -> None:
    for parts in (tiers()[0], (disc("wood", 60, 0, 10),)):
        done: list[int] = []
        traced(scene_of(parts), wound(10, 20.0, 80.0), progress=done.append)
        assert sum(done) == 10


def test_light_leaves_an_upright_pane_where_snells_law_says() -> None:
    """A level gap of 20 mm, a pane of 10 mm, 570 mm to the eye, 300 mm higher: one equation in the slope outside."""

    def rise(outside: float) -> float:
        inside = np.arcsin(np.sin(np.arctan(outside)) / INDEX)
        return float(590.0 * outside + 10.0 * np.tan(inside))

    slope = brentq(lambda outside: rise(outside) - 300.0, 0.0, 2.0)
    scene = scene_of((box("pane", (-200.0, -30.0, -200.0), (200.0, -20.0, 200.0), "clear"),))
    beams = traced(scene, light_points([(0.0, 0.0, 0.0)], [(0.0, -1.0, 0.0)]))
    exits = exits_towards(beams, np.array([0.0, -600.0, 300.0]), None)
    assert list(exits) == [0]
    assert exits[0][0] == pytest.approx([0.0, -30.0, 300.0 - 570.0 * slope], abs=0.2)
