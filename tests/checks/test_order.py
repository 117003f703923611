"""The order in which core, strips and layers go together: fine, bad, and at the limit, by hand."""

import pytest

from stackview.checks.order import CHECK, goes_together
from stackview.checks.threaded import around_the_core
from stackview.findings import Level
from stackview.study import Study
from tests.checks.written import SOUND, alarms, changed, exchanged, subject


def test_a_sound_lamp_goes_together() -> None:
    assert goes_together(subject()) == ()


@pytest.mark.parametrize(("hole", "told"), [(46, False), (42, True)])
def test_a_layer_under_the_strip_goes_on_before_the_core(hole: float, told: bool) -> None:
    # the strip begins above plate 1, whose opening the core alone passes
    low = ("helix = { pitch = 12 }", "helix = { pitch = 12, start = 14 }")
    text = changed(low, ("height = 33", "height = 60"))
    top = text.stack.part("plate 1").top
    assert top < float(text.light.ribbons[0].low[:, 2].min())
    narrow = (
        'opening = { circle = 46 }\n[[layer]]\nname = "base"',
        f'opening = {{ circle = {hole} }}\n[[layer]]\nname = "base"',
    )
    found = [one for one in goes_together(changed(low, narrow)) if "does not go on" in one.what]
    assert bool(found) is told
    assert all(one.where == "plate 1" and one.level == Level.NOTE for one in found)


def strips(hole: float, *starts: float) -> Study:
    """A core of 40 with strips 2 thick that begin so high on it; ``hole`` is the opening of plate 3, 29.5 up the core."""
    light = '[[light]]\nname = "{0}"\nhelix = {{ pitch = 12, turns = 1, start = {0} }}\nwidth = 8\nwatts_per_metre = 4\n'
    sound = SOUND[SOUND.index("[[light]]") : SOUND.index("[glue]")]
    tier = SOUND[SOUND.index("[[groups.tier]]") : SOUND.index('[[layer]]\nname = "base"')]
    narrow = exchanged(tier, ("groups.tier", "groups.middle"), ("circle = 46", f"circle = {hole}"))
    order = "".join(
        f'group = "{group}"\nrepeat = {count}\n[[layer]]\n' for group, count in (("tier", 2), ("middle", 1))
    )
    return subject(
        exchanged(
            SOUND,
            (sound, "".join(light.format(start) for start in starts)),
            (tier, tier + narrow),
            ('group = "tier"\nrepeat = 3', f'{order}group = "tier"\nrepeat = 3'),
            ("height = 33", "height = 66"),
        )
    )


def test_a_layer_between_two_strips_is_measured_against_both() -> None:
    lamp = strips(42.0, 5, 36)
    middle = lamp.stack.part("plate 3")
    low, high = lamp.light.ribbons
    assert low.high[:, 2].max() < middle.underside < middle.top < high.low[:, 2].min()
    (here,) = [one for one in around_the_core(lamp) if one.layer.name == "plate 3"]
    # radius 20 and 2 of strip against 21
    assert (here.above, here.below) == (pytest.approx(1.0), pytest.approx(1.0))


@pytest.mark.parametrize(("hole", "alarm"), [(46.0, False), (44.0, False), (43.98, True), (42.0, True)])
def test_a_layer_between_two_strips_that_neither_passes(hole: float, alarm: bool) -> None:
    found = alarms(CHECK, strips(hole, 5, 36))
    assert bool(found) is alarm
    for one in found:
        assert one.where == "plate 3"
        assert one.value == pytest.approx(22.0 - hole / 2.0)
        way = one.ways[0]
        assert (way.part, way.key, way.guess) == (
            "plate 3",
            "size of opening 0",
            pytest.approx(22.05 - hole / 2.0),
        )


@pytest.mark.parametrize(("start", "level"), [(5, None), (36, Level.NOTE)])
def test_one_strip_leaves_an_end_to_come_from(start: float, level: Level | None) -> None:
    # above the strip the plate comes over the core's upper end; below it, it has to lie there before
    assert [one.level for one in goes_together(strips(42.0, start))] == ([] if level is None else [level])


def test_under_a_hanging_core_it_is_the_other_way_round() -> None:
    hung = (("height = 33", "height = 40"), ('stands_on = "base"', 'hangs_from = "cap"'))
    high = ("helix = { pitch = 12 }", "helix = { pitch = 12, turns = 1, start = 2 }")
    narrow = ("repeat = 3", "repeat = 5")
    lamp = changed(*hung, high, narrow, ("opening = { circle = 46 }", "opening = { circle = 42 }"))
    above = [one.layer.name for one in around_the_core(lamp) if not one.over_the_foot]
    below = [one.layer.name for one in around_the_core(lamp) if not one.over_the_top]
    notes = [one for one in goes_together(lamp) if one.level == Level.NOTE]
    assert above
    assert not below
    assert [one.parts for one in notes] == [tuple(above)]
    assert "on cap with its strip" in notes[0].what


def test_plates_between_two_recesses_and_spacers_go_together() -> None:
    ring = '[[layer]]\nname = "{}"\nmaterial = "ply"\noutline = {{ circle = 120 }}\nwall = 14\n{}\n'
    middle = (
        ring.format("low", "recess = { depth = 2 }")
        + '[[layer]]\nname = "plate"\nmaterial = "opal"\noutline = { circle = 104 }\nopening = { circle = 46 }\n'
        + ring.format("high", 'recess = { depth = 1.8, face = "underside" }')
        + '[[layer]]\nname = "spacers"\nmaterial = "ply"\noutline = { circle = 8 }\naround = { count = 3, circle = 106 }\n'
    )
    lamp = changed(('[[layer]]\ngroup = "tier"', middle + '[[layer]]\ngroup = "tier"'))
    assert goes_together(lamp) == ()
