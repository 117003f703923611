"""The renderer held against closed forms: photometry, Fresnel, energy, geometry, and equal bits."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from math import atan, cos, pi, radians, sqrt

import numpy as np
import pytest
from scipy.integrate import dblquad

from stackview.glow import engine
from stackview.glow.flux import Flux
from stackview.glow.room import DARK, Room
from stackview.glow.scene import GlowScene, Shining, part_bodies, shining_faces
from stackview.glow.skins import Clear, Matt, Mirror, Sanded, Skin, opal_layer
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import Camera, project
from tests import lamps
from tests.glow.bodies import aimed, body, box, light, quick, seen, square
from tests.glow.endless_row import row_profile

pytest.importorskip("mitsuba")

GREY = Matt((0.5, 0.5, 0.5))
GRAIN = 1e-4
"""Radiance is held to this share."""


def polygon(radius: float, height: float, count: int = 256) -> np.ndarray:
    """A level disc as quadrilaterals, of the circle's own area, that looks down."""
    turn = np.linspace(0.0, 2 * pi, count + 1)
    out = radius * sqrt(2 * pi / count / np.sin(2 * pi / count))
    rim = np.stack([out * np.cos(turn), out * np.sin(turn), np.full(count + 1, height)], axis=1)
    middle = np.array([0.0, 0.0, height])
    k = np.arange(0, count, 2)
    return np.stack([np.broadcast_to(middle, (len(k), 3)), rim[k + 2], rim[k + 1], rim[k]], axis=1)


# --- Photometry ---


@pytest.mark.parametrize("elevation", [90.0, 50.0, 8.0])
def test_a_lambertian_face_has_its_flux_over_pi_and_area(elevation: float) -> None:
    # L = Φ/(πA), IES definitions; the same from every side.
    points = lamps.light_points([(0.0, 0.0, 0.0)], [(0.0, 0.0, 1.0)], 3.0)
    lights, _ = shining_faces(points, Flux(np.array([20.0]), ()))
    found = seen((), lights, aimed((0, 0, 0.1), elevation=elevation, field=0.01), 1)
    assert found == pytest.approx(np.full((16, 16), 20.0 / (pi * 9e-6)), rel=GRAIN)


def test_a_face_gives_no_light_backwards() -> None:
    assert seen((), [light(square((0, 0, 0), 100.0))], aimed((0, 0, 0), elevation=-60.0), 4).max() == 0


def lit(lights: np.ndarray | list[np.ndarray], samples: int = 4096) -> float:
    """Illuminance at the origin of a matt floor, from its luminance: E = πL/ρ."""
    floor = body(GREY, square((0, 0, 0), 4000.0))
    camera = aimed((0, 0, 0), elevation=25.0, bearing=-45.0, field=0.01)
    return float(seen([floor], [light(np.concatenate(lights))], camera, samples).mean()) * pi / 0.5


@pytest.mark.slow
def test_a_square_face_lights_a_floor_below_its_corner() -> None:
    # Check values: Lambertian a × b patch below a corner, a = b = h: E/L = 0.4352098757.
    patch = square((50.0, 50.0, 100.0), 100.0, up=False)
    assert lit([patch]) / 1000.0 == pytest.approx(0.4352098757, rel=1e-3)


def test_a_disc_lights_a_floor_below_its_middle() -> None:
    # Check values: E = πLR²/(R² + d²).
    assert lit([polygon(60.0, 100.0)]) / 1000.0 == pytest.approx(pi * 3600 / (3600 + 1e4), rel=1e-3)


@pytest.mark.slow
def test_several_faces_add_up() -> None:
    """E = ∫∫ L·cos θ·cos θ'/r² dA over each face (IES), by quadrature."""
    places = [(30.0, 10.0, 60.0), (-80.0, 45.0, 90.0), (5.0, 120.0, 40.0)]
    faces = [square(place, 20.0, up=False) for place in places]
    total = 0.0
    for x, y, z in places:
        part, _ = dblquad(
            lambda v, u, z=z: z * z / (u * u + v * v + z * z) ** 2,
            x - 10,
            x + 10,
            y - 10,
            y + 10,
            epsrel=1e-9,
        )
        total += 1000.0 * part
    assert lit(faces) == pytest.approx(total, rel=1e-3)


