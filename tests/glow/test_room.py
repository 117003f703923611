"""What is round the lamp: table, backdrop and daylight, by their geometry."""

from pathlib import Path

import numpy as np
import pytest

from stackview.description.lamp import Surface
from stackview.glow.room import DARK, SKY, WALL, Room, backdrop, daylight, room_behind, table_sheet
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import frame, rays
from stackview.study import Study
from tests.lamps import disc

DEMOS = Path(__file__).parents[2] / "demos"


def surface(size: tuple[float, ...], at: tuple[float, float] = (0.0, 0.0)) -> Surface:
    return Surface(height=740.0, size=size, at=at)


def area_of(vertices: np.ndarray, triangles: np.ndarray) -> float:
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    return float(np.cross(b - a, c - a)[:, 2].sum() / 2)


@pytest.mark.parametrize("bearing", [0.0, 35.0, 250.0])
@pytest.mark.parametrize("elevation", [12.0, -8.0])
def test_the_backdrop_fills_the_picture_behind_the_lamp(bearing: float, elevation: float) -> None:
    placed = (disc("drum", 60.0, 0.0, 120.0),)
    camera = frame(placed, bearing=bearing, elevation=elevation, size=(64, 48))
    body = backdrop(placed, camera, stands=True)
    assert np.linalg.norm(body.normals, axis=1) == pytest.approx(np.ones(len(body.normals)))
    columns, rows = np.meshgrid(np.arange(64) + 0.5, np.arange(48) + 0.5)
    directions = rays(camera, columns.ravel(), rows.ravel()).astype(float)
    met, facing = first_met(camera.eye, directions, body.vertices, body.triangles)
    assert np.isfinite(met).all()
    # All of it faces the eye, and none of it stands before the lamp's axis but the table.
    assert (facing < 0).all()


def test_a_pendant_has_only_a_wall_behind_it() -> None:
    placed = (disc("drum", 60.0, 0.0, 120.0),)
    body = backdrop(placed, frame(placed, bearing=0.0, size=(64, 48)), stands=False)
    # Seen from the front the wall is square to y, behind the rim.
    assert body.vertices[:, 1] == pytest.approx(np.full(len(body.vertices), 60.0 + WALL))
    assert body.normals == pytest.approx(np.tile([0.0, -1.0, 0.0], (len(body.normals), 1)), abs=1e-9)


def test_a_table_top_is_as_large_as_told_and_about_where_the_lamp_stands() -> None:
    for size, area in (((400.0, 300.0), 400.0 * 300.0), ((300.0,), np.pi * 150.0**2)):
        top = table_sheet(surface(size, (50.0, -20.0)))
        assert area_of(top.vertices, top.triangles) == pytest.approx(area, rel=1e-4)
        middle = (top.vertices.min(axis=0) + top.vertices.max(axis=0)) / 2.0
        assert middle[:2] == pytest.approx([-50.0, 20.0], abs=1e-6)
        assert -1.0 < middle[2] < 0.0


def test_only_an_eye_below_its_top_meets_the_table() -> None:
    study = Study.read(DEMOS / "moor-drum.toml")
    for elevation, bodies in ((20.0, 1), (-20.0, 2)):
        camera = frame(study.stack.placed, bearing=0.0, elevation=elevation, size=(64, 48))
        assert len(room_behind(study.stack, camera).bodies) == bodies


def first_met(
    eye: np.ndarray, directions: np.ndarray, vertices: np.ndarray, triangles: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Distance to the first triangle along each line and the cosine there (Möller and Trumbore 1997)."""
    distance, facing = np.full(len(directions), np.inf), np.zeros(len(directions))
    for a, b, c in vertices[triangles]:
        one, other = b - a, c - a
        p = np.cross(directions, other)
        scale = p @ one
        with np.errstate(divide="ignore", invalid="ignore"):
            u = (p @ (eye - a)) / scale
            q = np.cross(eye - a, one)
            v, t = directions @ q / scale, (other @ q) / scale
        hit = (u >= 0) & (v >= 0) & (u + v <= 1) & (t > 0) & (t < distance)
        distance[hit] = t[hit]
        facing[hit] = directions[hit] @ np.cross(one, other)
    return distance, facing


def test_daylight_is_brightest_in_the_window_on_the_eyes_left() -> None:
    light = daylight(0.0) @ LUMINANCE
    assert light.shape == (180, 360)
    assert (light > 0).all()
    assert light.max() <= 1.05 * SKY
    row, column = np.unravel_index(int(light.argmax()), light.shape)
    # Middle column: the front, where an eye at bearing 0° stands; columns fall in bearing.
    bearing = 180.0 - (column + 0.5)
    assert bearing % 360.0 == pytest.approx(302.0, abs=26.0)
    assert 0 < 90.0 - (row + 0.5) < 60.0


@pytest.mark.slow
def test_daylight_turns_with_the_eye() -> None:
    assert daylight(90.0) == pytest.approx(np.roll(daylight(0.0), -90, axis=1), rel=1e-4)


def test_a_room_keeps_what_it_is_given() -> None:
    light = daylight(0.0)
    room = Room(around=light)
    with pytest.raises(ValueError, match="read-only"):
        room.around[0] = 0.0
    assert DARK.bodies == ()
    assert not any(DARK.even)
