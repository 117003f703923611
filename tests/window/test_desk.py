"""The hand at an off-screen window: keys, mouse and sliders, and what is then drawn."""

from collections.abc import Iterator

import numpy as np
import pytest

from stackview.window.layout import place_of
from stackview.window.shown import Shown

pytestmark = pytest.mark.usefixtures("can_draw")
SIZE = (900, 640)


@pytest.fixture
def desk(honeycomb: Shown) -> Iterator[object]:
    from stackview.window.desk import Desk
    from stackview.window.stage import Stage

    stage = Stage(SIZE, off_screen=True)
    saved: list[object] = []

    def save(shown: Shown, state: object) -> str:
        saved.append((shown, state))
        return "saved it"

    made = Desk(stage, honeycomb, save)
    made.saved = saved  # type: ignore[attr-defined]
    yield made
    stage.close()


def picture(desk) -> np.ndarray:  # type: ignore[no-untyped-def]
    desk.draw()
    return desk.stage.picture().astype(int)


def lamp_region(image: np.ndarray) -> np.ndarray:
    return image[150:520, 290:610]


def test_the_lamp_stands_between_the_panels(desk) -> None:  # type: ignore[no-untyped-def]
    image = picture(desk)
    assert image.shape == (640, 900, 3)
    plan = desk.overlay.plan
    middle = image[240:400, 380:520].reshape(-1, 3).mean(axis=0)
    assert middle[0] > middle[2] + 20, "walnut is warm"
    corner = image[610:636, 280:330].reshape(-1, 3)
    assert corner.std(axis=0).max() < 12, "ground is calm"
    for box in (plan.readout, plan.sliders, plan.hint):
        inside = image[box.top + 3 : box.foot - 3, box.left + 3 : box.right - 3]
        assert np.median(inside) < 70, "panels are dark"
        assert inside.max() > 200, "with light text"
    chart = image[plan.chart.top : plan.chart.foot, plan.chart.left : plan.chart.right]
    assert np.median(chart) > 120


def test_panels_are_drawn_where_they_are_hit(desk) -> None:  # type: ignore[no-untyped-def]
    desk.draw()
    plan = desk.overlay.plan
    for name, box in (("readout", plan.readout), ("sliders", plan.sliders), ("map", plan.map_panel)):
        laid = desk.overlay.laid[name]
        assert (laid.left, SIZE[1] - laid.low - laid.slip.height) == (box.left, box.top)
        assert (laid.slip.width, laid.slip.height) == (box.width, box.height)


def test_drag_turns_and_wheel_zooms(desk) -> None:  # type: ignore[no-untyped-def]
    before, state = picture(desk), desk.state
    desk.press(450, 560)
    desk.move(500, 540)
    desk.release()
    assert desk.state.bearing < state.bearing
    assert desk.state.elevation < state.elevation
    turned = picture(desk)
    assert np.abs(lamp_region(turned) - lamp_region(before)).mean() > 3
    desk.move(600, 540)
    assert desk.state.bearing == pytest.approx(state.bearing - 50 * 0.35)
    desk.wheel(3.0)
    assert desk.state.distance < state.distance
    assert np.abs(lamp_region(picture(desk)) - lamp_region(turned)).mean() > 3


def test_nothing_is_turned_by_a_drag_on_a_panel(desk) -> None:  # type: ignore[no-untyped-def]
    desk.draw()
    state, box = desk.state, desk.overlay.plan.readout
    desk.press(box.left + 20, box.top + 20)
    desk.move(box.left + 200, box.top + 90)
    desk.release()
    assert desk.state == state


def test_sliders_are_dragged(desk) -> None:  # type: ignore[no-untyped-def]
    day = picture(desk)
    light, spread, cut = desk.overlay.plan.tracks
    y = light.top + light.height / 2
    desk.press(light.left + light.width / 2, y)
    desk.move(light.right + 300, y)
    desk.release()
    assert desk.state.light == 1.0
    evening = picture(desk)
    assert evening[20:140, 300:780].mean() < 0.4 * day[20:140, 300:780].mean()
    desk.press(spread.left + 0.5 * spread.width, spread.top + spread.height / 2)
    desk.release()
    assert 0.4 < desk.state.spread < 0.6
    assert np.abs(lamp_region(picture(desk)) - lamp_region(evening)).mean() > 3
    desk.press(cut.left + 0.5 * cut.width, cut.top + cut.height / 2)
    desk.release()
    assert 0.4 < desk.state.cut < 0.6


def test_a_cut_lamp_has_solid_faces(desk) -> None:  # type: ignore[no-untyped-def]
    desk.key("c")
    image = picture(desk)
    # The lid is 22 mm of walnut right across: no backdrop shows through where it is cut.
    lid = desk.shown.study.stack.placed[-1]
    from stackview.sight.camera import project
    from stackview.window.shown import display_camera

    layers = [part for part in desk.shown.study.stack.placed if part.role == "layer"]
    lid = max(layers, key=lambda part: part.top)
    bearing = np.radians(desk.state.cut_bearing)
    across = np.linspace(-30, 30, 25)[:, None] * np.array([np.cos(bearing), np.sin(bearing), 0.0])
    at = across + np.array([0.0, 0.0, (lid.underside + lid.top) / 2])
    places = np.rint(project(display_camera(desk.state, desk.shown, SIZE), at)).astype(int)
    colours = image[places[:, 1], places[:, 0]]
    assert (colours[:, 0] > colours[:, 2] + 10).all()


