import math

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.description.lamp import Chamfer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle, Regular
from stackview.solids.build import rod, solid_of
from stackview.solids.measure import centre_of_mass, volume
from stackview.solids.placing import placed
from stackview.solids.solid import Solid


def mesh_of(solid: Solid) -> trimesh.Trimesh:
    """The solid in the outside library, which measures surfaces and inertia about the centre of mass."""
    return trimesh.Trimesh(solid.vertices, solid.triangles, process=False)


def test_frustum_moments(layer) -> None:
    # Square frustum 100 → 80, h 10, density 1, about the centre of mass (CRC Standard Mathematical Tables).
    solid = solid_of(layer(Rectangle(100.0, 100.0), 10.0, chamfers=(Chamfer("top outer", 10.0),)), 0.05)
    inertia = mesh_of(solid).moment_inertia
    assert np.diag(inertia) == pytest.approx((5.66956011e7, 5.66956011e7, 1.12053333e8), rel=1e-8)
    assert inertia - np.diag(np.diag(inertia)) == pytest.approx(np.zeros((3, 3)), abs=1e-4)


def test_cuboid(layer) -> None:
    # m(b² + h²)/12 and so on (any table of moments of inertia).
    solid = solid_of(layer(Outline(Rectangle(30.0, 20.0), at=(500.0, -300.0)), 10.0), 0.05)
    assert volume(solid) == pytest.approx(6000.0, rel=1e-12)
    assert mesh_of(solid).area == pytest.approx(2.0 * (600.0 + 300.0 + 200.0), rel=1e-12)
    assert centre_of_mass(solid) == pytest.approx((500.0, -300.0, 5.0), rel=1e-12)
    found = np.diag(mesh_of(solid).moment_inertia)
    assert found == pytest.approx((500.0 * 500.0, 500.0 * 1000.0, 500.0 * 1300.0), rel=1e-7)


def test_turned_cuboid_has_a_product_of_inertia() -> None:
    bar = placed(rod(Outline(Rectangle(40.0, 4.0)), None, 6.0, None, 0.05), 45.0, 0.0)
    # ∫x'y' for 45°: half the difference of ∫x² and ∫y² in its own axes.
    assert mesh_of(bar).moment_inertia[0, 1] == pytest.approx(
        -0.5 * 960.0 / 12.0 * (1600.0 - 16.0), rel=1e-12
    )


def test_a_fine_disc() -> None:
    disc = rod(Outline(Circle(60.0)), None, 5.0, None, 1e-5)
    assert volume(disc) == pytest.approx(math.pi * 900.0 * 5.0, rel=1e-6)
    assert mesh_of(disc).area == pytest.approx(2.0 * math.pi * 900.0 + math.pi * 60.0 * 5.0, rel=1e-6)
    assert mesh_of(disc).moment_inertia[2, 2] == pytest.approx(0.5 * math.pi * 900.0 * 5.0 * 900.0, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(
    st.integers(3, 9),
    st.floats(20.0, 80.0),
    st.floats(0.0, 8.0),
    st.floats(0.0, 360.0),
    st.floats(-90.0, 90.0),
)
def test_agrees_with_trimesh(sides: int, across: float, corner: float, turn: float, lift: float) -> None:
    solid = placed(
        rod(Outline(Regular(sides, across, corner), at=(15.0, -4.0)), None, 7.0, None, 0.05), turn, lift
    )
    with np.errstate(all="ignore"):
        reference = mesh_of(solid).mass_properties
    assert volume(solid) == pytest.approx(reference.volume, rel=1e-9)
    assert centre_of_mass(solid) == pytest.approx(reference.center_mass, rel=1e-9, abs=1e-9)
