"""The window's readout and frames, beside the plain way and a bare off-screen picture."""

import os
import time

import numpy as np
import pytest

from stackview.sight.at_eye import eye_index, kinds_at
from stackview.sight.bands import faces_of
from stackview.sight.edges import edges_for
from stackview.sight.towards import kinds_towards
from stackview.window.layout import layout
from stackview.window.panels import readout
from stackview.window.reading import reading
from stackview.window.state import first_view, looking
from tests.speed.conftest import DEMOS, best
from tests.window.conftest import can_draw, ready

__all__ = ["can_draw"]
SIZE = (900, 640)


def test_readout_of_320_light_points() -> None:
    shown = ready("kelp")
    scene, points = shown.study.sightlines.scene, shown.study.light.points
    surface = shown.study.sightlines.standpoint.surface
    once = best(lambda: eye_index(scene, points), 2)
    draw = np.random.default_rng(3)
    state, plan = first_view(shown.ball), layout(SIZE)
    quick, whole = [], []
    for _ in range(300):
        state = looking(state, shown.ball, bearing=draw.uniform(0, 360), elevation=draw.uniform(-80, 80))
        begun = time.perf_counter()
        found = reading(state, shown)
        counted = time.perf_counter()
        readout(plan, state, found, shown.study.lamp.name, len(points)).pixels()
        quick.append(counted - begun)
        whole.append(time.perf_counter() - begun)
    eye = np.array([[[0.0, -1200.0, -300.0]]])

    def plain() -> None:
        for start in range(0, len(points), 8):
            run = range(start, min(start + 8, len(points)))
            wanted = np.ones((1, len(run), 1), bool)
            edges = edges_for(scene, faces_of(points, run), points.directions[run])
            kinds_towards(scene, edges, points.centres[run], points.directions[run], eye, surface, wanted)

    slow, fast = best(plain, 3), best(lambda: kinds_at(shown.index, eye[0, 0], surface), 20)
    print(
        f"\n{len(points)} light points, sorted once in {once:.2f} s: counted in {1e3 * np.median(quick):.2f} ms "
        f"(worst {1e3 * max(quick):.2f}), with its panel {1e3 * np.median(whole):.2f} ms; "
        f"{slow / fast:.0f} times as quick as without sorting"
    )
    assert slow / fast > 20


@pytest.mark.usefixtures("can_draw")
@pytest.mark.parametrize("name", [file.stem for file in DEMOS])
def test_frames_beside_a_bare_picture(name: str) -> None:
    from stackview.window.desk import Desk
    from stackview.window.paint import acrylic_places, painted, wall_places
    from stackview.window.stage import Stage

    shown = ready(name)
    stage = Stage(SIZE, off_screen=True)
    desk = Desk(stage, shown, lambda _shown, _state: "")
    desk.draw(quick=True)

    def frame(quick: bool) -> None:
        desk.press(450, 560)
        desk.move(457, 560)
        desk.release()
        desk.draw(quick=quick)
        stage.window.WaitForCompletion()

    moving, resting = best(lambda: frame(True), 25), best(lambda: frame(False), 8)
    stage.close()
    colours = painted(shown.baked, 0.5)
    triangles = (len(colours.walls) + len(colours.acrylic)) // 3
    bare = _bare(
        [(wall_places(shown.baked), colours.walls), (acrylic_places(shown.baked), colours.acrylic[:, :3])]
    )
    print(
        f"\n{name}: {triangles} triangles, {1e3 * moving:.0f} ms a frame ({1 / moving:.0f} a second), at rest "
        f"{1e3 * resting:.0f} ms; {moving / bare:.1f} times a bare off-screen picture ({1e3 * bare:.0f} ms)"
    )
    assert moving / bare < 4.0


def _bare(surfaces: list[tuple[np.ndarray, np.ndarray]]) -> float:
    """A plain off-screen frame of the same triangles in their colours, unlit."""
    os.environ["VTK_DEFAULT_OPENGL_WINDOW"] = "vtkEGLRenderWindow"
    import pyvista

    plotter = pyvista.Plotter(off_screen=True, window_size=list(SIZE))
    for places, colours in surfaces:
        if not len(places):
            continue
        corners = np.arange(len(places)).reshape(-1, 3)
        mesh = pyvista.PolyData.from_regular_faces(places, corners)
        plotter.add_mesh(mesh, scalars=colours, rgb=True, lighting=False)
    plotter.show(auto_close=False)

    def frame() -> None:
        plotter.camera.azimuth += 2.5
        plotter.render()
        plotter.render_window.WaitForCompletion()

    found = best(frame, 15)
    plotter.close()
    return found
