import pytest

from stackview.description.units import MILLIMETRES, Units
from stackview.drawings.part_words import part_lines, size_words
from tests.stills.demos import demo


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
