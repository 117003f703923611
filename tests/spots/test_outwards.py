"""Light followed out of a lamp: closed forms of photometry, energy, and a drum with a port."""

from math import pi, radians, sin

import numpy as np
import pytest
import trimesh

from stackview.glow.flux import Flux
from stackview.glow.scene import GlowScene, shining_faces
from stackview.glow.skins import Clear, Matt, Opal, Sanded
from stackview.light.colour import LUMINANCE
from stackview.spots.outwards import FACE, left, lit_alone
from tests.spots.small_scenes import WHITE, body, light_points


def followed(bodies, points, ways: int = 40_000, colour=WHITE, seed: int = 1):
    lights, wells = shining_faces(points, Flux(points.lumens.copy(), ()))
    lit = lit_alone(GlowScene((*bodies, *wells), lights, ()), points, colour)
    return left(lit, ways, np.random.default_rng(seed))


UP = light_points([(0.0, 0.0, 0.0)], (0.0, 0.0, 1.0))


def test_a_bare_face_sends_out_its_flux_as_the_cosine() -> None:
    # Flux within a half-angle θ is sin²θ (Lambertian source, IES).
    found = followed([], UP)
    assert found.lumens.sum() == pytest.approx(10.0, rel=1e-5)
    assert (found.last == FACE).all()
    for angle in (30.0, 45.0, 60.0):
        within = found.travel[2] > np.cos(radians(angle))
        assert found.lumens[within].sum() / 10.0 == pytest.approx(sin(radians(angle)) ** 2, abs=0.01)


def test_clear_and_sanded_and_white_bodies_let_all_of_it_out() -> None:
    for skin in (Clear(), Sanded(0.3), Opal(0.6, 0.4, 0.0), Matt((1.0, 1.0, 1.0))):
        plate = body(
            trimesh.creation.box((60, 60, 4), trimesh.transformations.translation_matrix((0, 0, 12))), skin
        )
        found = followed([plate], UP, 20_000)
        assert found.lumens.sum() == pytest.approx(10.0, rel=0.006)
        assert 0.3 < found.lumens[found.last == 0].sum() / 10.0 < 1.0


def drum(share: float, port: float, radius: float = 50.0, facets: int = 5) -> object:
    """A sphere that looks inwards, with a round port about its top."""
    ball = trimesh.creation.icosphere(facets, radius)
    up = ball.triangles_center[:, 2] / np.linalg.norm(ball.triangles_center, axis=1)
    ball.update_faces(up < np.cos(radians(port)))
    ball.invert()
    return body(ball, Matt((share,) * 3))


@pytest.mark.parametrize(("share", "port"), [(0.9, 20.0), (0.6, 35.0)])
def test_a_drum_with_a_port_gives_out_what_the_integrating_sphere_says(share: float, port: float) -> None:
    """Out = Φ·ρ·f/(1 − ρ(1 − f)) for light first thrown on the wall, f the port's share of the sphere (Goebel 1967).

    In a sphere every bit of wall lights all others evenly, so it holds exactly, but for facets. The light point shines
    down from the middle.
    """
    ball = drum(share, port)
    areas = (
        np.linalg.norm(np.cross(*np.diff(ball.vertices.reshape(-1, 3, 3), axis=1).transpose(1, 0, 2)), axis=1)
        / 2
    )
    f = 1.0 - areas.sum() / (4 * pi * 50.0**2) * 1.0004  # facets lie within: 0.04 % of area
    down = light_points([(0.0, 0.0, 0.0)], (0.0, 0.0, -1.0), face=0.2)
    found = followed([ball], down, 60_000).lumens.sum() / 10.0
    expected = share * f / (1.0 - share * (1.0 - f))
    assert found == pytest.approx(expected, rel=0.04)


def test_coloured_walls_give_back_each_colour_by_itself() -> None:
    # The drum's formula channel by channel; one grey for all three would give 0.061.
    red, port = (0.9, 0.5, 0.1), 35.0
    ball = drum(0.6, port)
    painted = type(ball)(ball.name, ball.part, Matt(red), ball.vertices, ball.normals, ball.triangles)
    down = light_points([(0.0, 0.0, 0.0)], (0.0, 0.0, -1.0), face=0.2)
    f = (1.0 - np.cos(radians(port))) / 2.0
    each = [share * f / (1.0 - share * (1.0 - f)) for share in red]
    expected = float(np.dot(each, LUMINANCE))
    assert followed([painted], down, 60_000).lumens.sum() / 10.0 == pytest.approx(expected, rel=0.06)
