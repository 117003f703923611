from stackview.checks.threaded import around_the_core, strips_on, threaded_past
from tests.checks.written import changed, subject


def test_a_sound_lamps_layers_go_over_both_ends() -> None:
    lamp = subject()
    assert next(one.layer.name for one in around_the_core(lamp)) == "ring 1"
    assert all(one.over_the_top and one.over_the_foot for one in around_the_core(lamp))


def test_without_strips_every_layer_passes_the_core() -> None:
    lamp = changed(
        ("helix = { pitch = 12 }", "helix = { pitch = 12, start = 14 }"), ("height = 33", "height = 60")
    )
    core = lamp.lamp.core
    assert core is not None
    (strip,) = strips_on(lamp, core)
    assert (strip.light, strip.low - lamp.stack.part("core").underside) == (lamp.lamp.lights[0].name, 14.0)
    assert all(one.above == one.below == 0.0 for one in threaded_past(lamp, ()))
