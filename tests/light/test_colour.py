import numpy as np
import pytest

from stackview.light.colour import encode, light_colour, planckian_xy

# CIE 1931 2° observer, Planck's law, computed with the package colour-science.
TABLE = [
    (2200, 0.50563, 0.41521, (255, 150, 47)),
    (2700, 0.45986, 0.41060, (255, 173, 89)),
    (3000, 0.43693, 0.40408, (255, 184, 109)),
    (4000, 0.38044, 0.37675, (255, 211, 165)),
    (5000, 0.34510, 0.35161, (255, 230, 208)),
    (6500, 0.31353, 0.32363, (255, 248, 254)),
]


@pytest.mark.parametrize(("kelvin", "x", "y", "rgb"), TABLE)
def test_colours_of_a_black_body(kelvin, x, y, rgb):
    # Kim et al. 2002 stay within 6e-4 of the CIE data, which is within one step of 8 bits.
    assert planckian_xy(kelvin) == pytest.approx((x, y), abs=6e-4)
    assert encode(light_colour(kelvin)).astype(int) == pytest.approx(np.array(rgb), abs=1)


@pytest.mark.parametrize("kelvin", [2222.0, 4000.0])
def test_splines_join(kelvin):
    assert planckian_xy(kelvin - 1e-6) == pytest.approx(planckian_xy(kelvin + 1e-6), abs=5e-4)


@pytest.mark.parametrize("kelvin", [0.0, 500.0, 1e6])
def test_temperatures_outside_the_splines_are_held(kelvin):
    assert np.isfinite(light_colour(kelvin)).all()
    assert planckian_xy(500.0) == planckian_xy(1667.0)
    assert planckian_xy(1e6) == planckian_xy(25000.0)


def test_srgb_transfer():
    # IEC 61966-2-1: 0.21404114 is coded as 0.5; the straight part ends at 0.0031308.
    assert encode(np.array([0.0, 1.0, 2.0, -1.0])).tolist() == [0, 255, 255, 0]
    assert encode(np.array([0.21404114]))[0] / 255 == pytest.approx(0.5, abs=0.6 / 255)
    assert encode(np.array([0.0031308])).tolist() == [10]


def test_rounding_pattern_keeps_the_mean():
    thresholds = (np.arange(64) + 0.5) / 64
    coded = encode(np.full(64, 0.2), thresholds)
    exact = (1.055 * 0.2 ** (1 / 2.4) - 0.055) * 255
    assert coded.mean() == pytest.approx(exact, abs=1 / 64)