def test_bare_points_are_ringed_where_they_are(desk) -> None:  # type: ignore[no-untyped-def]
    from stackview.sight.camera import project
    from stackview.window.shown import display_camera

    desk.key("1")
    desk.key("Escape")
    ringed = picture(desk)
    bare = desk.overlay.found.bare
    assert len(bare)
    desk.key("b")
    desk.key("Escape")
    plain = picture(desk)
    changed = np.argwhere((np.abs(ringed - plain) > 24).any(axis=2))[:, ::-1]
    at = project(display_camera(desk.state, desk.shown, SIZE), desk.shown.study.light.points.centres[bare])
    away = np.linalg.norm(changed[:, None] - at[None], axis=2).min(axis=1)
    assert len(changed) > 40 * len(bare)
    assert away.max() < 13
    assert away.min() > 2, "the point itself stays in sight"


def test_edges_that_would_have_to_grow_are_marked(desk) -> None:  # type: ignore[no-untyped-def]
    desk.key("1")
    desk.key("Escape")
    before = picture(desk)
    desk.key("g")
    image = picture(desk)
    changed = (np.abs(image - before) > 40).any(axis=2)
    assert changed[100:560, 260:640].sum() > 300
    assert "growth" in desk.overlay.laid


def test_the_map_is_clicked(desk) -> None:  # type: ignore[no-untyped-def]
    desk.draw()
    chart = desk.overlay.plan.chart
    distance = desk.state.distance
    desk.press(*place_of(chart, 200.0, 40.0))
    desk.release()
    assert desk.state.bearing == pytest.approx(200.0)
    assert desk.state.elevation == pytest.approx(40.0)
    assert desk.state.distance == distance


def test_the_readout_follows(desk) -> None:  # type: ignore[no-untyped-def]
    desk.draw()
    before = desk.overlay.laid["readout"].slip.pixels()
    desk.key("Right")
    desk.draw()
    assert not np.array_equal(desk.overlay.laid["readout"].slip.pixels(), before)
    assert desk.overlay.found.bearing == desk.state.bearing


def test_help_comes_and_goes(desk) -> None:  # type: ignore[no-untyped-def]
    before = picture(desk)
    desk.key("h")
    assert np.abs(picture(desk) - before)[200:440, 250:650].mean() > 30
    desk.press(450, 300)
    desk.release()
    assert not desk.state.help
    assert np.abs(picture(desk) - before)[200:440, 250:650].mean() < 1


def test_a_faulty_file_is_told_and_the_lamp_stays(desk) -> None:  # type: ignore[no-untyped-def]
    before = picture(desk)
    desk.fault('layer "lid": 4 bananas is no length')
    image = picture(desk)
    box = desk.overlay.plan.notice
    strip = image[box.top + 4 : box.top + 40, box.left + 6 : box.right - 6].reshape(-1, 3)
    assert np.median(strip[:, 0]) > np.median(strip[:, 2]) + 40
    assert np.abs(image - before)[300:520, 290:600].mean() < 1
    desk.adopt(desk.shown)
    assert desk.state.error == ""
    desk.say("")
    assert np.abs(picture(desk) - before).mean() < 0.5


def test_another_lamp_is_taken_with_the_view_kept(desk, moor_drum: Shown) -> None:  # type: ignore[no-untyped-def]
    desk.key("Right")
    desk.key("l")
    state = desk.state
    before = picture(desk)
    desk.adopt(moor_drum)
    assert (desk.state.bearing, desk.state.elevation, desk.state.light) == (
        state.bearing,
        state.elevation,
        state.light,
    )
    assert desk.state.distance == state.distance
    assert np.abs(picture(desk) - before)[200:480, 300:600].mean() > 5
    assert len(desk.overlay.found.kinds) == len(moor_drum.study.light.points)


def test_save_and_close_are_passed_on(desk) -> None:  # type: ignore[no-untyped-def]
    desk.key("p")
    assert len(desk.saved) == 1
    assert desk.state.message == "saved it"
    assert not desk.closing
    desk.key("q")
    assert desk.closing


def test_seen_from_below_the_surface_hides(desk) -> None:  # type: ignore[no-untyped-def]
    from stackview.sight.bands import HIDDEN

    desk.press(*place_of(desk.overlay.plan.chart, 35.0, -60.0))
    desk.release()
    image = picture(desk)
    assert desk.overlay.found.count(HIDDEN) == len(desk.shown.study.light.points)
    # From below only the underside of what it stands on is seen, not the lamp.
    middle = image[280:360, 400:500].reshape(-1, 3)
    assert middle.std(axis=0).max() < 6
