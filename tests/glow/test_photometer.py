from dataclasses import replace

import numpy as np
import pytest

pytest.importorskip("mitsuba")

from stackview.glow.photometer import by_part, far_field, on_table
from stackview.glow.scene import GlowScene
from stackview.glow.skins import Clear, Matt
from tests.glow.bodies import box, light, square

FLUX = np.pi * 2.0**2 * 1e-6 * 1e6
"""Of a Lambertian square of 2 mm side and 1e6 cd/m²: Φ = π·L·A [lm]."""
BLACK = Matt((0.0, 0.0, 0.0))


def scene(*bodies, up=True, at=(0.0, 0.0, 0.0)):
    return GlowScene(bodies, (light(square(at, 2.0, up=up), 1e6),), ())


@pytest.mark.parametrize("up", [True, False])
def test_a_flat_face_sends_out_its_flux_as_the_cosine(up):
    thrown = far_field(scene(up=up), 150_000, 1)
    assert thrown.total == pytest.approx(FLUX, rel=0.01)
    cosine = thrown.directions[:, 2] * (1 if up else -1)
    # Flux within a half-angle θ is sin²θ (Lambertian source).
    for angle, share in ((30.0, 0.25), (45.0, 0.5), (60.0, 0.75)):
        within = cosine > np.cos(np.radians(angle))
        assert thrown.lumens[within].sum() / thrown.total == pytest.approx(share, abs=0.01)
    assert thrown.lumens[cosine < -0.03].sum() == pytest.approx(0.0, abs=1e-3 * FLUX)


def test_directions_are_unit_vectors_over_the_whole_sphere():
    thrown = far_field(scene(), 2_000, 1)
    assert np.linalg.norm(thrown.directions, axis=1) == pytest.approx(1.0)
    assert (thrown.directions.min(axis=0) < -0.98).all()
    assert (thrown.directions.max(axis=0) > 0.98).all()


@pytest.mark.slow
@pytest.mark.parametrize("samples", [4, 32])
def test_light_leaves_by_the_plate_over_it(samples):
    plate = box(Clear(), (-60, -60, 4), (60, 60, 8))
    screen = box(BLACK, (-2, -2, -2), (2, 2, -1))
    dark = scene(plate, screen)
    found = by_part(dark, 48, samples, 1)
    # The plate takes all that rises steeper than its rim, sin²; what passes it at grazing angles is
    # reflected at most.
    share = 1.0 - np.sin(np.arctan2(4.0, 62.0)) ** 2
    assert 0.80 * FLUX < found[0] < share * FLUX * 1.03


@pytest.mark.slow
def test_light_of_a_narrow_slit_is_not_put_down_to_what_frames_it():
    # Black frames give no light, and a bright band 3 mm wide between them is all that shines.
    band = replace(box(Matt((0.8, 0.8, 0.8)), (-60, -60, -1.5), (60, 60, 1.5)), part=1)
    frames = [
        replace(box(BLACK, (-62, -62, low), (62, 62, low + 20.0)), part=part)
        for low, part in ((-22.0, 0), (2.0, 2))
    ]
    # Four faces look at the band's sides from far off.
    ways = [(1, 0), (0, 1), (-1, 0), (0, -1)]
    quads = np.array(
        [
            [
                (90 * x - side * 20 * y, 90 * y + side * 20 * x, up)
                for side, up in ((1, -10), (-1, -10), (-1, 10), (1, 10))
            ]
            for x, y in ways
        ],
        float,
    )
    found = by_part(GlowScene((band, *frames), (light(quads, 1e5),), ()), 96, 2, 1)
    # Before the hidden light faces it is the band behind them that shows.
    assert found[1] > 0.9 * (found[0] + found[1] + found[2]) > 0.0


@pytest.mark.slow
@pytest.mark.parametrize("samples", [2, 64])
def test_the_two_ways_of_following_light_agree(samples):
    # A diffuse box with slits: only light that has been reflected comes out.
    grey = Matt((0.5, 0.5, 0.5))
    inside = scene(box(grey, (-30, -30, -4), (30, 30, -1)), box(grey, (-30, -30, 12), (30, 30, 14)))
    forwards = far_field(inside, 150_000, 1)
    straight = 1.0 - np.mean([_hidden(bearing, 30.0, 12.0) for bearing in np.radians(np.arange(0.5, 360.0))])
    backwards = sum(by_part(inside, 64, samples, 1).values()) + straight * FLUX
    assert forwards.total == pytest.approx(backwards, rel=0.03)


def _hidden(bearing, half, rise):
    """Share of a Lambertian face's light that meets a square lid: sin² of the half-angle, by bearing."""
    reach = half / max(abs(np.cos(bearing)), abs(np.sin(bearing)))
    return np.sin(np.arctan2(reach, rise)) ** 2


def test_the_table_gets_what_the_inverse_square_gives():
    # A face 300 mm over the table that looks down: E = I·cos θ/d² with I = I₀ cos θ.
    hung = GlowScene(
        (box(BLACK, (-1, -1, 301), (1, 1, 302)),), (light(square((0, 0, 300), 2.0, up=False), 1e6),), ()
    )
    rings = on_table(hung, 0.0, (300.0, 600.0), 400_000, 1)
    axial = FLUX / np.pi
    for ring in rings:
        distance = np.hypot(0.3, ring.distance / 1000.0)
        cosine = 0.3 / distance
        assert ring.mean == pytest.approx(axial * cosine**2 / distance**2, rel=0.06)
        assert ring.least <= ring.mean <= ring.most
