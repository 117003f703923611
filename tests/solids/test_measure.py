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
from stackview.solids.measure import centre_of_mass, moments, surface_area, volume
from stackview.solids.placing import placed


def test_frustum_moments(layer) -> None:
    # Square frustum 100 → 80, h 10, density 1, about the centre of mass (CRC Standard Mathematical Tables).
    solid = solid_of(layer(Rectangle(100.0, 100.0), 10.0, chamfers=(Chamfer("top outer", 10.0),)), 0.05)
    m = moments(solid)
    assert m.xx == pytest.approx(5.66956011e7, rel=1e-8)
    assert m.yy == pytest.approx(5.66956011e7, rel=1e-8)
    assert m.zz == pytest.approx(1.12053333e8, rel=1e-8)
    assert (m.xy, m.yz, m.zx) == pytest.approx((0.0, 0.0, 0.0), abs=1e-4)


def test_cuboid(layer) -> None:
    # m(b² + h²)/12 and so on (any table of moments of inertia).
    solid = solid_of(layer(Outline(Rectangle(30.0, 20.0), at=(500.0, -300.0)), 10.0), 0.05)
    assert volume(solid) == pytest.approx(6000.0, rel=1e-12)
    assert surface_area(solid) == pytest.approx(2.0 * (600.0 + 300.0 + 200.0), rel=1e-12)
    assert centre_of_mass(solid) == pytest.approx((500.0, -300.0, 5.0), rel=1e-12)
    m = moments(solid)
    assert (m.xx, m.yy, m.zz) == pytest.approx((500.0 * 500.0, 500.0 * 1000.0, 500.0 * 1300.0), rel=1e-10)


def test_turned_cuboid_has_a_product_of_inertia() -> None:
    bar = placed(rod(Outline(Rectangle(40.0, 4.0)), None, 6.0, None, 0.05), 45.0, 0.0)
    m = moments(bar)
    # ∫x'y' for 45°: half the difference of ∫x² and ∫y² in its own axes.
    assert m.xy == pytest.approx(-0.5 * 960.0 / 12.0 * (1600.0 - 16.0), rel=1e-12)


def test_helpers_agree_on_a_fine_disc() -> None:
    disc = rod(Outline(Circle(60.0)), None, 5.0, None, 1e-5)
    assert volume(disc) == pytest.approx(math.pi * 900.0 * 5.0, rel=1e-6)
    assert surface_area(disc) == pytest.approx(2.0 * math.pi * 900.0 + math.pi * 60.0 * 5.0, rel=1e-6)
    assert moments(disc).zz == pytest.approx(0.5 * math.pi * 900.0 * 5.0 * 900.0, rel=1e-6)


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
        mesh = trimesh.Trimesh(solid.vertices, solid.triangles, process=False)
        reference = mesh.mass_properties
    assert volume(solid) == pytest.approx(reference.volume, rel=1e-9)
    assert centre_of_mass(solid) == pytest.approx(reference.center_mass, rel=1e-9, abs=1e-9)
    m = moments(solid)
    tensor = np.array([[m.xx, m.xy, m.zx], [m.xy, m.yy, m.yz], [m.zx, m.yz, m.zz]])
    assert np.allclose(tensor, reference.inertia, rtol=1e-6, atol=1e-6 * m.zz)