# --- Clear acrylic ---


def reflected(angle: float, index: float = 1.49) -> tuple[float, float]:
    """Fresnel's reflectances (s, p) of a smooth face (Born & Wolf, Principles of Optics, §1.5)."""
    one = cos(radians(angle))
    other = sqrt(1.0 - (1.0 - one**2) / index**2)
    s = ((one - index * other) / (one + index * other)) ** 2
    p = ((index * one - other) / (index * one + other)) ** 2
    return s, p


def through_slab(angle: float) -> float:
    """Share that a slab passes, its faces unpolarised each: (1 − R)/(1 + R), R the mean of s and p."""
    mean = sum(reflected(angle)) / 2
    return (1 - mean) / (1 + mean)


def test_the_fresnel_reference_is_that_of_the_check_values() -> None:
    # Check values, n 1.4906 at 45°: Rs 0.0897940, Rp 0.0080630, unpolarised 0.9096061.
    s, p = reflected(45.0, 1.4906)
    assert (s, p) == (pytest.approx(0.0897940, abs=1e-7), pytest.approx(0.0080630, abs=1e-7))
    assert ((1 - s) / (1 + s) + (1 - p) / (1 + p)) / 2 == pytest.approx(0.9096061, abs=1e-7)
    assert through_slab(0.0) == pytest.approx(2 * 1.49 / (1.49**2 + 1))


@cache
def slab(skin: Skin, angle: float, samples: int) -> float:
    plate = box(skin, (-300, -300, 0), (300, 300, 3))
    below = light(square((0, 0, -30), 9000.0))
    camera = aimed((0, 0, 3), elevation=90.0 - angle, field=0.5)
    return float(seen([plate], [below], camera, samples).mean()) / 1000.0


@pytest.mark.parametrize(("angle", "within"), [(0.0, 1e-3), (45.0, 1.5e-3), (60.0, 2.5e-3)])
def test_a_clear_slab_passes_what_its_two_faces_let_through(angle: float, within: float) -> None:
    assert slab(Clear(), angle, 2048) == pytest.approx(through_slab(angle), abs=within)


def test_taking_each_face_unpolarised_costs_little() -> None:
    """A slab polarises: its true share is the mean of both polarisations' own, and is a little higher."""
    for angle, most in ((0.0, 1e-9), (45.0, 0.0035), (60.0, 0.019)):
        true = sum((1 - share) / (1 + share) for share in reflected(angle)) / 2
        assert 0 <= true - through_slab(angle) < most + 1e-12


def test_what_enters_an_edge_never_leaves_by_a_dry_face() -> None:
    # n > √2: inside, it meets the faces at 90° − 42.16° and more, beyond the critical 42.16°.
    camera = aimed((0, 0, 5), elevation=60.0, bearing=0.0, field=7.0, size=(32, 24))
    dry = box(Clear(), (-50, -50, 0), (50, 50, 5))
    assert seen([dry], [beside(-60.0)], camera, 64).max() == 0
    assert seen([replace(dry, skin=Sanded(0.3))], [beside(-60.0)], camera, 64).mean() > 0


def beside(x: float) -> Shining:
    """A light that faces along +x, level with the plate's thickness."""
    corners = [(x, -40, 0.2), (x, 40, 0.2), (x, 40, 4.8), (x, -40, 4.8)]
    return light(np.array([corners], float))


