import pytest

pytest.importorskip("mitsuba")

from stackview import assemble, light_up, load, sightlines
from stackview.glow.flux import flux_of
from stackview.glow.light_out import BARE, light_out, shared_out, table_above
from stackview.glow.scene import glow_scene

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


@pytest.mark.slow
def test_light_out_adds_up_and_is_told_in_full(studied):
    stack, light, lines = studied
    flux = flux_of(light)
    told = []
    out = light_out(glow_scene(stack, light, flux), stack, lines, flux, error=0.4, progress=told.append)
    assert 0.5 < out.share <= 1.0
    assert out.lumens == pytest.approx(out.share * flux.total)
    assert sum(value for _, value in out.by_layer) == pytest.approx(out.lumens)
    assert out.intensity.lumens == pytest.approx(out.lumens, rel=0.02)
    lux = [ring.mean for ring in out.table]
    assert lux == sorted(lux, reverse=True)
    assert min(lux) > 0.0
    assert told[-1] == 1.0
    # Most of the strip stands free over the plate.
    assert dict(out.by_layer)[BARE] > 0.3 * out.lumens


def test_parts_share_what_is_not_bare(studied):
    stack, _, _ = studied
    names = [part.name for part in stack.placed]
    shared = dict(shared_out(10.0, {0: 1.0, 1: 2.0, -2: 1.0}, 2.0, stack))
    assert shared[names[0]] == pytest.approx(2.0)
    assert shared[names[1]] == pytest.approx(4.0)
    assert shared[BARE] == 2.0
    assert sum(shared.values()) == pytest.approx(10.0)
    # No more can leave bare than leaves at all.
    assert dict(shared_out(1.0, {0: 1.0}, 2.0, stack))[BARE] == 1.0


def test_a_standing_lamp_lights_what_it_stands_on(studied):
    assert table_above(studied[0]) == pytest.approx(0.0, abs=0.1)
