import numpy as np
import pytest

from stackview import assemble, light_up, load, sightlines
from stackview.glow.flux import flux_of
from stackview.glow.scene import glow_scene
from stackview.spots.light_out import BARE, LEAST_BATCHES, light_out, table_above

LAMP = """
name = "Two discs"
[materials.ply]
plywood = "birch"
sold = 9
[materials.clear]
acrylic = "clear"
sold = 4
[materials.tube]
metal = "aluminium"
[[layer]]
name = "base"
material = "ply"
outline = { circle = 100 }
[[layer]]
name = "plate"
material = "clear"
outline = { circle = 80 }
opening = { circle = 40 }
[core]
material = "tube"
outline = { circle = 20 }
height = 30
stands_on = "base"
[[light]]
helix = { pitch = 20 }
lumens = 5
"""


@pytest.fixture(scope="module")
def studied(tmp_path_factory):
    file = tmp_path_factory.mktemp("lamp") / "discs.toml"
    file.write_text(LAMP)
    stack = assemble(load(file))
    light = light_up(stack)
    return stack, light, sightlines(stack, light.points.middles())


@pytest.fixture(scope="module", autouse=True)
def few():
    """Fewer ways than usual: their scatter is what most of these are about."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("stackview.spots.light_out._BATCH", 2048)
        yield


@pytest.fixture(scope="module")
def out(studied):
    stack, light, lines = studied
    flux = flux_of(light)
    told = []
    found = light_out(
        glow_scene(stack, light, flux), stack, light.points, lines, flux, error=0.4, progress=told.append
    )
    assert told[-1] == 1.0
    return found


def test_light_out_adds_up_and_is_told_in_full(studied, out):
    flux = flux_of(studied[1])
    assert 0.5 < out.share <= 1.0
    assert out.lumens == pytest.approx(out.share * flux.total)
    assert sum(own.lumens for own in out.by_layer) == pytest.approx(out.lumens)
    assert out.intensity.lumens == pytest.approx(out.lumens, rel=0.03)
    lux = [ring.mean for ring in out.table]
    assert lux == sorted(lux, reverse=True)
    assert min(lux) > 0.0
    # Most of the strip stands free over the plate.
    own = {layer.name: layer for layer in out.by_layer}
    assert own[BARE].lumens > 0.3 * out.lumens
    assert own[BARE].error == 0.0


def test_every_figure_has_its_error(out):
    assert 0.0 < out.error < 0.05 * out.lumens
    assert 0.0 < out.peak_error < 0.2 * out.intensity.peak
    for ring in out.table:
        assert 0.0 < ring.error < 0.4 * ring.mean
        assert ring.least <= ring.mean <= ring.most
    for layer in out.by_layer:
        # What no way has met is not known to be dark.
        assert layer.error > 0.0 or layer.name == BARE


@pytest.mark.slow
def test_errors_are_those_that_seeds_show(studied):
    stack, light, lines = studied
    flux = flux_of(light)
    scene = glow_scene(stack, light, flux)
    runs = [light_out(scene, stack, light.points, lines, flux, error=0.4, seed=seed) for seed in range(1, 21)]
    for values, errors in (
        ([run.lumens for run in runs], [run.error for run in runs]),
        ([run.table[1].mean for run in runs], [run.table[1].error for run in runs]),
    ):
        off = np.abs(np.array(values) - np.mean(values)) / np.array(errors)
        assert (off < 1.0).mean() >= 0.5
        assert (off < 2.0).mean() >= 0.85


@pytest.mark.slow
def test_it_says_the_same_again_and_other_ways_say_about_the_same(studied, out):
    stack, light, lines = studied
    flux = flux_of(light)
    scene = glow_scene(stack, light, flux)
    again, other = (
        light_out(scene, stack, light.points, lines, flux, error=0.4, seed=seed) for seed in (1, 2)
    )
    assert again.lumens == out.lumens
    assert other.lumens == pytest.approx(out.lumens, abs=5 * (out.error + other.error))


def test_once_it_is_enough_no_more_is_followed_than_the_least(studied) -> None:
    stack, light, lines = studied
    flux = flux_of(light)
    scene = glow_scene(stack, light, flux)
    asked: list[bool] = []

    def enough() -> bool:
        asked.append(True)
        return True

    found = light_out(scene, stack, light.points, lines, flux, error=0.001, enough=enough)
    assert (found.ways, len(asked)) == (LEAST_BATCHES * 2048, 1)


def test_a_standing_lamp_lights_what_it_stands_on(studied):
    assert table_above(studied[0]) == pytest.approx(0.0, abs=0.1)