def edge_light(glued: tuple[float, ...], elevation: float) -> float:
    """Luminance of a plate's far edge, lit at the other, on wood: seen by an eye that looks along it."""
    plate = lamps.box("plate", (-50, -50, 0), (50, 50, 5), "clear")
    wood = lamps.box("wood", (-50, -50, -9), (50, 50, 0))
    bodies = [made for number, part in enumerate((plate, wood)) for made in part_bodies(part, number, glued)]
    corners = [(-50.2, -4000, -60), (-50.2, 4000, -60), (-50.2, 4000, 4000), (-50.2, -4000, 4000)]
    camera = aimed((50, 0, 2.5), elevation=elevation, bearing=90.0, field=0.02)
    return float(seen(bodies, [light(np.array([corners], float))], camera, 512).mean()) / 1000.0


def test_a_dry_plate_leads_light_to_its_far_edge_and_a_glued_one_loses_it_to_the_wood() -> None:
    # 30° outside is 19.6° inside: total reflection at every dry face, so only the two edges count.
    assert edge_light((), 30.0) == pytest.approx(through_slab(30.0), abs=3e-3)
    # On the way the light meets the underside at least three times; 0.5 is about what wood reflects.
    assert 0 < edge_light((0.0,), 30.0) < 0.5 * edge_light((), 30.0)
    # Straight along it meets no face at all.
    assert edge_light((0.0,), 0.0) == pytest.approx(through_slab(0.0), abs=3e-3)


# --- Energy ---


@pytest.mark.parametrize(
    ("skin", "low", "high"),
    [
        (Clear(), 0.9995, 1.0005),
        *((Sanded(alpha), 0.97, 1.03) for alpha in (0.05, 0.1, 0.2, 0.3)),
        (opal_layer(0.5, 1.0), 0.98, 1.03),
        (opal_layer(0.3, 0.8), 0.98, 1.03),
    ],
    ids=str,
)
def test_a_plate_in_an_even_field_of_light_vanishes(skin: Skin, low: float, high: float) -> None:
    """The furnace test: what absorbs nothing looks like what is behind it."""
    ready = engine.built(
        GlowScene((box(skin, (-50, -50, 0), (50, 50, 4)),), (), ()), Room(even=(1.0, 1.0, 1.0)), quick()
    )
    for elevation in (90.0, 60.0, 35.0, 15.0):
        camera = aimed((0, 0, 4), elevation=elevation, field=0.5)
        found = engine.photographed(ready, camera, 128, 1) @ LUMINANCE
        assert low < found.mean() < high, elevation


@pytest.mark.parametrize(
    ("transmission", "haze"), [(0.3, 1.0), (0.5, 1.0), (0.7, 1.0), (0.5, 0.7), (0.5, 0.05)]
)
def test_an_opal_sheet_passes_what_is_written(transmission: float, haze: float) -> None:
    assert slab(opal_layer(transmission, haze), 0.0, 512) == pytest.approx(transmission, abs=0.01)


@pytest.mark.parametrize("haze", [1.0, 0.7, 0.2])
def test_what_is_not_haze_goes_straight_through(haze: float) -> None:
    # A small face far behind: what is spread hardly comes back to the line of sight.
    sheet = box(opal_layer(0.5, haze), (-300, -300, 0), (300, 300, 3))
    camera = aimed((0, 0, -400), distance=900.0, field=0.05)
    found = seen([sheet], [light(square((0, 0, -400), 3.0))], camera, 256).mean() / 1000.0
    assert found == pytest.approx(0.5 * (1 - haze), abs=0.005)


def test_a_mirror_shows_a_light_with_its_reflectance() -> None:
    mirror = body(Mirror((0.8, 0.8, 0.8)), square((0, 0, 0), 100.0))
    camera = aimed((0, 0, 0), elevation=40.0, field=0.1)
    # The eye's ray goes on towards the back, upwards at 40°.
    corners = [(-500, 400, 1), (-500, 400, 999), (500, 400, 999), (500, 400, 1)]
    found = seen([mirror], [light(np.array([corners], float)[:, ::-1])], camera, 16)
    assert found == pytest.approx(np.full((16, 16), 800.0), rel=1e-3)


# --- Rows of light points ---


