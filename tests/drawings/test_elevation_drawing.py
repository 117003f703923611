from dataclasses import replace

import numpy as np
import pytest

from stackview.description.units import Units
from stackview.drawings.elevation_drawing import _columns, elevation_picture, elevation_sheet, overhangs
from stackview.sight.camera import axes, project
from tests import lamps
from tests.drawings.drawn import check_words, words_of
from tests.stills.demos import NAMES, demo, study_of

SIZES = [(640, 480), (1600, 1200), (1000, 1400), (1920, 640)]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", NAMES)
def test_words_are_whole_apart_and_off_every_line_and_the_lamp(name, size):
    stack, _ = demo(name)
    sheet, camera = elevation_sheet(stack, Units("mm", beside=True), size, 0.0)
    # On bare paper: no dimension line and no leader runs through or touches a word.
    check_words(sheet)
    points = np.concatenate([part.solid.vertices for part in stack.placed if part.role != "cord"])
    at = project(camera, points)
    assert at.min() > 0
    assert (at.max(axis=0) < size).all()
    for text in sheet.axes.texts:
        box = text.get_window_extent(sheet.renderer)
        beside = (
            box.x1 < at[:, 0].min() or box.x0 > at[:, 0].max()
            or size[1] - box.y0 < at[:, 1].min() or size[1] - box.y1 > at[:, 1].max()
        )  # fmt: skip
        assert beside, text.get_text()


@pytest.mark.parametrize("name", NAMES)
def test_overall_and_every_layer_are_written(name):
    stack, _ = demo(name)
    sheet, _ = elevation_sheet(stack, Units("mm"), (1600, 1200), 0.0)
    words = words_of(sheet)
    for layer in stack.lamp.layers:
        thick = f"{layer.thickness:.2f}".rstrip("0").rstrip(".")
        assert f"{layer.name}: {thick} mm" in words
    assert f"{stack.height:.2f}".rstrip("0").rstrip(".") + " mm" in words


def test_dimensions_of_a_lamp_known_from_its_file():
    # moor-drum.toml: rings shrink by 4 mm in diameter from 120; the base is 130, a plate 104 − 8 in ring 112.
    stack, _ = demo("moor-drum")
    words = words_of(elevation_sheet(stack, Units("mm"), (1600, 1200), 0.0)[0])
    assert "130 mm" in words
    assert "base past ring 1: 5 mm" in words
    assert "ring 3 past plate 1: 8 mm" in words
    # 3 + 17.4 + 6 · 8.8 + 2 · 5 + 4 · (3.8 − 1.5) + 8.8 of feet, base, rings, spacers, plates and cap.
    assert "101.2 mm" in words


def test_inch_fractions():
    stack, _ = demo("honeycomb")
    words = words_of(elevation_sheet(stack, Units("in"), (1600, 1200), 90.0)[0])
    # 5-1/2 in across flats, which bearing 90° looks at from a corner.
    assert "5-1/2 in" in words
    assert not any("mm" in word for word in words[2:])


def reach_from(bearing):
    return lambda part: float((part.solid.vertices @ axes(bearing, 0.0)[0]).max())


def test_overhangs_of_two_boxes():
    low = lamps.box("low", (-30, -10, 0), (30, 10, 10))
    high = lamps.box("high", (-20, -10, 10), (26, 10, 20))
    (found,) = overhangs([low, high], reach_from(0.0))
    assert (found.longer, found.shorter) == ("low", "high")
    assert found.by == pytest.approx(4.0)
    assert found.height == 10.0
    # From the back the same lamp shows its other side.
    assert overhangs([low, high], reach_from(180.0))[0].by == pytest.approx(10.0)
    assert overhangs([low, replace(low, name="same")], reach_from(0.0)) == []


def test_brackets_of_seated_layers_stand_side_by_side():
    ring = lamps.box("ring", (-30, -10, 0), (30, 10, 10))
    plate = lamps.box("plate", (-20, -10, 8), (20, 10, 12))
    above = lamps.box("above", (-30, -10, 12), (30, 10, 22))
    assert _columns([ring, plate, above]) == [0, 1, 0]


@pytest.mark.slow
def test_picture_is_parallel_and_to_scale():
    study = study_of("moor-drum")
    stack = study.stack
    picture = elevation_picture(study, Units("mm"), size=(800, 600)).astype(int)
    _, camera = elevation_sheet(stack, Units("mm"), (800, 600), 0.0)
    # Rows across the base and the cap: as many pixels of wood as their diameters ask for.
    for name, diameter in (("base", 130.0), ("cap", 96.0)):
        part = stack.part(name)
        middle = project(camera, np.array([[0.0, 0.0, (part.top + part.underside) / 2.0]]))[0]
        left, right = (int(middle[0] + side * (diameter / 2 * camera.scale + 12)) for side in (-1, 1))
        row = picture[int(middle[1]), left:right]
        wood = (row[:, 0] - row[:, 2] > 12).sum()
        assert wood == pytest.approx(diameter * camera.scale, abs=3)
