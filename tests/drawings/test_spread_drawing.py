from itertools import combinations

import numpy as np
import pytest

from stackview.description.units import MILLIMETRES, Units
from stackview.drawings.chart_style import disc, draw_line
from stackview.drawings.spread_drawing import (
    SPREAD_BEARING,
    SPREAD_ELEVATION,
    part_lines,
    size_words,
    spread_picture,
    spread_sheet,
)
from stackview.sight.camera import project
from stackview.stills.apart import spread_apart
from tests.drawings.drawn import check_words, words_of
from tests.stills.demos import NAMES, demo, study_of

SIZES = [(640, 480), (1200, 1600), (1600, 1200), (2400, 700)]


def drawn(name, size):
    stack, light = demo(name)
    setting = spread_apart(stack, light)
    return (
        stack,
        setting,
        *spread_sheet(stack, setting, stack.lamp.units.asked("both"), size, SPREAD_BEARING, SPREAD_ELEVATION),
    )


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", NAMES)
def test_words_are_whole_apart_and_off_the_lamp(name, size):
    _, setting, sheet, camera = drawn(name, size)
    check_words(sheet)
    points = np.concatenate([part.solid.vertices for part in setting.placed])
    at = project(camera, points)
    assert at.min() > 0
    assert (at.max(axis=0) < size).all()
    for text in sheet.axes.texts[1:]:
        assert text.get_window_extent(sheet.renderer).x0 > at[:, 0].max()


@pytest.mark.parametrize("name", NAMES)
def test_every_part_is_named_with_material_thickness_and_size(name):
    stack, setting, sheet, _ = drawn(name, (1200, 1600))
    words = words_of(sheet)
    every = " ".join(words)
    for part in setting.placed:
        assert part.name in words
        assert part.material.name in every
    for layer in stack.lamp.layers:
        assert f"{layer.thickness:.2f}".rstrip("0").rstrip(".") in every


def leaders(name, size, monkeypatch):
    from stackview.drawings import part_labels

    found, ends = [], []
    monkeypatch.setattr(
        part_labels, "draw_line", lambda s, places, **k: (found.extend(places), draw_line(s, places, **k))
    )
    monkeypatch.setattr(part_labels, "disc", lambda s, at, *a, **k: (ends.append(at), disc(s, at, *a, **k)))
    _, setting, sheet, camera = drawn(name, size)
    return setting, sheet, camera, found, ends


@pytest.mark.parametrize("name", NAMES)
def test_each_leader_ends_on_its_own_part_and_none_cross(name, monkeypatch):
    setting, sheet, camera, found, ends = leaders(name, (1200, 1600), monkeypatch)
    assert len(found) == len(ends) == len(setting.placed)
    for part, (x, y) in zip(setting.placed, ends, strict=True):
        at = project(camera, part.solid.vertices)
        low, high = at.min(axis=0), at.max(axis=0)
        assert low[0] - 1 <= x <= high[0] + 1
        assert low[1] - 1 <= sheet.height - y <= high[1] + 1
    for (_, elbow, stop), (_, other, end) in combinations(found, 2):
        # Elbows and labels keep the order of the parts.
        assert (elbow[1] - other[1]) * (stop[1] - end[1]) > 0


def test_picture_shows_wood_on_calm_paper_and_can_be_cut_out():
    study = study_of("moor-drum")
    picture = spread_picture(study, MILLIMETRES, size=(640, 480)).astype(int)
    assert picture.shape == (480, 640, 3)
    corner = picture[440:, 560:].reshape(-1, 3)
    assert corner.std(axis=0).max() == 0
    assert (picture[..., 0] - picture[..., 2] > 25).mean() > 0.03
    clear = spread_picture(study, MILLIMETRES, size=(640, 480), cut_out=True)
    assert clear.shape == (480, 640, 4)
    assert (clear[440:, 560:, 3] == 0).all()
    assert (clear[..., 3] > 250).mean() > 0.03


def test_units_are_those_asked_for_or_the_lamps_own():
    inches, metric = demo("honeycomb")[0].lamp, demo("kelp")[0].lamp
    assert inches.units.asked(None) == Units("in", beside=True)
    assert metric.units.asked(None) == MILLIMETRES
    assert metric.units.asked("in") == Units("in")


def test_lengths_in_every_unit():
    inches = demo("honeycomb")[0].lamp.units
    assert inches.asked("both").show(139.7) == "5-1/2 in (139.7 mm)"
    assert inches.asked("in").show(139.7) == "5-1/2 in"
    assert inches.asked("mm").show(139.7) == "139.7 mm"
    # No 64th of an inch: thousandths.
    assert inches.asked("in").show(0.254) == "0.010 in"


def test_the_lamps_own_unit_comes_first():
    honeycomb, _ = demo("honeycomb")
    words = size_words(honeycomb.lamp, honeycomb.part("ring 3"), honeycomb.lamp.units)
    assert words == "hexagon, 5-1/2 in (139.7 mm) across flats"


@pytest.mark.parametrize(
    ("lamp", "part", "words"),
    [
        ("honeycomb", "ring 3", "hexagon, 139.7 mm across flats"),
        # .6 in of wall is inside; the outline as written is 5-1/2 in.
        ("honeycomb", "spacers 1", "3 × ⌀ 9.53 mm"),
        ("honeycomb", "lower pins", "3 × ⌀ 3.17 mm"),
        ("moor-drum", "base", "⌀ 130 mm"),
        # Each tier is 4 mm smaller than the one below: 120 − 8 for the first with a plate.
        ("moor-drum", "ring 3", "⌀ 112 mm"),
        ("moor-drum", "feet", "3 × ⌀ 12 mm"),
        ("turning-lantern", "cap", "150 mm × 90 mm"),
        ("turning-lantern", "core", "⌀ 32 mm"),
        ("kelp", "lid", "320 mm × 210 mm over all"),
    ],
)
def test_sizes_are_those_of_the_lamps_file(lamp, part, words):
    stack, _ = demo(lamp)
    assert size_words(stack.lamp, stack.part(part), MILLIMETRES) == words


def test_thickness_is_the_measured_one_and_acrylic_says_its_body():
    stack, _ = demo("moor-drum")
    assert part_lines(stack.lamp, stack.part("base"), MILLIMETRES) == (
        "base",
        "base-stock, 17.4 mm thick, ⌀ 130 mm",
    )
    assert "opal acrylic" in part_lines(stack.lamp, stack.part("plate 1"), MILLIMETRES)[1]
    honeycomb, _ = demo("honeycomb")
    # A caliper's figures as they are written in the file, not the fraction that they are.
    ring = part_lines(honeycomb.lamp, honeycomb.part("ring 3"), honeycomb.lamp.units)[1]
    assert ".742 in (18.85 mm) thick" in ring
    assert "clear acrylic, sanded" in part_lines(honeycomb.lamp, honeycomb.part("plate 1"), MILLIMETRES)[1]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("size", SIZES)
def test_no_word_of_a_demo_is_cut_and_no_size_is_left_out(name, size):
    _, setting, sheet, _ = drawn(name, size)
    words = words_of(sheet)
    assert not any("…" in word for word in words)
    if not any("a larger picture" in word for word in words):
        told = " ".join(words)
        for part in setting.placed:
            sizes = [size_words(demo(name)[0].lamp, part, units) for units in UNITS_OF[name]]
            assert any(each in told for each in sizes), part.name


UNITS_OF = {
    name: [(units := demo(name)[0].lamp.units).asked("both"), units.asked("both").alone] for name in NAMES
}
