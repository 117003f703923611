"""Sanded and opal faces keep all light: by directional albedo, in even light, and in plates lit at their edge.

Each face absorbs nothing, so the truth is exactly 1. Figures beside the slow ones: what the table of two constants that
it replaced gave, by a trial of ours.
"""

from functools import cache
from itertools import pairwise

import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.glow import engine
from stackview.glow.room import DARK, Room
from stackview.glow.scene import GlowScene, Shining
from stackview.glow.skins import Sanded, Skin, opal_layer
from stackview.light.colour import LUMINANCE
from tests.glow.bodies import aimed, body, box, light, quick

ALL = (0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6)


def even_light(skin: Skin, elevation: float, samples: int) -> tuple[float, float]:
    """What a plate in an even field of one looks like, with its standard error."""
    plate = box(skin, (-50, -50, 0), (50, 50, 4))
    ready = engine.built(GlowScene((plate,), (), ()), Room(even=(1.0, 1.0, 1.0)), quick())
    found = engine.photographed(ready, aimed((0, 0, 4), elevation=elevation, field=0.5), samples, 1)
    seen = (found @ LUMINANCE).ravel()
    return float(seen.mean()), float(seen.std() / np.sqrt(len(seen)))


def test_a_sanded_plate_in_an_even_field_of_light_vanishes() -> None:
    found, error = even_light(Sanded(0.3), 35.0, 128)
    assert found == pytest.approx(1.0, abs=0.01 + 3 * error)


@pytest.mark.slow
@pytest.mark.parametrize("alpha", ALL)
def test_sanded_plates_vanish_at_every_angle(alpha: float) -> None:
    # Two constants: 0.92 to 1.02.
    for elevation in (90.0, 60.0, 35.0, 15.0, 5.0):
        found, error = even_light(Sanded(alpha), elevation, 1024)
        assert 0.97 - 2 * error < found < 1.03 + 2 * error, elevation


@cache
def albedo(alpha: float, degrees: float, inside: bool, count: int = 200_000) -> tuple[float, float, float]:
    """Share of light that one face sends anywhere, by its own samples, with its standard error; share passed."""
    import drjit as dr

    mi = engine._using(quick())
    face = mi.load_dict({"type": "stackview_sanded", "alpha": alpha})
    cosine = float(np.cos(np.radians(degrees)))
    met = dr.zeros(mi.SurfaceInteraction3f, count)
    met.wi = mi.Vector3f(float(np.sin(np.radians(degrees))), 0.0, -cosine if inside else cosine)
    sampler = mi.load_dict({"type": "independent"})
    sampler.seed(1, count)
    context = mi.BSDFContext(mi.TransportMode.Importance)
    found, weight = face.sample(context, met, sampler.next_1d(), sampler.next_2d(), True)
    each = np.array(weight)[1]
    passed = np.array(found.wo.z) * np.array(met.wi.z) < 0
    return float(each.mean()), float(each.std() / np.sqrt(count)), float((each * passed).mean())


@pytest.mark.slow
@pytest.mark.parametrize("inside", [False, True])
@pytest.mark.parametrize("alpha", ALL)
def test_no_face_gives_more_than_it_gets(alpha: float, inside: bool) -> None:
    # Two constants, from inside: 0.937 to 1.044 at 0.3, 0.846 to 1.193 at 0.5; one lobe brightened 0.98 to 1.005.
    if quick() != engine.FAST:
        pytest.skip("needs many ways at once")
    for degrees in (0.0, 15.0, 30.0, 45.0, 60.0, 75.0, 85.0):
        found, error, _ = albedo(alpha, degrees, inside)
        assert found == pytest.approx(1.0, abs=0.002 + 3 * error), degrees


@pytest.mark.slow
def test_light_that_passes_is_that_of_walks() -> None:
    if quick() != engine.FAST:
        pytest.skip("needs many ways at once")
    # To air at roughness 0.3, by walks with all bounces (``test_microsurface``).
    for degrees, inside, to_air in (
        (45, False, 0.045),
        (75, False, 0.109),
        (0, True, 0.872),
        (45, True, 0.383),
    ):
        whole, error, passed = albedo(0.3, float(degrees), inside)
        assert (passed if inside else whole - passed) == pytest.approx(to_air, abs=0.002 + 3 * error)


def ring(skin: Skin, inner: float, outer: float, tall: float, sides: int = 96) -> object:
    """A ring plate as a body."""
    turn = np.linspace(0.0, 2.0 * np.pi, sides + 1)
    at = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    quads = []
    for one, other in pairwise(at):
        low = [[*(radius * way), 0.0] for radius in (inner, outer) for way in (one, other)]
        (a, b, c, d), (e, f, g, h) = low, [[x, y, tall] for x, y, _ in low]
        quads += [[c, d, h, g], [b, a, e, f], [e, g, h, f], [b, d, c, a]]
    return body(skin, np.array(quads))


def faces_round(radius: float, middle: float, count: int, side: float) -> tuple[Shining, float]:
    """Square lights that look outwards and absorb nothing, and the light that they give [lm]."""
    quads = []
    for turn in 2.0 * np.pi * np.arange(count) / count:
        out = np.array([np.cos(turn), np.sin(turn), 0.0])
        along, up = np.array([-out[1], out[0], 0.0]), np.array([0.0, 0.0, 1.0])
        corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
        quads.append([radius * out + middle * up + side / 2 * (u * along + v * up) for u, v in corners])
    return light(np.array(quads), 1e5, 1.0), count * np.pi * 1e5 * side * side * 1e-6


