"""A lamp's own symmetry, of bodies and light points placed by hand."""

import numpy as np
import pytest
import trimesh

from stackview.glow.flux import Flux
from stackview.glow.scene import GlowScene, shining_faces
from stackview.glow.skins import Clear, Matt
from stackview.glow.symmetry import NO_SYMMETRY, Symmetry, lamp_symmetry
from stackview.light.points import LightPoints
from tests.spots.small_scenes import body, light_points

WOOD = Matt((0.5, 0.4, 0.3))


def box(size=(80.0, 80.0, 10.0), at=(0.0, 0.0, 0.0), skin=WOOD):
    mesh = trimesh.creation.box(size)
    mesh.apply_translation(at)
    return body(mesh, skin)


def ring(count: int, radius: float = 30.0, first: float = 0.0, **more):
    turn = np.radians(first) + np.arange(count) * 2.0 * np.pi / count
    places = np.stack([radius * np.cos(turn), radius * np.sin(turn), np.full(count, 20.0)], axis=1)
    return light_points(places, [0.0, 0.0, 1.0], **more)


def symmetry_of(bodies, points: LightPoints) -> Symmetry:
    lights, _ = shining_faces(points, Flux(points.lumens.copy(), ()))
    return lamp_symmetry(GlowScene(tuple(bodies), lights, ()), points)


def test_a_square_box_with_four_light_points_has_four_turns_and_a_mirror() -> None:
    assert symmetry_of([box()], ring(4)) == Symmetry(4, 0.0)
    assert symmetry_of([box()], ring(8)) == Symmetry(4, 0.0)
    assert Symmetry(4, 0.0).copies == 8


def test_a_long_box_has_two_and_light_points_can_take_them() -> None:
    assert symmetry_of([box((100.0, 60.0, 10.0))], ring(4)) == Symmetry(2, 0.0)
    # Three on a circle: one of the box's mirrors is left, through the right.
    assert symmetry_of([box((100.0, 60.0, 10.0))], ring(3)) == Symmetry(1, 90.0)
    # Turned a little out of line, no mirror either.
    assert symmetry_of([box((100.0, 60.0, 10.0))], ring(3, first=7.0)) == NO_SYMMETRY


def test_a_hole_beside_the_axis_a_foot_or_another_skin_counts() -> None:
    square, points = box(), ring(4)
    foot = box((6.0, 6.0, 3.0), (20.0, 0.0, -6.5))
    assert symmetry_of([square, foot], points) == Symmetry(1, 90.0)
    feet = [box((6.0, 6.0, 3.0), (x, 0.0, -6.5)) for x in (-20.0, 20.0)]
    assert symmetry_of([square, *feet], points) == Symmetry(2, 0.0)
    glass = box((6.0, 6.0, 3.0), (-20.0, 0.0, -6.5), Clear())
    assert symmetry_of([square, feet[1], glass], points) == Symmetry(1, 90.0)


def test_dimmer_light_points_are_not_alike() -> None:
    one, other = ring(2, lumens=10.0), ring(2, first=90.0, lumens=4.0)
    both = LightPoints(
        *(np.concatenate([getattr(one, name), getattr(other, name)]) for name in one.__slots__)
    )
    assert symmetry_of([box()], both) == Symmetry(2, 0.0)


def test_a_drum_over_one_light_point_is_round_though_it_is_drawn_with_facets() -> None:
    drum = body(trimesh.creation.annulus(50.0, 60.0, 10.0, sections=90), WOOD)
    assert symmetry_of([drum], light_points([[0.0, 0.0, 0.0]], [0.0, 0.0, 1.0])) == Symmetry(0, 0.0)
    assert symmetry_of([drum], ring(5)).turns == 5


def test_waves_that_the_symmetry_cannot_have_are_left_out_and_its_own_are_kept() -> None:
    turn = np.linspace(0.0, 2.0 * np.pi, 72, endpoint=False)
    own = 3.0 + np.cos(4.0 * (turn - 0.3)) + 0.5 * np.cos(8.0 * (turn - 0.3))
    alien = 0.7 * np.sin(4.0 * (turn - 0.3)) + np.cos(3.0 * turn)
    kept = Symmetry(4, float(np.degrees(0.3))).of_waves(np.fft.rfft(own + alien))
    assert np.fft.irfft(kept, 72) == pytest.approx(own, abs=1e-9)
    assert np.fft.irfft(Symmetry(0, 0.0).of_waves(np.fft.rfft(own + alien)), 72) == pytest.approx(3.0)
    assert np.fft.irfft(NO_SYMMETRY.of_waves(np.fft.rfft(own + alien)), 72) == pytest.approx(own + alien)
