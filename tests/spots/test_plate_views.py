"""Which acrylic an eye sees: the same as the renderer's pictures show."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from stackview.glow.flux import flux_of
from stackview.glow.parts_seen import parts_seen
from stackview.glow.plates_seen import plates_in_sight
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import glow_scene
from stackview.sight.camera import rays
from stackview.spots.faces import optical_faces
from stackview.spots.plate_views import (
    LARGEST_GLOW,
    SMALLEST_GLOW,
    PlateView,
    as_fine_as_the_eye,
    plate_views,
)
from stackview.study import Study
from tests.change.spotty import small
from tests.spots.twelve_lamps import LAMPS

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.mark.parametrize("at", [(0.0, -900.0, 150.0), (700.0, -900.0, 60.0)])
def test_plates_fill_the_pixels_that_they_fill_in_a_picture(at) -> None:
    study = Study.read(DEMOS / "moor-drum.toml")
    scene = glow_scene(study.stack, study.light, flux_of(study.light))
    points = np.concatenate([part.solid.vertices for part in study.stack.placed])
    camera = as_fine_as_the_eye(points, np.array(at), study.stack.height)
    room = Room((backdrop(study.stack.placed, camera, stands=True),))
    faces = optical_faces(scene, room, study.light.points, (1.0, 1.0, 1.0))
    ours = plate_views(scene, faces, camera)
    theirs = plates_in_sight(scene, parts_seen(scene, room, camera), camera)
    assert [view.layer for view in ours] == [plate.name for plate in theirs]
    assert ours
    for view, plate in zip(ours, theirs, strict=True):
        whole = np.zeros(plate.mask.shape, bool)
        whole[view.rows, view.columns] = True
        # Single pixels of a rim may fall to either side.
        assert (whole ^ plate.mask).sum() <= 0.01 * plate.mask.sum() + 2
        assert view.mask.sum() == len(view.rows)


@pytest.mark.parametrize("at", [(0.0, -200.0, 400.0), (90.0, -300.0, 150.0)])
def test_a_pixel_counts_where_its_corners_and_its_middle_show_the_plate(at) -> None:
    study = small("clear")
    scene = replace(glow_scene(study.stack, study.light, flux_of(study.light)), landings=())
    points = np.concatenate([part.solid.vertices for part in study.stack.placed])
    camera = as_fine_as_the_eye(points, np.array(at), study.stack.height)
    faces = optical_faces(scene, Room(), study.light.points, (1.0, 1.0, 1.0))
    (view,) = plate_views(scene, faces, camera)
    chance, (wide, tall) = np.random.default_rng(5), camera.size
    columns, rows = chance.integers(0, wide, 6_000), chance.integers(0, tall, 6_000)
    shows = np.ones(6_000, bool)
    number = next(index for index, part in enumerate(scene.placed) if part is view.part)
    for aside, down in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (0.5, 0.5)):
        ways = rays(camera, columns + aside, rows + down)
        met = faces.target.nearest(
            np.repeat(camera.eye[None].astype(np.float32), 6_000, axis=0), ways
        ).triangle
        shows &= (met >= 0) & (faces.part[met] == number)
    whole = np.zeros((tall, wide), bool)
    whole[view.rows, view.columns] = True
    assert shows.sum() > 300
    assert (whole[rows, columns] == shows).all()


def test_a_picture_is_as_fine_as_the_eye_within_its_limits() -> None:
    points = np.array([[x, y, z] for x in (-60.0, 60.0) for y in (-60.0, 60.0) for z in (0.0, 100.0)])
    far, near = (as_fine_as_the_eye(points, np.array([0.0, -away, 50.0]), 100.0) for away in (3000.0, 250.0))
    assert far.size == SMALLEST_GLOW
    assert near.size[1] <= LARGEST_GLOW[1]
    assert near.size[1] > far.size[1]


def test_opal_alone_spreads_all_light_as_deep_as_it_is_thick_and_as_its_light_stands_away(
    tmp_path: Path,
) -> None:
    file = tmp_path / "lamp.toml"
    file.write_text(LAMPS["mixed"], encoding="utf-8")
    study = Study.read(file)
    body = {part.name: part for part in study.stack.placed}
    none = np.zeros(0, np.int32)

    def depth(layer: str, away: float) -> float:
        part = body[layer]
        low = float(part.solid.vertices[:, 2].min())
        view = PlateView(layer, part, none, none, (0, 0), np.zeros((0, 0), bool))
        return view.depth(np.array([[0.0, 0.0, low - away], [0.0, 0.0, low - 200.0]]))

    # 3.8 mm of opal; clear and sanded acrylic show what is behind them, or nearly.
    assert depth("plate 1", 0.0) == pytest.approx(3.8)
    assert depth("plate 1", 20.0) == pytest.approx(23.8)
    assert depth("plate 2", 20.0) == depth("plate 3", 20.0) == 0.0
