import pytest

from stackview.drawings.part_words import length, part_lines, size_words, units_of
from tests.stills.demos import demo


def test_units_are_those_asked_for_or_the_lamps_own():
    inches, metric = demo("honeycomb")[0].lamp, demo("kelp")[0].lamp
    assert units_of(inches) == "both"
    assert units_of(metric) == "mm"
    assert units_of(metric, "in") == "in"


def test_lengths_in_every_unit():
    assert length(139.7, "both") == "139.7 mm (5-1/2 in)"
    assert length(139.7, "in") == "5-1/2 in"
    # Less than 1/16 in: thousandths.
    assert length(0.254, "in") == "0.010 in"


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
    assert size_words(stack.lamp, stack.part(part), "mm") == words


def test_thickness_is_the_measured_one_and_acrylic_says_its_body():
    stack, _ = demo("moor-drum")
    assert part_lines(stack.lamp, stack.part("base"), "mm") == ("base", "base-stock, 17.4 mm thick, ⌀ 130 mm")
    assert "opal acrylic" in part_lines(stack.lamp, stack.part("plate 1"), "mm")[1]
    honeycomb, _ = demo("honeycomb")
    assert "clear acrylic, sanded" in part_lines(honeycomb.lamp, honeycomb.part("plate 1"), "mm")[1]