def given_out(bodies: tuple, lights: Shining, radius: float, ways: int) -> tuple[float, float]:
    """Light that leaves a ball about everything [lm], and its standard error: π·4πR²·L̄ over all lines into it."""
    ready = engine.built(GlowScene(bodies, (lights,), ()), DARK, quick())
    chance, means = np.random.default_rng(1), []
    for number in range(8):
        place = chance.normal(size=(ways // 8, 3))
        place /= np.linalg.norm(place, axis=1)[:, None]
        aside = chance.normal(size=place.shape)
        into = aside / np.linalg.norm(aside, axis=1)[:, None] - place
        into /= np.linalg.norm(into, axis=1)[:, None]
        seen = engine.seen_along(ready, (radius * place).astype(np.float32), into.astype(np.float32), number)
        means.append(float((seen @ LUMINANCE).mean()) * 4.0 * np.pi**2 * (radius / 1000.0) ** 2)
    return float(np.mean(means)), float(np.std(means, ddof=1) / np.sqrt(8))


@pytest.mark.slow
@pytest.mark.parametrize("alpha", ALL)
def test_a_ring_plate_lit_at_its_inner_edge_gives_out_what_went_in(alpha: float) -> None:
    # Two constants: 0.986, 1.029, 1.084 at 0.1, 0.3, 0.5; bare micro-facets 0.88, 0.61, 0.46.
    if quick() != engine.FAST:
        pytest.skip("needs many ways at once")
    lights, sent = faces_round(21.8, 3.0, 24, 5.4)
    found, error = given_out((ring(Sanded(alpha), 22.0, 53.0, 6.0),), lights, 56.0, 1_600_000)
    assert found / sent == pytest.approx(1.0, abs=0.02 + 2 * error / sent)


@pytest.mark.slow
@pytest.mark.parametrize("alpha", [0.1, 0.2, 0.3, 0.5])
def test_a_wide_slab_lit_at_its_inner_edge_gives_out_what_went_in(alpha: float) -> None:
    # So wide that hardly anything reaches its rim: as if endless. Two constants: 0.93, 1.11, 1.26 at 0.1, 0.3, 0.5.
    if quick() != engine.FAST:
        pytest.skip("needs many ways at once")
    lights, sent = faces_round(21.8, 3.0, 24, 5.4)
    ready = engine.built(GlowScene((ring(Sanded(alpha), 22.0, 300.0, 6.0),), (lights,), ()), DARK, quick())
    chance, total, square = np.random.default_rng(2), 0.0, 0.0
    # Above it, twice for symmetry, by places drawn as 1/r²; then round its rim and over the hole.
    for low, high, count in ((0.5, 22.0, 200_000), (22.0, 301.0, 900_000)):
        radius = low * (high / low) ** chance.random(count)
        weight = 2.0 * 2.0 * np.pi * radius**2 * np.log(high / low)
        seen, error = looked_down(ready, chance, radius, 6.5, weight)
        total, square = total + seen, square + error**2
    seen, error = looked_in(ready, chance, 301.0, 6.5, 100_000)
    total, square = total + seen, square + error**2
    assert total / sent == pytest.approx(1.0, abs=0.02 + 2 * float(np.sqrt(square)) / sent)


def looked_down(
    ready: engine.Built, chance: np.random.Generator, radius: np.ndarray, up: float, weight: np.ndarray
) -> tuple[float, float]:
    """Light that rises through a level plane [lm], by lines down through places at these radii, and its error."""
    turn = 2.0 * np.pi * chance.random(len(radius))
    place = np.stack([radius * np.cos(turn), radius * np.sin(turn), np.full(len(radius), up)], axis=1)
    return arriving(ready, chance, place, np.tile([0.0, 0.0, -1.0], (len(radius), 1)), weight)


def looked_in(
    ready: engine.Built, chance: np.random.Generator, radius: float, up: float, count: int
) -> tuple[float, float]:
    """Light that leaves sideways through a cylinder about the plate, and its error."""
    turn = 2.0 * np.pi * chance.random(count)
    out = np.stack([np.cos(turn), np.sin(turn), np.zeros(count)], axis=1)
    place = radius * out
    tall = 2.0 * up - 6.0
    place[:, 2] = up - tall * chance.random(count)
    return arriving(ready, chance, place, -out, np.full(count, 2.0 * np.pi * radius * tall))


def arriving(
    ready: engine.Built, chance: np.random.Generator, place: np.ndarray, into: np.ndarray, weight: np.ndarray
) -> tuple[float, float]:
    """Light through a surface [lm]: π times the mean over its area, by lines about its inward normals."""
    aside = chance.normal(size=place.shape)
    way = into + aside / np.linalg.norm(aside, axis=1)[:, None]
    way /= np.linalg.norm(way, axis=1)[:, None]
    seen = engine.seen_along(ready, place.astype(np.float32), way.astype(np.float32), 5)
    each = (seen @ LUMINANCE) * weight * np.pi * 1e-6
    return float(each.mean()), float(each.std() / np.sqrt(len(each)))


def test_opal_faces_follow_lamberts_law() -> None:
    # Lit from below by an even sheet, an opal layer's luminance is the same from every side.
    layer = opal_layer(0.5, 1.0)
    sheet = body(layer, np.array([[[-300, -300, 0], [300, -300, 0], [300, 300, 0], [-300, 300, 0]]], float))
    below = light(np.array([[[-900, -900, -5], [900, -900, -5], [900, 900, -5], [-900, 900, -5]]], float))
    ready = engine.built(GlowScene((sheet,), (below,), ()), DARK, quick())
    seen = [
        float(
            (engine.photographed(ready, aimed((0, 0, 0), elevation=e, field=0.5), 64, 1) @ LUMINANCE).mean()
        )
        for e in (90.0, 45.0, 20.0)
    ]
    # Each through the layer once: its transmittance.
    assert seen == pytest.approx([1000.0 * layer.transmittance] * 3, rel=0.03)
