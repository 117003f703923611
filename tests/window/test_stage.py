"""The stage: panels pixel for pixel, surfaces where the camera says, cut and seen from one side."""

from collections.abc import Iterator

import numpy as np
import pytest

from stackview.sight.camera import Camera, project

pytestmark = pytest.mark.usefixtures("can_draw")
SIZE = (320, 240)
LEVEL = Camera(0.0, 0.0, 500.0, (0.0, 0.0, 0.0), 24.0, SIZE)
SQUARE = np.array([[-40, 0, -30], [40, 0, -30], [40, 0, 30], [-40, 0, 30]], float)
CORNERS = np.array([[0, 1, 2], [0, 2, 3]])


@pytest.fixture
def stage() -> Iterator[object]:
    from stackview.window.stage import Stage

    made = Stage(SIZE, off_screen=True)
    made.backdrop(np.full((240, 320, 3), 30, np.uint8))
    made.look(LEVEL, 100.0, 0.0)
    yield made
    made.close()


def red(count: int = 4, cover: int | None = None) -> np.ndarray:
    colour = [220, 40, 40] if cover is None else [220, 40, 40, cover]
    return np.tile(np.array(colour, np.uint8), (count, 1))


def test_a_panel_lies_pixel_for_pixel(stage) -> None:  # type: ignore[no-untyped-def]
    draw = np.random.default_rng(2)
    picture = np.concatenate(
        [draw.integers(0, 256, (31, 47, 3), dtype=np.uint8), np.full((31, 47, 1), 255, np.uint8)], axis=2
    )
    panel = stage.panel()
    panel.put(picture, 100, 60)
    seen = stage.picture()
    assert np.array_equal(seen[240 - 60 - 31 : 240 - 60, 100:147], picture[..., :3])
    assert (seen[:140] == 30).all()
    panel.hide()
    assert (stage.picture() == 30).all()


def test_a_surface_is_where_the_camera_projects_it(stage) -> None:  # type: ignore[no-untyped-def]
    stage.surface(SQUARE, CORNERS, red())
    is_red = stage.picture()[..., 0] > 125
    at = project(LEVEL, SQUARE)
    rows, columns = np.nonzero(is_red)
    assert columns.min() == pytest.approx(at[:, 0].min(), abs=1.5)
    assert columns.max() == pytest.approx(at[:, 0].max(), abs=1.5)
    assert rows.min() == pytest.approx(at[:, 1].min(), abs=1.5)
    assert rows.max() == pytest.approx(at[:, 1].max(), abs=1.5)
    inside = stage.picture()[int(rows.mean()), int(columns.mean())]
    assert inside.tolist() == [220, 40, 40], "unlit: the colour is final"


def test_a_surface_is_cut_by_a_plane(stage) -> None:  # type: ignore[no-untyped-def]
    surface = stage.surface(SQUARE, CORNERS, red())
    whole = (stage.picture()[..., 0] > 125).sum()
    surface.cut((np.array([10.0, 0.0, 0.0]), np.array([1.0, 0.0, 0.0])))
    assert (stage.picture()[..., 0] > 125).sum() == pytest.approx(whole * 30 / 80, rel=0.05)
    surface.cut(None)
    assert (stage.picture()[..., 0] > 125).sum() == whole


def test_one_sided_surfaces_vanish_from_behind(stage) -> None:  # type: ignore[no-untyped-def]
    # Counter-clockwise from the front, where the camera is.
    stage.surface(SQUARE, CORNERS, red(), one_sided=True)
    assert (stage.picture()[..., 0] > 125).any()
    stage.look(Camera(180.0, 0.0, 500.0, (0.0, 0.0, 0.0), 24.0, SIZE), 100.0, 0.0)
    assert (stage.picture() == 30).all()


def test_see_through_surfaces_let_the_backdrop_through(stage) -> None:  # type: ignore[no-untyped-def]
    stage.surface(SQUARE, CORNERS, red(4, 102), see_through=True)
    expected = 0.4 * np.array([220, 40, 40]) + 0.6 * 30
    assert stage.picture()[120, 160] == pytest.approx(expected, abs=2)


def test_smooth_and_quick_frames_differ_at_edges_only(stage) -> None:  # type: ignore[no-untyped-def]
    turned = SQUARE @ np.array([[0.9, 0.0, 0.436], [0.0, 1.0, 0.0], [-0.436, 0.0, 0.9]])
    stage.surface(turned, CORNERS, red())
    stage.smooth(1)
    quick = stage.picture().astype(int)
    stage.smooth(4)
    smooth = stage.picture().astype(int)
    share = (np.abs(smooth - quick).max(axis=2) > 20).mean()
    assert 0 < share < 0.02


def test_a_surface_is_taken_away(stage) -> None:  # type: ignore[no-untyped-def]
    surface = stage.surface(SQUARE, CORNERS, red())
    stage.remove([surface])
    assert (stage.picture() == 30).all()
