import numpy as np
import pytest

from stackview.description.units import MILLIMETRES
from stackview.drawings import eye_picture as eyes_file
from stackview.drawings.chart_style import blank
from stackview.drawings.eye_picture import (
    BAND,
    bare_places,
    draw_eye,
    draw_rings,
    eye_camera,
    eye_picture,
)
from stackview.errors import OutputError
from stackview.sight.bands import Kind
from stackview.sight.camera import project
from stackview.sight.summary import sightlines
from stackview.stills.setting import assembled
from tests.drawings.drawn import check_words, words_of
from tests.stills.demos import NAMES, demo, study_of

SIZE = (640, 480)


@pytest.mark.parametrize(
    "name", [NAMES[0], *(pytest.param(name, marks=pytest.mark.slow) for name in NAMES[1:])]
)
def test_counts_are_those_of_the_sightlines(name):
    stack, light = demo(name)
    table = sightlines(stack, light.points).eyes
    for mine, theirs in zip(study_of(name).eyes, table, strict=True):
        assert mine.eye == theirs.eye
        assert mine.worst == theirs.worst
        assert len(bare_places(light, mine)) == theirs.counts(Kind.BARE)[theirs.worst]


def sheets(monkeypatch):
    kept = []
    original = eyes_file.inked
    monkeypatch.setattr(
        eyes_file, "inked", lambda sheet, under: (kept.append(sheet), original(sheet, under))[1]
    )
    return kept


@pytest.mark.parametrize(
    "name", [NAMES[0], *(pytest.param(name, marks=pytest.mark.slow) for name in NAMES[1:])]
)
def test_each_bare_point_has_its_ring_and_the_words_give_the_number(name, monkeypatch):
    kept = sheets(monkeypatch)
    for seen in study_of(name).eyes:
        picture = eye_picture(study_of(name), seen, MILLIMETRES, size=SIZE)
        assert picture.shape == (480, 640, 3)
        bare = int((seen.kind[:, seen.worst] == Kind.BARE).sum())
        words = words_of(kept[-1])
        told = f"{bare} bare of" if bare else "no bare light point"
        assert any(told in word for word in words)
        rings = [len(one.get_paths()) for one in kept[-1].axes.collections]
        # A rim and a ring for each point, and one ring beside the words as their key.
        assert rings == ([bare, bare, 1] if bare else [])
        check_words(kept[-1])


def test_camera_stands_in_the_eye():
    stack, light = demo("honeycomb")
    for seen in study_of("honeycomb").eyes:
        camera = eye_camera(stack, assembled(stack, light), seen, SIZE)
        bearing = np.radians(seen.bearings[seen.worst])
        rise = seen.eye.height - stack.floor
        there = [seen.eye.distance * np.sin(bearing), -seen.eye.distance * np.cos(bearing), rise]
        assert np.allclose(camera.eye, there)


def test_rings_stand_on_the_bare_points():
    stack, light = demo("honeycomb")
    seen = study_of("honeycomb").eyes[1]
    places = bare_places(light, seen)
    assert len(places) > 2
    camera = eye_camera(stack, assembled(stack, light), seen, (640, 420))
    sheet = blank(SIZE)
    draw_rings(sheet, project(camera, places), camera.size, 60.0)
    # Pale rims first, then as many coloured rings, each about its own point.
    _, rings = sheet.axes.collections
    found = np.array([np.asarray(path.vertices)[:-1].mean(axis=0) for path in rings.get_paths()])
    expected = project(camera, places)
    assert np.allclose(found[:, 0], expected[:, 0], atol=0.5)
    assert np.allclose(found[:, 1], SIZE[1] - expected[:, 1], atol=0.5)


def test_a_bare_point_is_bright_in_the_picture_and_lies_where_its_ring_is():
    # The traced picture knows nothing of the sightlines: both must agree.
    from stackview.stills.kept_light import baked
    from stackview.stills.mix import DUSK
    from stackview.stills.studio import shoot

    stack, light = demo("honeycomb")
    setting = assembled(stack, light)
    seen = study_of("honeycomb").eyes[1]
    camera = eye_camera(stack, setting, seen, (960, 720))
    picture = shoot(baked(setting), camera, mix=DUSK)
    for x, y in project(camera, bare_places(light, seen)):
        assert picture[int(y), int(x)].min() > 200


def test_an_eye_below_the_surface_sees_its_underside_before_the_lamp():
    stack, light = demo("honeycomb")
    seated = study_of("honeycomb").eyes[0]
    assert seated.eye.height < stack.floor
    picture = eye_picture(study_of("honeycomb"), seated, MILLIMETRES, size=SIZE).astype(int)
    camera = eye_camera(stack, assembled(stack, light), seated, (640, 480 - round(BAND * blank(SIZE).em)))
    # The base's middle lies behind the mantelpiece: grey, not walnut; the cap is free.
    low, high = project(camera, np.array([[0.0, -69.0, 1.0], [0.0, -69.0, stack.height - 9.0]]))
    grey, wood = picture[int(low[1]), int(low[0])], picture[int(high[1]), int(high[0])]
    assert np.ptp(grey) < 12
    assert wood[0] > wood[2] + 8


def test_an_eye_by_name_and_one_that_is_not_there():
    study = study_of("moor-drum")
    assert draw_eye(study, "standing", size=SIZE, transparent=True).shape == (480, 640, 4)
    with pytest.raises(OutputError, match='"reader lying down", "standing"'):
        draw_eye(study, "cat", size=SIZE)


def test_crowded_rings_shrink_instead_of_running_together():
    sheet = blank(SIZE)
    places = np.array([[100.0 + 9.0 * k, 200.0] for k in range(12)])
    draw_rings(sheet, places, (640, 400), 80.0)
    path = sheet.axes.collections[-1].get_paths()[0]
    assert np.ptp(np.asarray(path.vertices)[:, 0]) <= 9.0
