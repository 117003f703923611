import subprocess
import sys

import numpy as np
import pytest

from stackview.drawings.album import draw_view
from stackview.errors import OutputError
from tests.stills.demos import FOLDER, demo

SIZE = (160, 120)
PLAIN = ("studio", "evening", "front", "side", "top", "beneath", "half")


def warm(picture):
    return (picture[..., 0].astype(int) - picture[..., 2] > 20).mean()


@pytest.mark.parametrize(
    "view",
    [view if view in ("front", "half") else pytest.param(view, marks=pytest.mark.slow) for view in PLAIN],
)
def test_every_plain_view_shows_the_lamp_whole(view):
    stack, light = demo("turning-lantern")
    picture = draw_view(stack, light, view, size=SIZE)
    assert picture.shape == (120, 160, 3)
    assert warm(picture) > 0.05
    for edge in (picture[0], picture[:, 0], picture[:, -1]):
        assert np.abs(np.diff(edge.astype(int), axis=0)).max() <= 8


@pytest.mark.slow
def test_evening_is_dark_and_studio_is_bright():
    stack, light = demo("moor-drum")
    day, night = (draw_view(stack, light, view, size=SIZE) for view in ("studio", "evening"))
    assert day[:20, :20].mean() > 3 * night[:20, :20].mean()
    # In the evening what is lit stands out more from what is not.
    assert night.max() > 180


def test_top_is_square_to_the_lamp():
    stack, light = demo("moor-drum")
    picture = draw_view(stack, light, "top", size=(200, 200)).astype(int)
    wood = picture[..., 0] - picture[..., 2] > 20
    rows, columns = np.flatnonzero(wood.any(axis=1)), np.flatnonzero(wood.any(axis=0))
    # The base is round: as wide as it is deep.
    assert abs(np.ptp(rows) - np.ptp(columns)) <= 3


@pytest.mark.slow
def test_half_shows_the_strip_that_the_whole_lamp_hides():
    stack, light = demo("kelp")
    whole, half = (draw_view(stack, light, view, size=SIZE).astype(int) for view in ("front", "half"))
    assert (half.min(axis=2) > 235).mean() > (whole.min(axis=2) > 235).mean() + 0.005


def test_cut_faces_are_solid_and_show_the_boards_grain():
    # Behind the front face of a cut block lies wood, not a hollow shell: the base's cut is warm all over.
    from stackview.drawings.album import HALF_ELEVATION, HALF_TURN
    from stackview.sight.camera import frame, project
    from stackview.stills.halved import halved

    stack, light = demo("turning-lantern")
    setting = halved(stack, light, 0.0)
    picture = draw_view(stack, light, "half", size=(640, 480)).astype(int)
    camera = frame(setting.body, bearing=HALF_TURN, elevation=HALF_ELEVATION, size=(640, 480))
    base = stack.part("cap")
    across = np.linspace(-60, 60, 41)
    places = np.stack([across, np.zeros(41), np.full(41, (base.underside + base.top) / 2)], axis=1)
    seen = np.array([picture[int(y), int(x)] for x, y in project(camera, places)])
    assert (seen[:, 0] > seen[:, 2] + 25).all()
    # Grain: it varies along the cut, but gently.
    assert 1.0 < seen[:, 1].std() < 25.0


def test_transparent_lamp_is_opaque_and_the_corner_is_clear():
    stack, light = demo("moor-drum")
    picture = draw_view(stack, light, "studio", size=SIZE, transparent=True)
    assert picture.shape == (120, 160, 4)
    assert picture[:10, :, 3].max() == 0
    assert picture[50:80, 60:100, 3].min() == 255
    # The ground's soft shadow is there as black of its own opacity.
    partly = (picture[..., 3] > 20) & (picture[..., 3] < 200)
    assert partly.mean() > 0.02
    assert picture[partly][:, :3].mean() < 60


@pytest.mark.parametrize(
    ("view", "size"),
    [
        ("studio", SIZE),
        pytest.param("half", SIZE, marks=pytest.mark.slow),
        pytest.param("elevation", (640, 480), marks=pytest.mark.slow),
        # Eight views, made of the same as the others.
        pytest.param("sheet", (640, 480), marks=pytest.mark.slow),
    ],
)
def test_same_view_gives_the_same_bytes(view, size):
    stack, light = demo("moor-drum")
    one, two = (draw_view(stack, light, view, size=size).tobytes() for _ in range(2))
    assert one == two


@pytest.mark.slow
def test_the_sheet_holds_eight_views_on_paper():
    stack, light = demo("moor-drum")
    sheet = draw_view(stack, light, "sheet", size=(960, 720))
    paper = (sheet == 255).all(axis=2)
    # Rows and columns of bare paper part three by three cells.
    gaps = np.flatnonzero(np.diff(paper[80:640].all(axis=0).astype(int)) == 1)
    assert len(gaps) >= 3
    clear = draw_view(stack, light, "sheet", size=(960, 720), transparent=True)
    assert clear[2, 2, 3] == 0


def test_eyes_and_turn_have_functions_of_their_own():
    stack, light = demo("moor-drum")
    for view in ("eyes", "turn"):
        with pytest.raises(OutputError, match="its own function"):
            draw_view(stack, light, view, size=(640, 480))


def test_a_wrong_angle_is_refused():
    stack, light = demo("moor-drum")
    with pytest.raises(OutputError, match="elevation"):
        draw_view(stack, light, "studio", elevation=91.0, size=SIZE)
    with pytest.raises(OutputError, match="bearing"):
        draw_view(stack, light, "studio", bearing=float("nan"), size=SIZE)


HIDE = """
import sys
class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"vtk", "vtkmodules", "pyvista", "OpenGL", "glfw", "tkinter"}:
            raise ImportError(f"{name} is hidden")
sys.meta_path.insert(0, Refuse())
from stackview.__main__ import main
words = ["spread", "elevation", "sheet", "eyes"]
plain = ["studio", "evening", "front", "side", "top", "beneath", "half", "turn"]
code = 0
for views, width, height in ((words, "640", "480"), (plain, "96", "72")):
    code |= main(["picture", sys.argv[1], *views, "--out", sys.argv[2], "--width", width, "--height", height])
assert not {"vtk", "vtkmodules", "pyvista", "OpenGL", "glfw"} & set(sys.modules)
sys.exit(code)
"""


@pytest.mark.slow
def test_every_view_is_drawn_with_no_display_and_no_graphics_library(tmp_path, own_cache):
    env = {
        "PYTHONPATH": str(FOLDER.parent),
        "PATH": "",
        "STACKVIEW_CACHE": str(own_cache),
        "HOME": str(tmp_path),
    }
    file = FOLDER / "moor-drum.toml"
    done = subprocess.run(
        [sys.executable, "-c", HIDE, str(file), str(tmp_path / "out")],
        env=env,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    names = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert names == sorted(
        [f"moor-drum-{view}.png" for view in (*PLAIN, "spread", "elevation", "sheet")]
        + ["moor-drum-turn.gif", "moor-drum-turn.webp"]
        + ["moor-drum-eyes-reader-lying-down.png", "moor-drum-eyes-standing.png"]
    )