@pytest.mark.parametrize(("distance", "count"), [(0.5, 9), (1.0, 13), (2.0, 23)])
def test_a_row_of_leds_lights_a_sheet_as_the_closed_sum_says(distance: float, count: int) -> None:
    pitch = 10.0
    x = pitch * (np.arange(count) - count // 2)
    leds = np.concatenate([square((at, 0.0, distance * pitch), 0.4, up=False) for at in x])
    sheet = body(Matt((0.8, 0.8, 0.8)), square((0, 0, 0), 400.0))
    # From the side, so that no face is in the way; a pixel is a 32nd of a pitch wide.
    across = float(2 * np.degrees(atan(pitch / 32 / 2 / 500)))
    camera = Camera(0.0, 30.0, 500.0, (pitch / 2, 0.0, 0.0), across, (32, 1), True)
    found = seen([sheet], [light(leds)], camera, 24000)[0]
    place = (np.arange(32) + 0.5) / 32
    # Symmetric about an LED, so both halves are the same measurement; noise is smoothed by harmonics.
    waves = np.cos(2 * pi * np.outer(np.arange(7), place))
    strength = waves @ found / (waves**2).sum(axis=1)
    ends = strength @ np.cos(2 * pi * np.outer(np.arange(7), [0.0, 0.5])) / strength[0]
    assert ends == pytest.approx(row_profile(np.array([0.0, 0.5]), distance), abs=0.02)
    assert strength @ waves / strength[0] == pytest.approx(row_profile(place, distance), abs=0.03)


# --- Beams ---


def intensity(beam: float) -> Callable[[float, float], float]:
    """Luminous intensity [cd] of one shaped light point of 100 lm, at an angle off its axis and a turn [°]."""
    points = lamps.light_points([(0.0, 0.0, 0.0)], [(0.0, 0.0, 1.0)], 1.0)
    lights, wells = shining_faces(replace(points, beams=np.array([beam])), Flux(np.array([100.0]), ()))
    ready = engine.built(GlowScene(tuple(wells), lights, ()), DARK)
    wide = 3.0

    def at(angle: float, turn: float) -> float:
        # I = ∫ L dA square to the line of sight: a parallel picture adds it up.
        camera = Camera(
            turn, 90.0 - angle, 300.0, (0, 0, 0.4), 2 * np.degrees(atan(wide / 600)), (40, 40), True
        )
        return float((engine.photographed(ready, camera, 16, 1) @ LUMINANCE).mean()) * (wide / 1000) ** 2

    return at


@pytest.mark.parametrize("beam", [60.0, 90.0, 120.0, 140.0])
def test_a_beam_has_half_its_intensity_at_half_its_angle_and_all_its_flux(beam: float) -> None:
    at = intensity(beam)
    turns = (7.5, 22.5, 37.5)

    def mean(angle: float) -> float:
        return float(np.mean([at(angle, turn) for turn in turns]))

    axial = at(0.0, 0.0)
    assert mean(beam / 2) / axial == pytest.approx(0.5, abs=0.01)
    # Φ = 2π ∫ I d(cos θ), IES; Gauss and Legendre over each half of the sphere.
    nodes, weights = np.polynomial.legendre.leggauss(16)
    flux = sum(
        w * mean(float(np.degrees(np.arccos((x + 1) / 2)))) for x, w in zip(nodes, weights, strict=True)
    )
    assert pi * flux == pytest.approx(100.0, rel=5e-3)
    # Nothing shines backwards.
    assert max(at(100.0, 10.0), at(135.0, 30.0), at(180.0, 0.0)) < 1e-9


# --- Geometry ---


@pytest.mark.parametrize("parallel", [False, True])
@pytest.mark.parametrize(("bearing", "elevation"), [(35.0, 12.0), (200.0, -30.0)])
def test_light_points_show_where_the_camera_says(bearing: float, elevation: float, parallel: bool) -> None:
    camera = Camera(bearing, elevation, 600.0, (5.0, -8.0, 30.0), 24.0, (96, 64), parallel)
    _, _, away = camera.axes
    middles = np.array([[0.0, 0.0, 0.0], [60.0, 30.0, 40.0], [-70.0, 10.0, 80.0], [20.0, -80.0, 60.0]])
    points = lamps.light_points(middles, [-away] * 4, 9.0)
    expected = project(camera, points.corners.mean(axis=1))
    for one, wanted in zip(points.corners, expected, strict=True):
        picture = seen((), [light(one[None])], camera, 256)
        rows, columns = np.indices(picture.shape) + 0.5
        found = [(picture * columns).sum() / picture.sum(), (picture * rows).sum() / picture.sum()]
        assert found == pytest.approx(wanted, abs=0.1)


def test_light_from_all_round_comes_from_where_it_is_written() -> None:
    # Columns from bearing 180° on the left to −180° on the right, rows from the zenith down, 2° each.
    around = np.zeros((90, 180, 3), np.float32)
    bearing, elevation = 65.0, 25.0
    row, column = int((90 - elevation) / 2), int((180 - bearing) / 2)
    around[row - 1 : row + 2, column - 1 : column + 2] = 50.0
    ready = engine.built(GlowScene((), (), ()), Room(around=around))

    def towards(bearing: float, elevation: float) -> float:
        # An eye on the far side looks that way.
        camera = aimed((0, 0, 0), bearing=bearing + 180.0, elevation=-elevation, field=1.0, size=(4, 4))
        return float((engine.photographed(ready, camera, 16, 1) @ LUMINANCE).mean())

    assert towards(bearing, elevation) == pytest.approx(50.0, rel=0.02)
    for other in ((bearing + 30, elevation), (-bearing, elevation), (bearing, -elevation), (bearing, 65.0)):
        assert towards(*other) == pytest.approx(0.0, abs=0.1)


def test_light_points_can_be_left_out_of_a_picture() -> None:
    ready = engine.built(GlowScene((), (light(square((0, 0, 0), 50.0)),), ()), DARK)
    camera = aimed((0, 0, 0))
    assert engine.photographed(ready, camera, 4, 1).min() > 0
    assert engine.photographed(ready, camera, 4, 1, lights_shown=False).max() == 0


# --- Equal bits ---


@pytest.fixture
def threads() -> Iterator[Callable[[int], None]]:
    """Sets the number of the renderer's threads, for one test."""
    import drjit

    before = drjit.thread_count()
    yield drjit.set_thread_count
    drjit.set_thread_count(before)


def plates() -> engine.Built:
    bodies = (
        box(Clear(), (-40, -40, 0), (40, 40, 4)),
        box(Mirror((0.8, 0.8, 0.8)), (-40, 10, 10), (40, 40, 13)),
        body(GREY, square((0, 0, -10), 200.0)),
    )
    return engine.built(GlowScene(bodies, (light(square((0, 0, 7), 5.0)),), ()), Room(even=(2.0, 2.0, 2.0)))


def test_the_same_seed_gives_the_same_bits_on_any_number_of_threads(threads: Callable[[int], None]) -> None:
    # Small, so that there are fewer squares of it than threads.
    camera = aimed((0, 0, 5), elevation=30.0, field=12.0, size=(48, 32))
    pictures = []
    for count in (1, 2, 5):
        threads(count)
        pictures += [engine.photographed(plates(), camera, 8, 7) for _ in range(2)]
    assert all((picture == pictures[0]).all() for picture in pictures)
    other = engine.photographed(plates(), camera, 8, 8)
    assert (other != pictures[0]).mean() > 0.5
    assert float(other.mean()) == pytest.approx(float(pictures[0].mean()), rel=0.25)


# --- Without the extra ---


def test_without_the_renderer_one_line_says_how_to_add_it(monkeypatch: pytest.MonkeyPatch) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "mitsuba", None)
    engine._library.cache_clear()
    try:
        with pytest.raises(engine.GlowMissingError, match=r"pip install .* -e '\.\[glow\]'") as caught:
            engine.require()
    finally:
        engine._library.cache_clear()
    assert "\n" not in str(caught.value)
