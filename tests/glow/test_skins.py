"""Skins: which face does what, and opal sheets that pass what they are said to pass."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.material import Material, Optics
from stackview.glow.skins import (
    Clear,
    Matt,
    Metal,
    Mirror,
    Opal,
    Sanded,
    opal_layer,
    reflectance_of,
    skin_of,
)
from stackview.light.colour import LUMINANCE

ASH = Material("ash", "wood", "ash", "opaque", 600.0, (0.6, 0.5, 0.35))


def acrylic(body: str, **optics: float) -> Material:
    return Material(body, "acrylic", body, body, 1190.0, (0.9, 0.9, 0.9), optics=Optics(**optics))


def of_optics(kind: str = "wood", **optics: object) -> Material:
    return Material("x", kind, "x", "opaque", 600.0, (0.6, 0.5, 0.35), optics=Optics(**optics))


def test_clear_acrylic_is_sanded_only_where_it_is_sanded() -> None:
    plate = acrylic("clear", roughness=0.17)
    assert skin_of(plate, "clear") == Clear()
    assert skin_of(plate, "sanded") == Sanded(0.17)


def test_opal_is_opal_on_every_face() -> None:
    sheet = acrylic("opal", transmission=0.4, haze=0.9)
    assert skin_of(sheet, "clear") == skin_of(sheet, "sanded") == opal_layer(0.4, 0.9)


def test_opaque_faces_reflect_by_what_covers_them() -> None:
    assert skin_of(ASH, "clear") == Matt((0.6, 0.5, 0.35))
    assert skin_of(of_optics("metal"), "clear") == Metal((0.6, 0.5, 0.35))
    mirror = skin_of(of_optics("plastic", coat="mirror", reflectance=0.85), "clear")
    assert isinstance(mirror, Mirror)
    assert mirror.reflectance == pytest.approx((0.85,) * 3, rel=1e-6)
    # Paint covers metal too.
    painted = skin_of(of_optics("metal", coat="paint", reflectance=0.8), "clear")
    assert isinstance(painted, Matt)
    assert painted.reflectance == pytest.approx((0.8,) * 3, rel=1e-6)


@given(st.floats(0.01, 0.6))
def test_a_given_reflectance_is_the_luminous_one(wanted: float) -> None:
    # Up to 0.6 no channel of this colour is held at one.
    found = np.array(reflectance_of(of_optics(reflectance=wanted)))
    assert float(found @ LUMINANCE) == pytest.approx(wanted, rel=1e-6)
    assert found[0] / found[2] == pytest.approx(0.6 / 0.35)


def test_no_channel_reflects_more_than_it_receives() -> None:
    assert max(reflectance_of(of_optics(reflectance=0.99))) == 1.0


def sheet(layer: Opal) -> tuple[float, float]:
    """What two layers pass and throw back, light followed to and fro between them, bounce by bounce."""
    passes, back = layer.transmittance + layer.straight, layer.reflectance
    out, returned, inside = 0.0, back, passes
    for _ in range(4000):
        out += inside * passes
        inside *= back
        returned += inside * passes
        inside *= back
    return out, returned


@given(st.floats(0.01, 0.99), st.floats(0.0, 1.0))
def test_two_layers_pass_what_the_sheet_passes(transmission: float, haze: float) -> None:
    layer = opal_layer(transmission, haze)
    assert min(layer.transmittance, layer.reflectance, layer.straight) >= 0
    assert layer.transmittance + layer.reflectance + layer.straight <= 1 + 1e-12
    passed, returned = sheet(layer)
    assert passed == pytest.approx(transmission, rel=1e-9)
    assert layer.straight**2 == pytest.approx(transmission * (1 - haze), abs=1e-12)
    assert passed + returned <= 1 + 1e-9


@given(st.floats(0.01, 0.99))
def test_an_opal_sheet_that_spreads_all_loses_nothing(transmission: float) -> None:
    assert sum(sheet(opal_layer(transmission, 1.0))) == pytest.approx(1.0, rel=1e-9)


def test_a_sheet_without_haze_is_a_grey_filter() -> None:
    assert opal_layer(0.49, 0.0) == Opal(0.0, 0.0, pytest.approx(0.7))
