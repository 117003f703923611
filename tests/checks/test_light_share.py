import numpy as np
import pytest

from stackview.checks.light_share import CHECK, beam_power, glazed_shares, light_share, straight_shares
from stackview.description.lamp_file import LampFile
from stackview.sight.bands import Kind, all_bands, even_bearings
from stackview.sight.beams import traced
from stackview.sight.scene import scene_of
from stackview.study import Study
from tests.checks.written import alarms, subject
from tests.lamps import box, disc, light_points, ring


@pytest.mark.parametrize(
    ("beam", "power"), [(60.0, 4.818842), (90.0, 2.0), (110.0, 1.246972), (120.0, 1.0), (140.0, 0.646059)]
)
def test_exponents_of_beams(beam: float, power: float) -> None:
    # m = −ln2/ln cos(θ/2), photometry of the cos^m source
    assert beam_power(beam) == pytest.approx(power, abs=1e-6)


@pytest.mark.parametrize("direction", [(0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (1.0, 0.0, 1.0)])
def test_in_the_open_all_of_it_leaves(direction: tuple[float, float, float]) -> None:
    points = light_points([(0.0, 0.0, 10.0)], [direction])
    far = disc("far", 1.0, -1001.0, -1000.0)
    bands = all_bands(scene_of((far,)), points, even_bearings(360))
    shares = straight_shares(points, bands)
    assert float(shares[Kind.BARE][0]) == pytest.approx(1.0, abs=0.01)


def test_up_a_well_leaves_what_the_lambertian_cone_does() -> None:
    # A Lambertian source sends sin²θ of its flux within θ of its axis: atan(30/40), sin² = 0.36
    points = light_points([(0.0, 0.0, 0.0)], [(0.0, 0.0, 1.0)])
    well = ring("well", 30.0, 60.0, -5.0, 40.0, facets=360)
    bands = all_bands(scene_of((well,)), points, even_bearings(360))
    assert float(straight_shares(points, bands)[Kind.BARE][0]) == pytest.approx(0.36, abs=2e-3)


def test_through_opal_it_counts_as_veiled() -> None:
    points = light_points([(0.0, 0.0, 0.0)], [(0.0, 0.0, 1.0)])
    plate = disc("plate", 500.0, 1.0, 4.0, body="opal")
    shares = straight_shares(points, all_bands(scene_of((plate,)), points, even_bearings(72)))
    assert float(shares[Kind.VEILED][0]) > 0.98
    assert float(shares[Kind.BARE][0]) < 0.01


def test_through_clear_it_is_what_falls_on_the_pane() -> None:
    # View factor of a square from a small Lambertian face square below its middle, half-width equal
    # to the distance: 4 · 0.4352098757/π. All that enters a pane by its front leaves by its back.
    points = light_points([(0.0, 0.0, 0.0)], [(1.0, 0.0, 0.0)])
    pane = box("pane", (10.0, -10.0, -10.0), (13.0, 10.0, 10.0), "clear")
    shares = glazed_shares(points, traced(scene_of((pane,)), points))
    assert float(shares[0]) == pytest.approx(4.0 * 0.4352098757 / np.pi, rel=0.01)


def test_it_only_informs() -> None:
    lamp = subject()
    assert alarms(CHECK, lamp) == []
    (note,) = light_share(lamp)
    assert note.value is not None
    assert 0.0 <= note.value <= 100.0
    shares = straight_shares(lamp.light.points, lamp.sightlines.bands)
    assert all(np.all(share <= 1.0 + 1e-3) for share in shares.values())


def test_what_meets_wood_behind_the_pane_counts_with_what_meets_it_at_once() -> None:
    # 2 mm up lies an opal pane in a recess 1 mm deep and 8.2 mm wide: past the recess's rim goes the cone within
    # atan(8.2/3), though the pane catches that within atan(6/2): 88.2% and 90%.
    lamp = LampFile.from_text("""
name = "Tiny"
cutter = 1
materials.wood = { wood = "maple", sold = 3 }
materials.pane = { acrylic = "opal", sold = 2 }
layer = [
    { name = "base", material = "wood", outline = { circle = 20 } },
    { name = "ring", material = "wood", outline = { circle = 20 }, wall = 4, recess = { depth = 1 } },
    { name = "pane", material = "pane", outline = { circle = 16 } },
]
light = [{ diode = { on = "base" }, watts = 0.06 }]
""")
    study = Study(lamp)
    (told,) = [fact for fact in study.facts if fact.check == "light"]
    assert told.value == pytest.approx(100.0 * (1.0 - 8.2**2 / (8.2**2 + 3.0**2)), abs=0.4)
    assert told.what.startswith(
        "12% of its light meets wood or metal, at once or behind acrylic; out go 0% through air"
    )
    (draws,) = [fact for fact in study.facts if fact.check == "supply" and "draws" in fact.what]
    assert draws.what == "1 light point draws 0.012 A at 5 V, 0.06 W"
