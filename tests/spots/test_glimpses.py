"""Light points' faces seen in glimpses through clear acrylic: as bright as closed forms say."""

import numpy as np
import pytest
import trimesh

from stackview.glow.seen_light import LOTS
from stackview.glow.skins import Clear, Sanded
from stackview.sight.camera import Camera
from stackview.sight.refraction import INDEX
from stackview.spots.gathering import Gathering
from stackview.spots.glimpses import glimpse
from stackview.spots.plate_views import PlateView
from stackview.spots.ways import Arrived
from tests.spots.small_scenes import body, faces_and_light, light_points

SIDE, FACE, AWAY = 40, 3.0, 1500.0
WIDE = 60.0
"""Side of what is seen [mm]."""


def looked(skin):  # type: ignore[no-untyped-def]
    """A level sheet over one light point, looked at from above by no ways but glimpses."""
    sheet = trimesh.creation.box((400.0, 400.0, 4.0))
    around = faces_and_light(
        [body(sheet, skin)], light_points([[0.0, 0.0, -10.0]], [0.0, 0.0, 1.0], face=FACE)
    )
    field = 2.0 * np.degrees(np.arctan(WIDE / 2.0 / AWAY))
    camera = Camera(0.0, 89.9, AWAY, (0.0, 0.0, 0.0), field, (SIDE, SIDE))
    columns, rows = np.nonzero(np.ones((SIDE, SIDE)))
    view = PlateView(
        "sheet", None, rows.astype(np.int32), columns.astype(np.int32), (0, 0), np.ones((SIDE, SIDE), bool)
    )
    plate = Gathering(view, 0.8, np.inf)
    none = np.zeros(0, np.int32)
    no = none.astype(bool)
    plate.take_seen(Arrived(none, none, none.astype(np.float32), no, no), np.ones(SIDE * SIDE))
    glimpse(around, camera, [plate], np.random.default_rng(3))
    return plate, around.emitters.luminance[0]


def test_a_light_point_behind_a_clear_sheet_is_found_as_large_as_it_is() -> None:
    plate, luminance = looked(Clear())
    # A sheet with parallel faces lets (1 − R)/(1 + R) pass, R = ((n − 1)/(n + 1))² (Born & Wolf, §7.6).
    reflected = ((INDEX - 1) / (INDEX + 1)) ** 2
    exact = luminance * (1 - reflected) / (1 + reflected) * FACE**2 / WIDE**2
    told = plate.told()
    # Some twenty of 8,192 ways a look, until 64 have met it, beside one in each group to every pixel that brought nothing.
    looks = plate.brought[3]
    assert 3 <= len(looks) <= 5
    assert (
        sum(len(light.value) for light, _ in looks[:-1]) < 64 <= sum(len(light.value) for light, _ in looks)
    )
    ways = sum(each.sum() for _, each in looks) * LOTS
    assert ways == pytest.approx(8192 * len(looks))
    assert told.mean == pytest.approx(exact * ways / (ways + LOTS * SIDE * SIDE), rel=3 * told.mean_error)
    assert told.mean_error < 0.2


def test_a_plate_that_spreads_all_light_is_left_alone() -> None:
    plate, _ = looked(Sanded(0.3))
    assert plate.brought[3] == []
